import { type crews, may, type Role } from "@ledgerboard/contracts";
import { daysBetween, sayDate } from "@ledgerboard/contracts/dates";
import type { SignedIn, TenantDb } from "@ledgerboard/database";
import { workdaysBetween } from "@ledgerboard/scheduling";
import { illegalMove, Problem } from "../../problem.ts";
import { refreshJob, requireAct } from "../jobs/facts.ts";
import { takeBooking } from "./bookings.ts";
import { type BookingRecord, listClosures, lockCrew } from "./queries.ts";

/**
 * A crew lead runs the work of his own crew only. Where nobody of the crew is linked to a member there is nothing to
 * go by, so any crew lead may; the words returned say that.
 */
async function requireOwnCrew(db: TenantDb, who: SignedIn, booking: BookingRecord): Promise<string> {
  if (may(who.roles as Role[], "bookings.edit")) return "";
  const linked = await db.sql<{ memberId: string }>`
    SELECT member_id AS "memberId" FROM crew_members
    WHERE company_id = ${db.companyId} AND crew_id = ${booking.crewId} AND member_id IS NOT NULL`;
  if (linked.length === 0)
    return ` Entered by ${who.memberName}; nobody of crew ${booking.crewName} is linked to a member.`;
  if (linked.some((person) => person.memberId === who.memberId)) return "";
  throw new Problem(
    "not-allowed",
    `You are not in crew ${booking.crewName}. Ask somebody of that crew or the scheduler.`,
  );
}

function sayAgainstBooked(startOn: string, today: string): string {
  const early = daysBetween(today, startOn);
  if (early === 0) return ", as booked";
  const days = Math.abs(early) === 1 ? "1 day" : `${Math.abs(early)} days`;
  return `, ${days} ${early > 0 ? "before" : "after"} the booked ${sayDate(startOn)}`;
}

/** Records that the crew has started, today. Refused while a hold stands or the crew is under way elsewhere. */
export async function startWork(
  db: TenantDb,
  who: SignedIn,
  bookingId: string,
  today: string,
): Promise<{ done: true }> {
  const { job, booking } = await takeBooking(db, bookingId, today);
  const { jobId } = job;
  const unlinked = await requireOwnCrew(db, who, booking);
  requireAct(job, "start_work");
  const crew = await lockCrew(db, booking.crewId);
  const [elsewhere] = await db.sql<{ number: string }>`
    SELECT j.number FROM bookings b JOIN jobs j ON j.company_id = b.company_id AND j.id = b.job_id
    WHERE b.company_id = ${db.companyId} AND b.crew_id = ${crew.id} AND b.cancelled_at IS NULL
      AND b.started_on IS NOT NULL AND b.finished_on IS NULL LIMIT 1`;
  if (elsewhere) {
    throw illegalMove(`Crew ${crew.name} is still at work on ${elsewhere.number}. Finish that job first.`);
  }
  await db.sql`UPDATE bookings SET started_on = ${today} WHERE company_id = ${db.companyId} AND id = ${bookingId}`;
  await db.audit({
    action: "work.started",
    entity: "booking",
    entityId: bookingId,
    jobId,
    words: `Crew ${crew.name} started work on ${sayDate(today)}${sayAgainstBooked(booking.startOn, today)}.${unlinked}`,
  });
  await refreshJob(db, jobId, today);
  return { done: true };
}

/** The booked days that are left over when work is finished today: the crew is free again from the day after. */
async function shorten(db: TenantDb, crew: crews.Crew, booking: BookingRecord, today: string) {
  const endOn = today < booking.startOn ? booking.startOn : today;
  if (endOn >= booking.endOn) return { endOn: booking.endOn, crewDays: booking.crewDays, words: "" };
  const closures = await listClosures(db, booking.startOn, booking.endOn, crew.id);
  const worked = workdaysBetween(booking.startOn, endOn, { weekdays: crew.weekdays, closures });
  const words = ` Crew ${crew.name} is free again before the booked ${sayDate(booking.endOn)}.`;
  return { endOn, crewDays: Math.max(1, worked), words };
}

/** Records that the work is finished, today, and the hours it really took (decimal text of labor hours). */
export async function finishWork(
  db: TenantDb,
  who: SignedIn,
  bookingId: string,
  actualHours: string,
  today: string,
): Promise<{ done: true }> {
  const { job, booking } = await takeBooking(db, bookingId, today);
  const { jobId } = job;
  const unlinked = await requireOwnCrew(db, who, booking);
  requireAct(job, "finish_work");
  const crew = await lockCrew(db, booking.crewId);
  const run = await shorten(db, crew, booking, today);
  await db.sql`UPDATE bookings SET finished_on = ${today}, actual_hours = ${actualHours}, end_on = ${run.endOn},
      crew_days = ${run.crewDays} WHERE company_id = ${db.companyId} AND id = ${bookingId}`;
  await db.audit({
    action: "work.finished",
    entity: "booking",
    entityId: bookingId,
    jobId,
    words: `Crew ${crew.name} finished on ${sayDate(today)} after ${actualHours} hours; ${job.facts.hours ?? "0"} were estimated.${run.words}${unlinked}`,
    changes: { booked: { endOn: booking.endOn, crewDays: booking.crewDays } },
  });
  await refreshJob(db, jobId, today);
  return { done: true };
}
