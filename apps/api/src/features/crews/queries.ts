import type { crews, jobs } from "@ledgerboard/contracts";
import { NOTHING, part, type TenantDb } from "@ledgerboard/database";
import { notFound } from "../../problem.ts";
import type { StoredFacts } from "../jobs/facts.ts";

/** Crews, those at work first. A crew without days of its own works the company's, else Monday to Friday. */
export const listCrews = (
  db: TenantDb,
  crewId: string | null = null,
): Promise<crews.Crew[]> => db.sql<crews.Crew>`
  SELECT c.id, c.name, c.size, c.skills, c.base_latitude::float8 AS "baseLatitude", c.base_longitude::float8 AS "baseLongitude",
         coalesce(own.weekdays, common.weekdays, '{1,2,3,4,5}') AS weekdays, c.active, c.version,
         (SELECT coalesce(json_agg(json_build_object('id', m.id, 'name', m.name, 'lead', m.lead) ORDER BY m.position, m.id), '[]')
            FROM crew_members m WHERE m.company_id = c.company_id AND m.crew_id = c.id) AS members
  FROM crews c
  LEFT JOIN calendars own ON own.company_id = c.company_id AND own.crew_id = c.id
  LEFT JOIN calendars common ON common.company_id = c.company_id AND common.crew_id IS NULL
  WHERE c.company_id = ${db.companyId} AND (${crewId}::uuid IS NULL OR c.id = ${crewId}::uuid)
  ORDER BY c.active DESC, c.name, c.id`;

/** A crew by its id. Not found is a problem. */
export async function readCrew(db: TenantDb, crewId: string): Promise<crews.Crew> {
  const [crew] = await listCrews(db, crewId);
  if (!crew) throw notFound("crew");
  return crew;
}

/** Takes a crew in hand: nobody else books it or closes its days until this transaction ends. Lock the job first. */
export async function lockCrew(db: TenantDb, crewId: string): Promise<crews.Crew> {
  await db.sql`SELECT id FROM crews WHERE company_id = ${db.companyId} AND id = ${crewId} FOR UPDATE`;
  return readCrew(db, crewId);
}

/** A booking with what the crew sheet shows of its job. */
export interface BookingRecord {
  id: string;
  version: number;
  jobId: string;
  jobVersion: number;
  number: string;
  title: string;
  customerName: string;
  city: string;
  crewId: string;
  crewName: string;
  startOn: string;
  endOn: string;
  crewDays: number;
  startedOn: string | null;
  finishedOn: string | null;
  cancelled: boolean;
  facts: StoredFacts;
}

/** Bookings with what the crew sheet shows of their jobs; a `WHERE` on b, w or j follows. */
const BOOKINGS = part`
  SELECT b.id, b.version, b.job_id AS "jobId", j.version AS "jobVersion", j.number, j.title,
         j.customer_name AS "customerName", j.city, b.crew_id AS "crewId", w.name AS "crewName",
         b.start_on AS "startOn", b.end_on AS "endOn", b.crew_days AS "crewDays", b.started_on AS "startedOn",
         b.finished_on AS "finishedOn", b.cancelled_at IS NOT NULL AS cancelled, j.facts
  FROM bookings b
  JOIN crews w ON w.company_id = b.company_id AND w.id = b.crew_id
  JOIN job_rows j ON j.company_id = b.company_id AND j.id = b.job_id`;

/** A booking by its id, cancelled or not. Not found is a problem. */
export async function readBooking(db: TenantDb, bookingId: string): Promise<BookingRecord> {
  const [row] =
    await db.sql<BookingRecord>`${BOOKINGS} WHERE b.company_id = ${db.companyId} AND b.id = ${bookingId}`;
  if (!row) throw notFound("booking");
  return row;
}

/** The standing bookings that touch a run of days, of one crew or of all. */
export const bookingsOn = (
  db: TenantDb,
  from: string,
  to: string,
  crewId: string | null = null,
): Promise<BookingRecord[]> => db.sql<BookingRecord>`${BOOKINGS}
  WHERE b.company_id = ${db.companyId} AND b.cancelled_at IS NULL AND b.start_on <= ${to} AND b.end_on >= ${from}
    ${crewId === null ? NOTHING : part`AND b.crew_id = ${crewId}`}
  ORDER BY b.start_on, b.id`;

/** A booking as the crew sheet shows it, with the holds of its job. */
export function toSheetBooking(row: BookingRecord, holds: jobs.JobRow["holds"]): crews.SheetBooking {
  const { id, jobId, number, title, customerName, city, crewId, startOn, endOn, crewDays, version } = row;
  const state = row.finishedOn ? "finished" : row.startedOn ? "under_way" : "booked";
  const hours = row.facts.hours ?? "0";
  return {
    id,
    jobId,
    number,
    title,
    customerName,
    city,
    crewId,
    startOn,
    endOn,
    crewDays,
    hours,
    state,
    holds,
    version,
  };
}

export interface Closure {
  id: string;
  crewId: string | null;
  on: string;
  why: string;
}

/** Closed days from a day on, to a last one if given: of everybody and, where a crew is given, of no other crew. */
export const listClosures = (
  db: TenantDb,
  from: string,
  to: string | null,
  crewId: string | null,
): Promise<Closure[]> => db.sql<Closure>`
  SELECT id, crew_id AS "crewId", on_day AS "on", why FROM calendar_closures
  WHERE company_id = ${db.companyId} AND on_day >= ${from} AND (${to}::date IS NULL OR on_day <= ${to}::date)
    AND (${crewId}::uuid IS NULL OR crew_id IS NULL OR crew_id = ${crewId}::uuid)
  ORDER BY on_day, id`;
