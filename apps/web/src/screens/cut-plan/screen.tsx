import "./cut-plan.css";
import { formatInches } from "@ledgerboard/contracts/measure";
import { keepPreviousData, useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { type ReactNode, useEffect, useState } from "react";
import { q } from "../../api/queries.ts";
import { useParam } from "../../app/params.ts";
import { Button } from "../../ui/button.tsx";
import { sentence } from "../../ui/format.ts";
import { Page } from "../../ui/page.tsx";
import { EmptyState, ErrorState, Loading } from "../../ui/states.tsx";
import { PacksPart, UnmeasuredPart } from "./packs-part.tsx";
import { SectionPart } from "./section-part.tsx";
import { type CutPlan, planLead } from "./tell.ts";

const LONG_SECONDS = 20;
/** A plan stays good until lines, prices or measures change, and then it is marked stale. */
const GOOD_MS = 10 * 60_000;

export default function CutPlanScreen() {
  const [jobId, revisionId] = [useParam("jobId"), useParam("revisionId")];
  const [seconds, setSeconds] = useState<number>();
  const job = useQuery(q.job(jobId)).data;
  const plan = useQuery({
    ...q.cutPlan(revisionId, seconds === undefined ? {} : { seconds: `${seconds}` }),
    staleTime: GOOD_MS,
    placeholderData: keepPreviousData,
  });
  const kind = job?.revisions.find(({ id }) => id === revisionId);
  const over = (
    <>
      <Link to="/jobs/$jobId" params={{ jobId }}>
        {job ? `${job.number} ${job.customerName}` : "The job"}
      </Link>
      {" · "}
      <Link to="/jobs/$jobId/estimate/$revisionId" params={{ jobId, revisionId }}>
        {kind ? `Estimate, revision ${kind.number}` : "Estimate"}
      </Link>
    </>
  );
  const near = plan.data?.sections.some(({ proved, fault }) => !proved && fault === null) ?? false;
  return (
    <Page
      title={`Cut plan${job ? `, ${job.number}` : ""}`}
      heading="Cut plan"
      over={over}
      lead={
        plan.data && <Lead plan={plan.data} place={job && `${sentence(job.title)}, ${job.property.city}`} />
      }
      actions={
        plan.data && (
          <>
            {near && seconds === undefined && (
              <Button busy={plan.isFetching} onPress={() => setSeconds(LONG_SECONDS)}>
                Search longer for a cheaper one
              </Button>
            )}
            <Button onPress={() => window.print()}>Print for the crew</Button>
          </>
        )
      }
    >
      {plan.isFetching && <Working again={plan.data !== undefined} />}
      {plan.data ? (
        <Sections plan={plan.data}>
          <UnmeasuredPart unmeasured={plan.data.unmeasured} job={job} />
        </Sections>
      ) : plan.error ? (
        <ErrorState error={plan.error} onRetry={() => void plan.refetch()} />
      ) : (
        <Loading rows={8} label="Working the cut plan out" />
      )}
      {plan.data && plan.error && (
        <p className="notice alarm" role="alert">
          The longer search did not come through; this is the plan from before.
        </p>
      )}
    </Page>
  );
}

function Lead({ plan, place }: { plan: CutPlan; place: string | undefined }) {
  return (
    <>
      {place && `${place}. `}
      {planLead(plan)}. A saw cut takes {formatInches(plan.kerfIn)}
      {plan.endTrimIn > 0 && `, and ${formatInches(plan.endTrimIn)} is trimmed off each end of a board`}.
    </>
  );
}

function Sections({ plan, children }: { plan: CutPlan; children: ReactNode }) {
  if (plan.sections.length === 0 && plan.packs.length === 0 && plan.unmeasured.length === 0)
    return (
      <EmptyState title="Nothing to buy">
        No line of this revision that we carry out takes any material.
      </EmptyState>
    );
  return (
    <>
      {plan.sections.length === 0 && (
        <p className="notice">
          No boards can be laid out yet: lengths come from the zones' drawings. Measure the zones, and their
          boards appear here.
        </p>
      )}
      {plan.sections.map((section) => (
        <SectionPart key={`${section.code} ${section.section} ${section.material}`} section={section} />
      ))}
      <PacksPart packs={plan.packs} />
      {children}
    </>
  );
}

/** Says that it is being worked on and how long already: it can take some seconds. */
function Working({ again }: { again: boolean }) {
  const [seconds, setSeconds] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => setSeconds((now) => now + 1), 1000);
    return () => clearInterval(timer);
  }, []);
  return (
    <p className="cut-working no-print" role="status">
      {again ? "Looking for a cheaper plan…" : "Working out which boards to buy and how to cut them…"}{" "}
      <span className="quiet" aria-hidden="true">
        {seconds > 1 && `${seconds} s`}
      </span>
    </p>
  );
}
