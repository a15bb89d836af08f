import "./choices.css";
import { keepPreviousData, useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { q } from "../../api/queries.ts";
import { useParam } from "../../app/params.ts";
import { useSearchText } from "../../app/search.ts";
import { Button } from "../../ui/button.tsx";
import { Page } from "../../ui/page.tsx";
import { ErrorState, Loading } from "../../ui/states.tsx";
import { LifePart } from "./life-part.tsx";
import { RebuildPart } from "./rebuild-part.tsx";

/** A whole number from the address within its bounds; anything else is left to the service. */
function within(text: string | undefined, low: number, high: number): number | undefined {
  if (text === undefined || !/^\d{1,4}$/.test(text)) return undefined;
  const value = Number(text);
  return value >= low && value <= high ? value : undefined;
}

export default function ChoicesScreen() {
  const [jobId, revisionId] = [useParam("jobId"), useParam("revisionId")];
  const [search, setSearch] = useSearchText();
  const years = within(search.years, 1, 60);
  const discountBp = within(search.rate, 0, 2000);
  const job = useQuery(q.job(jobId)).data;
  const choices = useQuery({
    ...q.choices(revisionId, {
      ...(years !== undefined && { years: `${years}` }),
      ...(discountBp !== undefined && { discountBp: `${discountBp}` }),
    }),
    placeholderData: keepPreviousData,
  });
  const revision = job?.revisions.find(({ id }) => id === revisionId);
  return (
    <Page
      title={`Choices${job ? `, ${job.number}` : ""}`}
      heading="Choices"
      over={
        <>
          <Link to="/jobs/$jobId" params={{ jobId }}>
            {job ? `${job.number} ${job.customerName}` : "The job"}
          </Link>
          {" · "}
          <Link to="/jobs/$jobId/estimate/$revisionId" params={{ jobId, revisionId }}>
            {revision ? `Estimate, revision ${revision.number}` : "Estimate"}
          </Link>
        </>
      }
      lead="What the customer may weigh: repairing or building new, and what boards cost now and later."
      actions={choices.data && <Button onPress={() => window.print()}>Print</Button>}
    >
      {choices.data ? (
        <>
          {choices.error && (
            <p className="notice alarm" role="alert">
              That could not be worked out; the figures are those from before.
            </p>
          )}
          <RebuildPart data={choices.data} jobId={jobId} />
          <LifePart
            data={choices.data}
            busy={choices.isFetching}
            onTerms={(terms) => setSearch({ years: `${terms.years}`, rate: `${terms.discountBp}` })}
          />
        </>
      ) : choices.error ? (
        <ErrorState error={choices.error} onRetry={() => void choices.refetch()} />
      ) : (
        <Loading rows={10} label="Working the choices out" />
      )}
    </Page>
  );
}
