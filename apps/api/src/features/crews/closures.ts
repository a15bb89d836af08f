import type { crews, Input } from "@ledgerboard/contracts";
import { sayDate, weekday } from "@ledgerboard/contracts/dates";
import type { TenantDb } from "@ledgerboard/database";
import { notFound, Problem } from "../../problem.ts";
import { bookingsOn, listCrews, lockCrew } from "./queries.ts";

/** Closing a day and booking a crew must not cross, so the crews it is about are taken in hand, in one order. */
async function lockCrews(db: TenantDb, crewId: string | null): Promise<crews.Crew[]> {
  if (crewId) return [await lockCrew(db, crewId)];
  await db.sql`SELECT id FROM crews WHERE company_id = ${db.companyId} ORDER BY id FOR UPDATE`;
  return listCrews(db);
}

/**
 * Marks a day on which a crew, or everybody, does not work. Refused while work that could still be moved is booked
 * on it, naming the jobs; work under way keeps its days, and the record says so.
 */
export async function addClosure(
  db: TenantDb,
  { crewId, on, why }: Input<typeof crews.addClosure>["body"],
): Promise<{ id: string }> {
  const concerned = await lockCrews(db, crewId);
  const affected = (await bookingsOn(db, on, on, crewId)).filter(
    (b) => !b.finishedOn && concerned.some((c) => c.id === b.crewId && c.weekdays.includes(weekday(on))),
  );
  const movable = affected.filter((b) => !b.startedOn);
  if (movable.length > 0) {
    const list = movable
      .map((b) => `${b.number} (crew ${b.crewName}, ${sayDate(b.startOn)} to ${sayDate(b.endOn)})`)
      .join(", ");
    throw new Problem("conflict", `Booked on ${sayDate(on)}: ${list}. Move that first, then close the day.`);
  }
  const [row] = await db.sql<{ id: string }>`
    INSERT INTO calendar_closures (company_id, crew_id, on_day, why) VALUES (${db.companyId}, ${crewId}, ${on}, ${why})
    RETURNING id`;
  if (!row) throw new Error("The closed day was not stored.");
  const who = crewId ? `Crew ${concerned[0]?.name} does not work` : "Nobody works";
  const kept = affected.map((b) => ` ${b.number} is under way and keeps its days.`).join("");
  await db.audit({
    action: "closure.added",
    entity: "closure",
    entityId: row.id,
    words: `${who} on ${sayDate(on)}: ${why}.${kept}`,
  });
  return row;
}

/** Makes a closed day a working day again. Bookings already made keep their days. */
export async function removeClosure(db: TenantDb, closureId: string): Promise<{ done: true }> {
  const [row] = await db.sql<{ on: string; why: string }>`
    DELETE FROM calendar_closures WHERE company_id = ${db.companyId} AND id = ${closureId} RETURNING on_day AS "on", why`;
  if (!row) throw notFound("closed day");
  await db.audit({
    action: "closure.removed",
    entity: "closure",
    entityId: closureId,
    words: `${sayDate(row.on)} is a working day again (was: ${row.why}). Bookings already made keep their days.`,
  });
  return { done: true };
}
