import type { Job } from "@ledgerboard/contracts/jobs";
import type { CSSProperties } from "react";
import { useSession } from "../../app/session.ts";
import { day, words } from "../../ui/format.ts";
import { Plank } from "../waiting/plank.tsx";
import { makeScale, ticks } from "../waiting/scale.ts";
import { windowWords } from "../waiting/tell.ts";

/** The wait of this one job as the board of the waiting list, with the stages it passed in words below. */
export function JobPlank({ job }: { job: Job }) {
  const { today } = useSession();
  const scale = makeScale([job], today);
  const window = windowWords(job, today);
  const passed = [{ stage: "inquiry" as const, on: job.inquiryOn }, ...job.passed]
    .filter(({ stage }) => stage !== job.stage)
    .sort((a, b) => a.on.localeCompare(b.on));
  const since = sinceOf(job);
  return (
    <section
      className="job-plank"
      aria-label="How long it has waited"
      style={{ "--today": `${scale.at(today)}%` } as CSSProperties}
    >
      <div className="axis" aria-hidden="true">
        {ticks(scale).map((tick) => (
          <span key={tick.on} className={tick.minor ? "tick minor" : "tick"} style={{ left: `${tick.at}%` }}>
            {day(tick.on, today)}
          </span>
        ))}
        <span className="tick now">today</span>
      </div>
      <Plank row={job} scale={scale} />
      <ol className="plain job-passed">
        {passed.map(({ stage, on }) => (
          <li key={`${stage}${on}`}>
            {words(stage)} <span className="quiet">{day(on, today)}</span>
          </li>
        ))}
        <li aria-current="step">
          <b>{words(job.stage)}</b>{" "}
          <span className="quiet">{since ? `since ${day(since, today)}` : "now"}</span>
        </li>
        {window && <li className="sr">{window}</li>}
      </ol>
    </section>
  );
}

function sinceOf(job: Job): string | undefined {
  if (job.stage === "inquiry") return job.inquiryOn;
  return job.closed?.on ?? job.passed.findLast(({ stage }) => stage === job.stage)?.on;
}
