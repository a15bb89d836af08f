import { addDays, daysBetween, sayDate } from "@ledgerboard/contracts/dates";
import { crewDays } from "@ledgerboard/scheduling";
import { idAt } from "./random.ts";
import { born, moment, type Story, tell } from "./story.ts";
import type { DemoCrew, World } from "./world.ts";

/** How many days of its crew the newest issued revision takes. */
export function daysOf(story: Story, crew: DemoCrew): number {
  const revision = story.revisions.findLast((r) => r.issued);
  if (!revision) throw new Error(`${story.title}: nothing is issued, so nothing can be booked.`);
  return crewDays(revision.totals.hours, crew.size);
}

/** Whether the crew is free from one day to another, with some days' room on either side for work that runs over. */
export function isFree(crew: DemoCrew, from: string, to: string, room = 0): boolean {
  return !crew.runs.some((run) => addDays(run.startOn, -room) <= to && from <= addDays(run.endOn, room));
}

/** The first workday after everything the crew has, today at the earliest. */
export function freeFrom({ days }: World, crew: DemoCrew): string {
  const [last = ""] = [days.from(-1), ...crew.runs.map((run) => run.endOn)].sort().reverse();
  return days.on(addDays(last, 1));
}

/** Books the crew, on `day`, for a run that begins on `startOn`. */
export function book(story: Story, day: string, crew: DemoCrew, startOn: string): void {
  const { rows, random, scheduler, days } = story.world;
  const { ms, at } = moment(story, day);
  const count = daysOf(story, crew);
  const endOn = days.on(startOn, count);
  crew.runs.push({ startOn, endOn });
  const row = {
    id: idAt(ms, random),
    job_id: story.id,
    crew_id: crew.id,
    start_on: startOn,
    end_on: endOn,
    crew_days: count,
    started_on: null,
    finished_on: null,
    actual_hours: null,
    ...born(at),
  };
  rows.add("bookings", row);
  story.booking = row;
  const run = `${sayDate(startOn)} to ${sayDate(endOn)} (${count === 1 ? "1 crew day" : `${count} crew days`})`;
  const late =
    story.promisedTo && startOn > story.promisedTo
      ? ` The start was promised by ${sayDate(story.promisedTo)}.`
      : "";
  const said = `Crew ${crew.name} booked, ${run}.${late}`;
  tell(story, scheduler, at, { action: "booking.made", entity: "booking", id: row.id, words: said });
}

export function start(story: Story, crew: DemoCrew): void {
  const { booking, world } = story;
  if (!booking) throw new Error(`${story.title}: no crew is booked.`);
  const day = String(booking.start_on);
  const { at } = moment(story, day, 7 * 60);
  booking.started_on = day;
  const said = `Crew ${crew.name} started work on ${sayDate(day)}, as booked.`;
  const by = world.leads.get(crew.id) ?? world.scheduler;
  tell(story, by, at, { action: "work.started", entity: "booking", id: booking.id, words: said });
}

/** The work is done after `actualHours`; a crew that is done early is free again, one that runs over finishes late. */
export function finish(story: Story, crew: DemoCrew, actualHours: string): string {
  const { booking, world } = story;
  const revision = story.revisions.findLast((r) => r.issued);
  if (!booking || !revision) throw new Error(`${story.title}: no crew is booked.`);
  const booked = String(booking.end_on);
  const count = crewDays(actualHours, crew.size);
  const day = world.days.on(String(booking.start_on), count);
  const { at } = moment(story, day, 15 * 60 + 20);
  const early = daysBetween(day, booked) > 0;
  Object.assign(booking, {
    finished_on: day,
    actual_hours: actualHours,
    ...(early && { end_on: day, crew_days: count }),
  });
  const run = crew.runs.find((r) => r.startOn === booking.start_on);
  if (run && early) run.endOn = day;
  const free = early ? ` Crew ${crew.name} is free again before the booked ${sayDate(booked)}.` : "";
  const said = `Crew ${crew.name} finished on ${sayDate(day)} after ${actualHours} hours; ${revision.totals.hours} were estimated.${free}`;
  const by = world.leads.get(crew.id) ?? world.scheduler;
  tell(story, by, at, { action: "work.finished", entity: "booking", id: booking.id, words: said });
  return day;
}
