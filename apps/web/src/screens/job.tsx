import "./waiting.css";
import "./job.css";
import { useQuery } from "@tanstack/react-query";
import { q } from "../api/queries.ts";
import { useParam } from "../app/params.ts";
import { Page } from "../ui/page.tsx";
import { ErrorState, Loading } from "../ui/states.tsx";
import { JobPage } from "./job/job-page.tsx";

export default function Job() {
  const jobId = useParam("jobId");
  const job = useQuery(q.job(jobId));
  if (job.data) return <JobPage key={job.data.id} job={job.data} />;
  return (
    <Page title="Job">
      {job.error ? (
        <ErrorState error={job.error} onRetry={() => void job.refetch()} />
      ) : (
        <Loading rows={12} />
      )}
    </Page>
  );
}
