import { type Input, type jobs, words } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { illegalMove, invalid, notFound, Problem } from "../../problem.ts";
import { rowKey } from "../keys.ts";
import { checkVersion, given } from "../versions.ts";
import { listObservations, listVisits, listZones } from "./detail.ts";
import { lockJob, refreshJob, takeJob } from "./facts.ts";
import { requireMember } from "./service.ts";
import { zoneColumns } from "./zone-measures.ts";

async function visitOf(db: TenantDb, jobId: string, visitId: string): Promise<jobs.Visit> {
  const visit = (await listVisits(db, jobId)).find((v) => v.id === visitId);
  if (!visit) throw notFound("visit");
  return visit;
}

/** Beyond these years an instant is a slip of the pen, and calendars cannot print it. */
function requirePlausibleYear(startsAt: string): void {
  const year = new Date(startsAt).getUTCFullYear();
  if (year < 1990 || year > 2099) throw invalid("body.startsAt", "A year between 1990 and 2099.");
}

export async function addVisit(
  db: TenantDb,
  jobId: string,
  body: Input<typeof jobs.addVisit>["body"],
  today: string,
): Promise<jobs.Visit> {
  requirePlausibleYear(body.startsAt);
  await takeJob(db, jobId, today, "schedule_visit");
  const name = await requireMember(db, body.memberId, "body.memberId");
  const visit = await db.prisma.visit.create({ data: { ...body, jobId, startsAt: new Date(body.startsAt) } });
  await db.audit({
    action: "visit.scheduled",
    entity: "visit",
    entityId: visit.id,
    jobId,
    words: `${name} will visit (${words(body.kind)}).`,
    changes: { startsAt: body.startsAt },
  });
  await refreshJob(db, jobId, today);
  return visitOf(db, jobId, visit.id);
}

export async function updateVisit(
  db: TenantDb,
  visitId: string,
  version: number,
  body: Input<typeof jobs.updateVisit>["body"],
  today: string,
): Promise<jobs.Visit> {
  if (body.startsAt) requirePlausibleYear(body.startsAt);
  const found = await db.prisma.visit.findFirst({ where: { companyId: db.companyId, id: visitId } });
  if (!found) throw notFound("visit");
  const job = await lockJob(db, found.jobId, today);
  if (job.facts.closed) throw illegalMove("The job is closed. Reopen it first.");
  const stored = await visitOf(db, found.jobId, visitId);
  await checkVersion(stored.version, version, () => stored);
  if (body.memberId) await requireMember(db, body.memberId, "body.memberId");
  if (body.state === "scheduled" && stored.state !== "scheduled" && job.facts.visitOpen) {
    throw illegalMove("Another visit is already set. Move that one.");
  }
  const { startsAt, ...rest } = body;
  await db.prisma.visit.update({
    where: rowKey(db, visitId),
    data: { ...given(rest), ...(startsAt && { startsAt: new Date(startsAt) }) },
  });
  await db.audit({
    action: "visit.changed",
    entity: "visit",
    entityId: visitId,
    jobId: found.jobId,
    words:
      body.state === "done"
        ? "The visit was made."
        : body.state === "cancelled"
          ? "The visit was called off."
          : "The visit was moved.",
    changes: given(body),
  });
  await refreshJob(db, found.jobId, today);
  return visitOf(db, found.jobId, visitId);
}

export async function addObservation(
  db: TenantDb,
  jobId: string,
  body: Input<typeof jobs.addObservation>["body"],
  today: string,
): Promise<jobs.Job["observations"][number]> {
  await lockJob(db, jobId, today);
  if (db.memberId === null) throw new Problem("not-signed-in", "Sign in first.");
  if (body.zoneId && !(await listZones(db, jobId)).some((z) => z.id === body.zoneId)) {
    throw invalid("body.zoneId", "Choose a zone of this job.");
  }
  const row = await db.prisma.observation.create({ data: { ...body, jobId, memberId: db.memberId } });
  await db.audit({
    action: "observation.added",
    entity: "observation",
    entityId: row.id,
    jobId,
    words: `Seen${body.component ? `, ${words(body.component)}` : ""}: ${body.text}`,
  });
  await refreshJob(db, jobId, today);
  const saved = (await listObservations(db, jobId)).find((o) => o.id === row.id);
  if (!saved) throw notFound("observation");
  return saved;
}

async function zoneOf(db: TenantDb, jobId: string, zoneId: string): Promise<jobs.Zone> {
  const zone = (await listZones(db, jobId)).find((z) => z.id === zoneId);
  if (!zone) throw notFound("zone");
  return zone;
}

/** Zones may change until work starts; after that only what is on record counts. */
async function takeZones(db: TenantDb, jobId: string, today: string): Promise<void> {
  const job = await lockJob(db, jobId, today);
  if (job.facts.closed) throw illegalMove("The job is closed. Reopen it first.");
  if (job.facts.booking?.started) throw illegalMove("Work has started, so the zones stay as they are.");
}

export async function addZone(
  db: TenantDb,
  jobId: string,
  body: Input<typeof jobs.addZone>["body"],
  today: string,
): Promise<jobs.Zone> {
  await takeZones(db, jobId, today);
  const zone = await db.prisma.zone.create({ data: { ...zoneColumns(body), jobId } });
  await db.audit({
    action: "zone.added",
    entity: "zone",
    entityId: zone.id,
    jobId,
    words: `Zone added: ${body.name}.`,
    changes: body,
  });
  await refreshJob(db, jobId, today);
  return zoneOf(db, jobId, zone.id);
}

async function findZone(db: TenantDb, zoneId: string) {
  const zone = await db.prisma.zone.findFirst({ where: { companyId: db.companyId, id: zoneId } });
  if (!zone) throw notFound("zone");
  return zone;
}

export async function updateZone(
  db: TenantDb,
  zoneId: string,
  version: number,
  body: Input<typeof jobs.updateZone>["body"],
  today: string,
): Promise<jobs.Zone> {
  const { jobId } = await findZone(db, zoneId);
  await takeZones(db, jobId, today);
  const stored = await zoneOf(db, jobId, zoneId);
  await checkVersion(stored.version, version, () => stored);
  await db.prisma.zone.update({ where: rowKey(db, zoneId), data: zoneColumns(given(body)) });
  await db.audit({
    action: "zone.changed",
    entity: "zone",
    entityId: zoneId,
    jobId,
    words: `Zone corrected: ${body.name ?? stored.name}.`,
    changes: { before: stored, after: given(body) },
  });
  await refreshJob(db, jobId, today);
  return zoneOf(db, jobId, zoneId);
}

export async function removeZone(db: TenantDb, zoneId: string, today: string): Promise<{ done: true }> {
  const { jobId, name } = await findZone(db, zoneId);
  await takeZones(db, jobId, today);
  const [used] = await db.sql`
    SELECT id FROM scope_lines WHERE company_id = ${db.companyId} AND zone_id = ${zoneId}
    UNION ALL SELECT id FROM observations WHERE company_id = ${db.companyId} AND zone_id = ${zoneId}
    UNION ALL SELECT id FROM advisories WHERE company_id = ${db.companyId} AND zone_id = ${zoneId} LIMIT 1`;
  if (used) throw illegalMove(`${name} is on record in scope lines, notes or advisories, so it stays.`);
  await db.prisma.zone.delete({ where: rowKey(db, zoneId) });
  await db.audit({
    action: "zone.removed",
    entity: "zone",
    entityId: zoneId,
    jobId,
    words: `Zone removed: ${name}.`,
  });
  await refreshJob(db, jobId, today);
  return { done: true };
}
