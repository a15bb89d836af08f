import type { Job } from "@ledgerboard/contracts/jobs";
import { PLACED_HOLDS } from "@ledgerboard/contracts/vocabulary";
import { sentence, words } from "../../ui/format.ts";
import { Act } from "./act.tsx";
import { ACTS, type ActName, useJob } from "./asking.ts";

/** What moves the job on, who owes it, and the button that does it. */
export function NextAct() {
  const { job } = useJob();
  const { act, owedBy } = job.next;
  return (
    <section className="job-next" aria-label="Next act">
      <p>
        <span className="quiet">Next</span>
        {owedBy && <b>{sentence(words(owedBy))}</b>}
        <span>{taskOf(job.next)}</span>
      </p>
      {act && act in ACTS && <NextButton act={act as ActName} />}
    </section>
  );
}

/** The words without the name of who owes it, which stands before them. */
export function taskOf({ words: text, owedBy }: Job["next"]): string {
  const who = owedBy && `${sentence(words(owedBy))}: `;
  return who && text.startsWith(who) ? sentence(text.slice(who.length)) : text;
}

function NextButton({ act }: { act: ActName }) {
  const { job } = useJob();
  if (act === "place_hold") {
    // What is owed while a placed hold stands is to lift it.
    const first = PLACED_HOLDS.flatMap((hold) => job.placedHolds.filter((one) => one.hold === hold))[0];
    if (first)
      return <Act name="place_hold" asks="lift_hold" id={first.id} kind="main" label="Lift the hold" />;
  }
  const quote = job.quotes.find((one) => one.state === "open");
  if (act === "record_acceptance") return <Act name={act} id={quote?.id} kind="main" />;
  if (act === "waive_variance") return <Act name={act} id={job.variance?.id} kind="main" />;
  return <Act name={act} kind="main" />;
}
