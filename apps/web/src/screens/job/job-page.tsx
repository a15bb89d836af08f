import type { Job } from "@ledgerboard/contracts/jobs";
import { Link } from "@tanstack/react-router";
import { useState } from "react";
import { useMay, useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Flag } from "../../ui/flag.tsx";
import { day, plural, sentence, words } from "../../ui/format.ts";
import { Page } from "../../ui/page.tsx";
import { AdvisoriesPart } from "../advisories/advisories-part.tsx";
import { isChanged, lateWords } from "../waiting/tell.ts";
import { type Asked, type AskName, JobContext } from "./asking.ts";
import { BookingPart } from "./booking.tsx";
import { CautionsPart } from "./cautions.tsx";
import { ChangePart } from "./change.tsx";
import { ClosingPart } from "./closing.tsx";
import { ContactPart } from "./contact.tsx";
import { DIALOGS } from "./dialogs.tsx";
import { EstimatePart } from "./estimate.tsx";
import { HoldsPart } from "./holds.tsx";
import { Jump } from "./jump.tsx";
import { MoneyPart } from "./money.tsx";
import { NextAct } from "./next-act.tsx";
import { ObservationsPart } from "./observations.tsx";
import { JobPlank } from "./plank-of-job.tsx";
import { PromisePart } from "./promise.tsx";
import { PropertyPart } from "./property.tsx";
import { QuotesPart } from "./quotes.tsx";
import { SaidPart } from "./said.tsx";
import { TimelinePart } from "./timeline.tsx";
import { VisitsPart } from "./visits.tsx";
import { ZonesPart } from "./zones.tsx";

/** Everything of one job, in the order somebody on the phone asks for it. One dialog at a time stands in front. */
export function JobPage({ job }: { job: Job }) {
  const [asked, setAsked] = useState<Asked | null>(null);
  const may = useMay();
  const { today } = useSession();
  const ask = (name: AskName, id?: string) => setAsked({ name, id });
  const Asking = asked && DIALOGS[asked.name];
  return (
    <JobContext value={{ job, ask }}>
      <Page
        title={`${job.number} ${job.customerName}`}
        over={<Link to="/">Waiting list</Link>}
        heading={
          <>
            <span className="nowrap">{job.number}</span> {job.customerName}
          </>
        }
        lead={<Lead job={job} today={today} />}
        actions={
          <>
            {may("jobs.pin") && (
              <Button onPress={() => ask(job.pinnedWhy ? "unpin" : "pin")}>
                {job.pinnedWhy ? "Let go of the pin" : "Pin"}
              </Button>
            )}
            {may("jobs.edit") && <Button onPress={() => ask("edit_job")}>Edit the job</Button>}
          </>
        }
      >
        <JobPlank job={job} />
        <NextAct />
        <HoldsPart />
        <Jump />
        <div className="job-parts">
          <div className="job-place">
            <SaidPart />
            <ContactPart />
            <PropertyPart />
            <VisitsPart />
            <ZonesPart />
            <AdvisoriesPart />
            <ObservationsPart />
          </div>
          <div className="job-work">
            <ChangePart />
            <EstimatePart />
            <QuotesPart />
            <MoneyPart />
            <BookingPart />
          </div>
          <div>
            <CautionsPart />
            <PromisePart />
            <ClosingPart />
          </div>
        </div>
        <TimelinePart />
      </Page>
      {Asking && <Asking job={job} id={asked.id} onClose={() => setAsked(null)} />}
    </JobContext>
  );
}

function Lead({ job, today }: { job: Job; today: string }) {
  const late = lateWords(job);
  return (
    <>
      {sentence(job.title)}, {job.property.city}. <b className="job-stage">{sentence(words(job.stage))}</b>
      {job.closed && `, ${words(job.closed.reason)}`}; {saidWaited(job, today)}.
      {(job.hazard || job.pinnedWhy || isChanged(job) || late) && (
        <span className="job-flags">
          {job.hazard && <Flag alarm>danger: {job.hazard}</Flag>}
          {late && <Flag alarm>{late}</Flag>}
          {isChanged(job) && <Flag alarm>changed, not settled</Flag>}
          {job.pinnedWhy && <Flag>pinned: {job.pinnedWhy}</Flag>}
        </span>
      )}
    </>
  );
}

function saidWaited(job: Job, today: string): string {
  const since = `since the inquiry on ${day(job.inquiryOn, today)}`;
  if (job.stage === "finished") return `took ${plural(job.waitedDays, "day")} ${since}`;
  if (job.stage === "closed") return `${plural(job.waitedDays, "day")} after the inquiry`;
  return job.waitedDays === 0 ? "came in today" : `${plural(job.waitedDays, "day")} ${since}`;
}
