import "./compare/compare.css";
import { keepPreviousData, useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { isProblem } from "../api/problem.ts";
import { q } from "../api/queries.ts";
import { useParam } from "../app/params.ts";
import { useSearchText } from "../app/search.ts";
import { Page } from "../ui/page.tsx";
import { EmptyState, ErrorState, Loading } from "../ui/states.tsx";
import { ComparisonView } from "./compare/view.tsx";

export default function Compare() {
  const jobId = useParam("jobId");
  const [{ from, to }] = useSearchText();
  const job = useQuery(q.job(jobId));
  const comparison = useQuery({
    ...q.comparison(jobId, { ...(from && { from }), ...(to && { to }) }),
    placeholderData: keepPreviousData,
  });
  if (job.data && comparison.data && !comparison.error)
    return <ComparisonView job={job.data} comparison={comparison.data} />;
  const failed = [job, comparison].find((query) => query.error);
  return (
    <Page
      title="What changed"
      over={
        <Link to="/jobs/$jobId" params={{ jobId }}>
          {job.data ? `${job.data.number} ${job.data.customerName}` : "The job"}
        </Link>
      }
    >
      {!failed ? (
        <Loading rows={10} label="Loading the comparison" />
      ) : job.data && isProblem(failed.error, "not-found") && !from && !to ? (
        <EmptyState title="Nothing to compare yet">{failed.error.message}</EmptyState>
      ) : (
        <ErrorState error={failed.error} onRetry={() => void failed.refetch()} />
      )}
    </Page>
  );
}
