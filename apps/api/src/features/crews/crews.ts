import type { crews, Input } from "@ledgerboard/contracts";
import { sayDate } from "@ledgerboard/contracts/dates";
import type { TenantDb } from "@ledgerboard/database";
import { illegalMove } from "../../problem.ts";
import { checkVersion, given } from "../versions.ts";
import { lockCrew, readCrew } from "./queries.ts";

type NewCrew = Input<typeof crews.addCrew>["body"];

async function writeWeekdays(db: TenantDb, crewId: string, weekdays: readonly number[]): Promise<void> {
  const sorted = [...weekdays].sort((a, b) => a - b);
  await db.sql`INSERT INTO calendars (company_id, crew_id, weekdays) VALUES (${db.companyId}, ${crewId}, ${sorted})
    ON CONFLICT (company_id, crew_id) DO UPDATE SET weekdays = excluded.weekdays`;
}

/**
 * Writes a crew's people anew. A name that was there keeps its link to a member; a new one is linked to the one
 * active member of exactly that name, if there is just one.
 */
async function writePeople(db: TenantDb, crewId: string, people: NewCrew["members"]): Promise<void> {
  const linked = await db.sql<{ name: string; memberId: string }>`
    SELECT name, member_id AS "memberId" FROM crew_members
    WHERE company_id = ${db.companyId} AND crew_id = ${crewId} AND member_id IS NOT NULL`;
  const known = await db.sql<{ name: string; memberId: string }>`
    SELECT name, min(id::text) AS "memberId" FROM members
    WHERE company_id = ${db.companyId} AND active GROUP BY name HAVING count(*) = 1`;
  const memberOf = new Map([...known, ...linked].map(({ name, memberId }) => [name, memberId]));
  await db.sql`DELETE FROM crew_members WHERE company_id = ${db.companyId} AND crew_id = ${crewId}`;
  for (const [position, { name, lead }] of people.entries()) {
    await db.sql`INSERT INTO crew_members (company_id, crew_id, member_id, name, lead, position)
      VALUES (${db.companyId}, ${crewId}, ${memberOf.get(name) ?? null}, ${name}, ${lead}, ${position})`;
  }
}

/** Forms a crew with its working days and people. */
export async function addCrew(db: TenantDb, body: NewCrew): Promise<crews.Crew> {
  const [row] = await db.sql<{ id: string }>`
    INSERT INTO crews (company_id, name, size, skills, base_latitude, base_longitude)
    VALUES (${db.companyId}, ${body.name}, ${body.size}, ${body.skills}, ${body.baseLatitude}, ${body.baseLongitude})
    RETURNING id`;
  if (!row) throw new Error("The crew was not stored.");
  await writeWeekdays(db, row.id, body.weekdays);
  await writePeople(db, row.id, body.members);
  const people = body.size === 1 ? "one person" : `${body.size} people`;
  await db.audit({
    action: "crew.added",
    entity: "crew",
    entityId: row.id,
    words: `Crew ${body.name} was formed: ${people}.`,
  });
  return readCrew(db, row.id);
}

/** Refuses while the crew has bookings that are not finished. */
async function requireNothingAhead(db: TenantDb, crew: crews.Crew): Promise<void> {
  const ahead = await db.sql<{ number: string; startOn: string }>`
    SELECT j.number, b.start_on AS "startOn" FROM bookings b
    JOIN jobs j ON j.company_id = b.company_id AND j.id = b.job_id
    WHERE b.company_id = ${db.companyId} AND b.crew_id = ${crew.id} AND b.cancelled_at IS NULL AND b.finished_on IS NULL
    ORDER BY b.start_on`;
  if (ahead.length === 0) return;
  const list = ahead.map((b) => `${b.number} from ${sayDate(b.startOn)}`).join(", ");
  throw illegalMove(`Crew ${crew.name} is still booked: ${list}. Move or finish that first.`);
}

/** Changes a crew. Bookings already made keep their days, whatever its working days become. */
export async function updateCrew(
  db: TenantDb,
  crewId: string,
  version: number,
  body: Input<typeof crews.updateCrew>["body"],
): Promise<crews.Crew> {
  const crew = await lockCrew(db, crewId);
  await checkVersion(crew.version, version, () => crew);
  if (body.active === false && crew.active) await requireNothingAhead(db, crew);
  const next = { ...crew, ...given(body) };
  await db.sql`UPDATE crews SET name = ${next.name}, size = ${next.size}, skills = ${next.skills},
      base_latitude = ${next.baseLatitude}, base_longitude = ${next.baseLongitude}, active = ${next.active}
    WHERE company_id = ${db.companyId} AND id = ${crewId}`;
  if (body.weekdays) await writeWeekdays(db, crewId, body.weekdays);
  if (body.members) await writePeople(db, crewId, body.members);
  const stood = next.active === crew.active ? "" : next.active ? " It works again." : " It was stood down.";
  const days = body.weekdays ? " Bookings already made keep their days." : "";
  await db.audit({
    action: "crew.changed",
    entity: "crew",
    entityId: crewId,
    words: `Crew ${next.name} was changed.${stood}${days}`,
    changes: { before: crew, after: given(body) },
  });
  return readCrew(db, crewId);
}
