import type { crews } from "@ledgerboard/contracts";
import { addDays, sayDate, weekday } from "@ledgerboard/contracts/dates";
import type { TenantDb } from "@ledgerboard/database";
import {
  addWorkdays,
  bookingConflicts,
  crewDays,
  isWorkday,
  type WorkCalendar,
} from "@ledgerboard/scheduling";
import { invalid, Problem } from "../../problem.ts";
import type { JobInHand } from "../jobs/facts.ts";
import { bookingsOn, listClosures } from "./queries.ts";

/** Two years: past that a booking is a guess (common practice, no source). */
const HORIZON_DAYS = 730;
const MOST_CREW_DAYS = 120;
const WEEKDAYS = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"] as const;

/** Crew days of a job by the hours of the signed revision (of the newest, where no signature stands) and the crew's size. */
export async function daysNeeded(db: TenantDb, job: JobInHand, crew: crews.Crew): Promise<number> {
  const [signed] = await db.sql<{ hours: string }>`
    SELECT trim_scale(r.hours)::text AS hours FROM acceptances a
    JOIN quotes q ON q.company_id = a.company_id AND q.id = a.quote_id
    JOIN revisions r ON r.company_id = q.company_id AND r.id = q.revision_id
    LEFT JOIN acceptance_voids v ON v.company_id = a.company_id AND v.acceptance_id = a.id
    WHERE a.company_id = ${db.companyId} AND a.job_id = ${job.jobId} AND v.id IS NULL ORDER BY a.id DESC LIMIT 1`;
  const hours = signed?.hours ?? job.facts.hours ?? "0";
  const days = crewDays(hours, crew.size);
  if (days <= MOST_CREW_DAYS) return days;
  throw invalid(
    "body.crewDays",
    `${hours} hours are ${days} days for crew ${crew.name}; a booking has at most ${MOST_CREW_DAYS}. Take a larger crew or say how many days to book.`,
  );
}

function requireWorkday(crew: crews.Crew, startOn: string, calendar: WorkCalendar): void {
  if (isWorkday(startOn, calendar)) return;
  const closed = calendar.closures.find((c) => c.on === startOn);
  const why = closed?.why ?? WEEKDAYS[weekday(startOn) - 1];
  throw invalid(
    "body.startOn",
    `Crew ${crew.name} does not work on ${sayDate(startOn)} (${why}). Its next workday is ${sayDate(addWorkdays(startOn, 1, calendar))}.`,
  );
}

/**
 * The last day of a run of a crew's workdays that begins on `startOn`. Refuses a start that has passed, is not a
 * workday or lies too far ahead, and a run that meets another booking of the crew, naming it. The crew must be locked.
 */
export async function planRun(
  db: TenantDb,
  crew: crews.Crew,
  run: { bookingId: string | null; startOn: string; crewDays: number },
  today: string,
): Promise<string> {
  const { startOn } = run;
  const horizon = addDays(today, HORIZON_DAYS);
  const tooFar = `Book at most two years ahead, to ${sayDate(horizon)}.`;
  if (startOn < today)
    throw invalid("body.startOn", `${sayDate(startOn)} has passed. Choose today or a later day.`);
  if (startOn > horizon) throw invalid("body.startOn", tooFar);
  const calendar = { weekdays: crew.weekdays, closures: await listClosures(db, startOn, null, crew.id) };
  requireWorkday(crew, startOn, calendar);
  const endOn = addWorkdays(startOn, run.crewDays, calendar);
  if (endOn > horizon) throw invalid("body.startOn", tooFar);
  const candidate = { id: run.bookingId ?? "", crewId: crew.id, startOn, endOn };
  const conflicts = bookingConflicts(await bookingsOn(db, startOn, endOn, crew.id), candidate);
  if (conflicts.length > 0) {
    const list = conflicts
      .map((b) => `on ${b.number} from ${sayDate(b.startOn)} to ${sayDate(b.endOn)}`)
      .join(" and ");
    throw new Problem("conflict", `Crew ${crew.name} is ${list}. Choose other days or another crew.`);
  }
  return endOn;
}
