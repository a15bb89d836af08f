import type { Component } from "@ledgerboard/contracts";
import type { Advisory } from "@ledgerboard/contracts/advisories";
import { assessPlausibility, takeoff } from "@ledgerboard/estimating";
import { sayDecision } from "../features/advisories/words.ts";
import { idAt } from "./random.ts";
import type { Row } from "./rows.ts";
import { born, moment, type Story, tell, zoneOf } from "./story.ts";
import type { Member } from "./world.ts";

/** An advisory as the story remembers it. */
export type Advised = Pick<Advisory, "id" | "words" | "reference" | "decision" | "alternate" | "declined"> & {
  zoneName: string;
  row: Row;
};

/** What falls short: a rule about what stands, and where. */
export interface About {
  zone: string;
  rule: string;
  component: Component;
}
export type Decision = { ago: number } & ({ alternate: string } | { declinedHow: string });

/** Records that what stands in a zone falls short of today's code, in the words of the rule that says so. */
export function advise(story: Story, day: string, by: Member, about: About): Advised {
  const { zone: name, rule, component } = about;
  const { id: zoneId, kind, geometry } = zoneOf(story, name);
  const counted = geometry && takeoff({ kind, geometry, lengthFt: null, widthFt: null, heightFt: null });
  const findings = assessPlausibility({
    property: { saltExposure: false, yearBuilt: null },
    zones: [{ id: zoneId, name, kind, geometry, takeoff: counted }],
    lines: [],
    charges: [],
    past: null,
    today: day,
    newLumberDaysDry: null,
  });
  const finding = findings.find(({ ruleId }) => ruleId === rule);
  if (!finding) throw new Error(`${story.title}: ${name} does not fall short of ${rule}.`);
  const { source: reference } = finding;
  const words = finding.condition ?? finding.words;
  const { ms, at } = moment(story, day);
  const id = idAt(ms, story.world.random);
  const row = story.world.rows.add("advisories", {
    id,
    job_id: story.id,
    zone_id: zoneId,
    component,
    words,
    reference,
    decision: "undecided",
    alternate: null,
    declined_name: null,
    declined_on: null,
    declined_how: null,
    member_id: by.id,
    ...born(at),
  });
  const said = `Advisory: ${words} (${reference})`;
  tell(story, by, at, { action: "advisory.recorded", entity: "advisory", id, words: said });
  const advised: Advised = {
    id,
    zoneName: name,
    words,
    reference,
    decision: "undecided",
    alternate: null,
    declined: null,
    row,
  };
  story.advisories.push(advised);
  return advised;
}

/** What the customer says to it: an optional extra of the estimate, or no, in writing. */
export function decide(story: Story, day: string, advised: Advised, to: Decision): void {
  const { at } = moment(story, day);
  const declined = "declinedHow" in to ? { name: story.customer.name, on: day, how: to.declinedHow } : null;
  const alternate = "alternate" in to ? to.alternate : null;
  Object.assign(advised, { decision: declined ? "declined" : "alternate", alternate, declined });
  Object.assign(advised.row, {
    decision: advised.decision,
    alternate,
    declined_name: declined?.name ?? null,
    declined_on: declined?.on ?? null,
    declined_how: declined?.how ?? null,
    updated_at: at,
  });
  const said = `Advisory "${advised.words}": ${sayDecision(advised)}.`;
  const entity = { entity: "advisory", id: advised.id };
  tell(story, story.seller, at, { ...entity, action: "advisory.decided", words: said });
}
