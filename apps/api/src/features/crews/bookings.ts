import type { crews, Input } from "@ledgerboard/contracts";
import { sayDate } from "@ledgerboard/contracts/dates";
import type { TenantDb } from "@ledgerboard/database";
import { illegalMove } from "../../problem.ts";
import { type JobInHand, lockJob, refreshJob, requireAct, takeJob } from "../jobs/facts.ts";
import { checkVersion } from "../versions.ts";
import { type BookingRecord, lockCrew, readBooking, readCrew, toSheetBooking } from "./queries.ts";
import { daysNeeded, planRun } from "./runs.ts";

const sayDays = (n: number): string => (n === 1 ? "1 crew day" : `${n} crew days`);
const sayRun = (b: Pick<BookingRecord, "startOn" | "endOn" | "crewDays">): string =>
  `${sayDate(b.startOn)} to ${sayDate(b.endOn)} (${sayDays(b.crewDays)})`;

const sayPromise = (startOn: string, promisedTo: string | null): string =>
  promisedTo && startOn > promisedTo ? ` The start was promised by ${sayDate(promisedTo)}.` : "";

/** The crew to be booked, in hand. Refuses one that was stood down. */
async function lockWorkingCrew(db: TenantDb, crewId: string): Promise<crews.Crew> {
  const crew = await lockCrew(db, crewId);
  if (!crew.active) throw illegalMove(`Crew ${crew.name} was stood down. Choose another crew.`);
  return crew;
}

/** Takes a booking and its job in hand for a change. Refuses a cancelled one: the job may have another by now. */
export async function takeBooking(
  db: TenantDb,
  bookingId: string,
  today: string,
): Promise<{ job: JobInHand; booking: BookingRecord }> {
  const { jobId } = await readBooking(db, bookingId);
  const job = await lockJob(db, jobId, today);
  // Read again: it may have been moved or cancelled while this waited for the lock.
  const booking = await readBooking(db, bookingId);
  if (booking.cancelled) throw illegalMove("This booking was cancelled. Book a crew anew.");
  return { job, booking };
}

/** Books a crew for a run of its workdays. */
export async function bookCrew(
  db: TenantDb,
  jobId: string,
  body: Input<typeof crews.bookCrew>["body"],
  today: string,
): Promise<crews.SheetBooking> {
  const job = await takeJob(db, jobId, today, "book_crew");
  const crew = await lockWorkingCrew(db, body.crewId);
  const { startOn } = body;
  const crewDays = body.crewDays ?? (await daysNeeded(db, job, crew));
  const endOn = await planRun(db, crew, { bookingId: null, startOn, crewDays }, today);
  const [row] = await db.sql<{ id: string }>`
    INSERT INTO bookings (company_id, job_id, crew_id, start_on, end_on, crew_days)
    VALUES (${db.companyId}, ${jobId}, ${crew.id}, ${startOn}, ${endOn}, ${crewDays}) RETURNING id`;
  if (!row) throw new Error("The booking was not stored.");
  await db.audit({
    action: "booking.made",
    entity: "booking",
    entityId: row.id,
    jobId,
    words: `Crew ${crew.name} booked, ${sayRun({ startOn, endOn, crewDays })}.${sayPromise(startOn, job.facts.promisedTo)}`,
  });
  const { state } = await refreshJob(db, jobId, today);
  return toSheetBooking(await readBooking(db, row.id), state.holds);
}

/** Moves a booking to another crew or day, or changes its length. A crew of another size takes other days unless told. */
export async function moveBooking(
  db: TenantDb,
  bookingId: string,
  version: number,
  body: Input<typeof crews.moveBooking>["body"],
  today: string,
): Promise<crews.SheetBooking> {
  const { job, booking: old } = await takeBooking(db, bookingId, today);
  const { jobId } = job;
  await checkVersion(old.version, version, () => toSheetBooking(old, job.state.holds));
  requireAct(job, "move_booking");
  const crew = await lockWorkingCrew(db, body.crewId ?? old.crewId);
  const sameSize = crew.id === old.crewId || crew.size === (await readCrew(db, old.crewId)).size;
  const crewDays = body.crewDays ?? (sameSize ? old.crewDays : await daysNeeded(db, job, crew));
  const startOn = body.startOn ?? old.startOn;
  const endOn = await planRun(db, crew, { bookingId, startOn, crewDays }, today);
  await db.sql`UPDATE bookings SET crew_id = ${crew.id}, start_on = ${startOn}, end_on = ${endOn}, crew_days = ${crewDays}
    WHERE company_id = ${db.companyId} AND id = ${bookingId}`;
  await db.audit({
    action: "booking.moved",
    entity: "booking",
    entityId: bookingId,
    jobId,
    words: `Booking moved to crew ${crew.name}, ${sayRun({ startOn, endOn, crewDays })}; it was crew ${old.crewName}, ${sayRun(old)}.${sayPromise(startOn, job.facts.promisedTo)}`,
  });
  const { state } = await refreshJob(db, jobId, today);
  return toSheetBooking(await readBooking(db, bookingId), state.holds);
}

/** Takes a booking off the calendar before its work has started. */
export async function cancelBooking(
  db: TenantDb,
  bookingId: string,
  why: string,
  today: string,
  now: Date,
): Promise<{ done: true }> {
  const { job, booking } = await takeBooking(db, bookingId, today);
  const { jobId } = job;
  requireAct(job, "cancel_booking");
  await db.sql`UPDATE bookings SET cancelled_at = ${now.toISOString()}, cancelled_why = ${why}
    WHERE company_id = ${db.companyId} AND id = ${bookingId}`;
  await db.audit({
    action: "booking.cancelled",
    entity: "booking",
    entityId: bookingId,
    jobId,
    words: `Booking of crew ${booking.crewName}, ${sayRun(booking)}, cancelled: ${why}`,
  });
  await refreshJob(db, jobId, today);
  return { done: true };
}
