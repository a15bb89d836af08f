import "./ask.css";
import { queryOptions, useQuery } from "@tanstack/react-query";
import { useEffect } from "react";
import { call } from "../api/client.ts";
import { api } from "../api/generated/endpoints.ts";
import { isProblem } from "../api/problem.ts";
import { useParam } from "../app/params.ts";
import { ErrorState, Loading } from "../ui/states.tsx";
import { AskForm } from "./ask/ask-form.tsx";

const publicCompany = (slug: string) =>
  queryOptions({
    queryKey: ["publicCompany", slug],
    queryFn: ({ signal }) => call(api.publicCompany, { params: { slug }, signal }),
  });

/** The company's door to the street: customers say what is wrong, without an account. */
export default function Ask() {
  const slug = useParam("slug");
  const company = useQuery(publicCompany(slug));
  const name = company.data?.name;
  useEffect(() => {
    document.title = name ? `Ask ${name}` : "Ask for work";
  }, [name]);
  if (company.data) return <AskForm key={slug} slug={slug} company={company.data} />;
  return (
    <div className="ask">
      {!company.error && <Loading rows={6} />}
      {isProblem(company.error, "not-found") ? (
        <>
          <h1>Nobody answers at this address</h1>
          <p>
            A letter of the link may be wrong. Open it again from where you found it, or call the company.
          </p>
        </>
      ) : (
        company.error && <ErrorState error={company.error} onRetry={() => void company.refetch()} />
      )}
    </div>
  );
}
