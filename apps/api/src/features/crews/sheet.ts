import type { crews, Input, Output } from "@ledgerboard/contracts";
import { addDays, sayDate, weekday } from "@ledgerboard/contracts/dates";
import type { TenantDb } from "@ledgerboard/database";
import { invalid } from "../../problem.ts";
import type { StoredFacts } from "../jobs/facts.ts";
import { stateOf } from "../jobs/rows.ts";
import { bookingsOn, listClosures, listCrews, toSheetBooking } from "./queries.ts";

type Sheet = Output<typeof crews.getCrewSheet>;

/** Dates of the service end here. */
const LAST_DAY = "2099-12-31";

/** Signed jobs that a crew may be placed on today, the most urgent start first. */
async function readyJobs(db: TenantDb, today: string): Promise<Sheet["ready"]> {
  const signed = await db.sql<
    Omit<Sheet["ready"][number], "jobId" | "hours" | "stage"> & {
      id: string;
      version: number;
      facts: StoredFacts;
    }
  >`
    SELECT id, version, number, title, customer_name AS "customerName", city, facts, promised_to AS "promisedTo"
    FROM job_rows WHERE company_id = ${db.companyId} AND list_view = 'waiting' AND stage = 'accepted'
    ORDER BY due_on, inquiry_on, id`;
  return signed.flatMap((job) => {
    const state = stateOf(job, today);
    if (!state.acts.book_crew.allowed) return [];
    const { id, number, title, customerName, city, promisedTo, facts } = job;
    const hours = facts.hours ?? "0";
    return [{ jobId: id, number, title, customerName, city, hours, stage: state.stage, promisedTo }];
  });
}

/** Crews down, days across. A crew stood down is shown while it has bookings in the window. */
export async function getCrewSheet(
  db: TenantDb,
  { from, days }: Input<typeof crews.getCrewSheet>["query"],
  today: string,
): Promise<Sheet> {
  const to = addDays(from, days - 1);
  if (to > LAST_DAY) {
    throw invalid("query.days", `Show fewer days: the calendar ends on ${sayDate(LAST_DAY)}.`);
  }
  const [bookings, all, closures, ready] = await Promise.all([
    bookingsOn(db, from, to),
    listCrews(db),
    listClosures(db, from, to, null),
    readyJobs(db, today),
  ]);
  return {
    from,
    days: Array.from({ length: days }, (_, i) => addDays(from, i)).map((on) => ({
      on,
      weekday: weekday(on),
    })),
    crews: all.filter((crew) => crew.active || bookings.some((b) => b.crewId === crew.id)),
    closures,
    bookings: bookings.map((b) => {
      const { holds } = stateOf({ id: b.jobId, version: b.jobVersion, facts: b.facts }, today);
      return toSheetBooking(b, holds);
    }),
    ready,
  };
}
