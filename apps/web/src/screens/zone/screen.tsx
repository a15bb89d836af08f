import "./zone.css";
import "./plan.css";
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { q } from "../../api/queries.ts";
import { useParam } from "../../app/params.ts";
import { Page } from "../../ui/page.tsx";
import { EmptyState, ErrorState, Loading } from "../../ui/states.tsx";
import { MeasurePage } from "./measure-page.tsx";

export default function ZoneScreen() {
  const [jobId, zoneId] = [useParam("jobId"), useParam("zoneId")];
  const job = useQuery(q.job(jobId));
  if (!job.data)
    return (
      <Page title="Zone">
        {job.error ? (
          <ErrorState error={job.error} onRetry={() => void job.refetch()} />
        ) : (
          <Loading rows={10} label="Loading the zone" />
        )}
      </Page>
    );
  const zone = job.data.zones.find(({ id }) => id === zoneId);
  if (!zone)
    return (
      <Page title="Zone">
        <EmptyState
          title="This zone is not there any more"
          actions={
            <Link to="/jobs/$jobId" params={{ jobId }} hash="zones">
              To the zones of {job.data.number}
            </Link>
          }
        >
          It was removed from the job, or the address is another job's.
        </EmptyState>
      </Page>
    );
  return <MeasurePage key={zone.id} job={job.data} zone={zone} />;
}
