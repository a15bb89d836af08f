import "./advisories.css";
import type { Advisory, listAdvisories } from "@ledgerboard/contracts/advisories";
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { q } from "../../api/queries.ts";
import type { Output } from "../../api/wire.ts";
import { useMay, useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Flag } from "../../ui/flag.tsx";
import { moment, plural, sentence, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { Loaded } from "../../ui/states.tsx";
import { whoMay } from "../../ui/who-may.ts";
import { useJob } from "../job/asking.ts";
import { AddDialog, DecideDialog, TakeBackDialog } from "./dialogs.tsx";
import { decisionWords } from "./tell.ts";

type List = Output<typeof listAdvisories>;
type Suggested = List["suggested"][number];
type Asked = { what: "add" } | { what: "decide" | "take_back"; advisory: Advisory };

/** Existing conditions short of today's code, and what the customer decided about each. */
export function AdvisoriesPart() {
  const { job } = useJob();
  const may = useMay();
  const list = useQuery(q.advisories(job.id));
  const [asked, setAsked] = useState<Asked | null>(null);
  const closed = job.stage === "closed";
  const edit = may("advisories.edit") && !closed;
  const close = () => setAsked(null);
  return (
    <Section
      id="advisories"
      title="Advisories"
      note="what is there and falls short of today's code"
      acts={
        edit && (
          <Button small onPress={() => setAsked({ what: "add" })}>
            Record one
          </Button>
        )
      }
    >
      <Loaded query={list} rows={2}>
        {({ advisories, suggested }) => (
          <>
            {advisories.length === 0 && suggested.length === 0 && (
              <p className="quiet">None recorded, and the measures show none.</p>
            )}
            {advisories.length > 0 && (
              <ul className="plain entries">
                {advisories.map((advisory) => (
                  <Entry key={advisory.id} advisory={advisory} edit={edit} onAsk={setAsked} />
                ))}
              </ul>
            )}
            {suggested.length > 0 && <SuggestedList suggested={eachOnce(suggested)} edit={edit} />}
            {(advisories.length > 0 || suggested.length > 0) && (
              <p className="quiet adv-caution">
                <small>
                  Local code decides. A reference says how it is built new today; what stands may often stay
                  as it is. Ask the building office where it matters.
                </small>
              </p>
            )}
          </>
        )}
      </Loaded>
      {!edit && (
        <small className="quiet block">
          {closed ? "The job is closed. Reopen it first." : `Recorded by ${whoMay("advisories.edit")}.`}
        </small>
      )}
      {asked?.what === "add" && <AddDialog job={job} onClose={close} />}
      {asked?.what === "decide" && <DecideDialog job={job} advisory={asked.advisory} onClose={close} />}
      {asked?.what === "take_back" && <TakeBackDialog advisory={asked.advisory} onClose={close} />}
    </Section>
  );
}

const where = (zone: string | null, component: string | null) =>
  [zone, component && words(component)].filter(Boolean).join(", ");

function Entry({
  advisory,
  edit,
  onAsk,
}: {
  advisory: Advisory;
  edit: boolean;
  onAsk: (asked: Asked) => void;
}) {
  const { company } = useSession();
  const place = where(advisory.zoneName, advisory.component);
  return (
    <li className="entry">
      <p>
        {place && <b>{sentence(place)}: </b>}
        {advisory.words}
      </p>
      <p className="adv-reference">
        <small>{advisory.reference}</small>
      </p>
      <p>
        {advisory.decision === "undecided" ? (
          <Flag>to decide</Flag>
        ) : (
          <b className="adv-decided">{decisionWords(advisory)}</b>
        )}
      </p>
      <small className="quiet">
        {advisory.recordedBy} · {moment(advisory.at, company.timezone)}
      </small>
      {edit && (
        <div className="row no-print">
          <Button small onPress={() => onAsk({ what: "decide", advisory })}>
            {advisory.decision === "undecided" ? "Enter the decision" : "Change the decision"}
          </Button>
          <Button small kind="text" onPress={() => onAsk({ what: "take_back", advisory })}>
            Take back
          </Button>
        </div>
      )}
    </li>
  );
}

const keyOf = ({ zoneId, component, words: text }: Suggested) => `${zoneId} ${component} ${text}`;

/** Several parts of a zone may show the same; one record says it for all of them. */
const eachOnce = (suggested: readonly Suggested[]): Suggested[] => [
  ...new Map(suggested.map((one) => [keyOf(one), one])).values(),
];

/** What the measures show and nobody has recorded: one tap each. */
function SuggestedList({ suggested, edit }: { suggested: readonly Suggested[]; edit: boolean }) {
  const { job } = useJob();
  const add = useAct(api.addAdvisory, { done: "Recorded." });
  const [sent, setSent] = useState<string>();
  const zoneName = (id: string) => job.zones.find((zone) => zone.id === id)?.name ?? null;
  return (
    <div className="adv-suggested">
      <h3>The measures show {plural(suggested.length, "more", "more")}</h3>
      <ul className="plain entries">
        {suggested.map((one) => (
          <li key={keyOf(one)} className="entry">
            <p>
              <b>{sentence(where(zoneName(one.zoneId), one.component))}: </b>
              {one.words}
            </p>
            <p className="adv-reference">
              <small>{one.reference}</small>
            </p>
            {edit && (
              <Button
                small
                busy={add.busy && sent === keyOf(one)}
                isDisabled={add.busy && sent !== keyOf(one)}
                onPress={() => {
                  setSent(keyOf(one));
                  add.act({ params: { jobId: job.id }, body: one });
                }}
              >
                Record it
              </Button>
            )}
          </li>
        ))}
      </ul>
    </div>
  );
}
