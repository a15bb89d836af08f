import type { Visit } from "@ledgerboard/contracts/jobs";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { errorWords } from "../../api/problem.ts";
import { useMay, useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Flag } from "../../ui/flag.tsx";
import { moment, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { toast } from "../../ui/toast.tsx";
import { Act } from "./act.tsx";
import { useJob } from "./asking.ts";

/** Who was or will be at the site. */
export function VisitsPart() {
  const { job } = useJob();
  return (
    <Section id="visits" title="Visits">
      {job.visits.length === 0 && <p className="quiet">Nobody has been there and no visit is set.</p>}
      <ul className="plain entries">
        {job.visits.map((visit) => (
          <VisitEntry key={visit.id} visit={visit} />
        ))}
      </ul>
      <div className="row no-print">
        <Act name="schedule_visit" small />
      </div>
    </Section>
  );
}

const STATE_WORDS = { scheduled: "set", done: "made", cancelled: "called off" } as const;

function VisitEntry({ visit }: { visit: Visit }) {
  const { ask, job } = useJob();
  const { company } = useSession();
  const may = useMay();
  const change = useAct(api.updateVisit);
  /** Ends the visit; a visit ended by mistake is set again. */
  const end = (state: "done" | "cancelled") =>
    change
      .send({ params: { visitId: visit.id }, version: visit.version, body: { state } })
      .then(({ version }) =>
        toast(state === "done" ? "The visit was made." : "The visit is called off.", {
          undo: () => change.act({ params: { visitId: visit.id }, version, body: { state: "scheduled" } }),
        }),
      )
      .catch((error: unknown) => toast(errorWords(error), { alarm: true }));
  return (
    <li className={visit.state === "cancelled" ? "entry over" : "entry"}>
      <p>
        <b>{moment(visit.startsAt, company.timezone)}</b> {words(visit.kind)}, {visit.memberName},{" "}
        {visit.minutes} min <Flag>{STATE_WORDS[visit.state]}</Flag>
      </p>
      {visit.notes && <p className="kept-lines quiet">{visit.notes}</p>}
      {visit.state === "scheduled" && may("visits.edit") && job.stage !== "closed" && (
        <div className="row no-print">
          <Button small onPress={() => void end("done")} busy={change.busy}>
            It was made
          </Button>
          <Button small onPress={() => ask("move_visit", visit.id)}>
            Move
          </Button>
          <Button small kind="text" onPress={() => void end("cancelled")} busy={change.busy}>
            Call off
          </Button>
        </div>
      )}
    </li>
  );
}
