import { type CloseReason, type PlacedHold, type VisitKind, words } from "@ledgerboard/contracts";
import { sayDate } from "@ledgerboard/contracts/dates";
import type { Component, Evidence } from "@ledgerboard/contracts/vocabulary";
import { instantOf } from "./calendar.ts";
import { idAt } from "./random.ts";
import { born, moment, type Story, tell, zoneOf } from "./story.ts";
import type { Member } from "./world.ts";

interface Appointment {
  kind: VisitKind;
  by: Member;
  /** Day and minutes past midnight at the place. */
  on: string;
  minutes: number;
  lasts?: number;
  state?: "scheduled" | "done";
  notes?: string;
}

/** Sets a visit on `day`, for another day or, done already, the same. */
export function visit(story: Story, day: string, appointment: Appointment): void {
  const { world } = story;
  const { ms, at } = moment(story, day);
  const { kind, by, on, minutes, lasts = 60, state = "scheduled", notes = "" } = appointment;
  const id = idAt(ms, world.random);
  world.rows.add("visits", {
    id,
    job_id: story.id,
    kind,
    starts_at: new Date(instantOf(on, minutes, world.timezone)).toISOString(),
    minutes: lasts,
    member_id: by.id,
    state,
    notes,
    ...born(at),
  });
  const scheduled = { action: "visit.scheduled", entity: "visit", id };
  tell(story, story.seller, at, { ...scheduled, words: `${by.name} will visit (${words(kind)}).` });
}

/** Notes what was seen at the place. */
export function see(
  story: Story,
  day: string,
  by: Member,
  seen: { zone?: string; component: Component; text: string; evidence?: Evidence },
): void {
  const { ms, at } = moment(story, day);
  const id = idAt(ms, story.world.random);
  const { component, text, evidence = "measured" } = seen;
  const zoneId = seen.zone === undefined ? null : zoneOf(story, seen.zone).id;
  story.world.rows.add("observations", {
    id,
    job_id: story.id,
    zone_id: zoneId,
    component,
    text,
    evidence,
    member_id: by.id,
    ...born(at),
  });
  const words_ = `Seen, ${words(component)}: ${text}`;
  tell(story, by, at, { action: "observation.added", entity: "observation", id, words: words_ });
}

/** Tells the customer when work will start. */
export function promise(
  story: Story,
  day: string,
  from: string,
  to: string,
  probabilityBp: number | null = 8000,
): void {
  const { ms, at } = moment(story, day);
  const { rows, random } = story.world;
  const by = story.seller;
  const id = idAt(ms, random);
  rows.add("promises", {
    id,
    job_id: story.id,
    from_on: from,
    to_on: to,
    probability_bp: probabilityBp,
    made_by_id: by.id,
    ...born(at),
  });
  Object.assign(story.row, { promised_from: from, promised_to: to, probability_bp: probabilityBp });
  story.promisedTo = to;
  const said = `A start from ${sayDate(from)} to ${sayDate(to)} was promised.`;
  tell(story, by, at, { action: "promise.made", entity: "promise", id, words: said });
}

export function placeHold(story: Story, day: string, by: Member, hold: PlacedHold, why: string): void {
  const { ms, at } = moment(story, day);
  const id = idAt(ms, story.world.random);
  story.world.rows.add("holds", { id, job_id: story.id, hold, why, placed_by_id: by.id, ...born(at) });
  const said = `Hold placed, ${words(hold)}: ${why}`;
  tell(story, by, at, { action: "hold.placed", entity: "hold", id, words: said });
}

/** The owner puts the job at the head of the list. */
export function pin(story: Story, day: string, why: string): void {
  const { at } = moment(story, day);
  story.row.pinned_why = why;
  const said = `Put at the head of the list: ${why}`;
  tell(story, story.world.owner, at, { action: "job.pinned", entity: "job", id: story.id, words: said });
}

/** Closes the job with a reason; a quote still out is withdrawn. */
export function close(story: Story, day: string, reason: CloseReason, note: string): void {
  const { at } = moment(story, day);
  const why = `Job closed: ${words(reason)}.`;
  story.paper?.end(at, story.seller, "withdrawn", () => why);
  Object.assign(story.row, { closed_on: day, closed_reason: reason, closed_note: note });
  tell(story, story.seller, at, {
    action: "job.closed",
    entity: "job",
    id: story.id,
    words: `${why} ${note}`.trim(),
  });
}
