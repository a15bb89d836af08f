import { type Input, type jobs, words } from "@ledgerboard/contracts";
import { sayDate } from "@ledgerboard/contracts/dates";
import type { TenantDb } from "@ledgerboard/database";
import { toDate } from "../../days.ts";
import { illegalMove, invalid, notFound, Problem } from "../../problem.ts";
import { rowKey } from "../keys.ts";
import { endOpenQuotes } from "../quotes/service.ts";
import { checkVersion, given } from "../versions.ts";
import { readJob } from "./detail.ts";
import { lockJob, refreshJob, requireAct, takeJob } from "./facts.ts";

/** A member who works here now; the field is named when it is nobody's id. */
export async function requireMember(db: TenantDb, memberId: string, field: string): Promise<string> {
  const [row] = await db.sql<{ name: string }>`
    SELECT name FROM members WHERE company_id = ${db.companyId} AND id = ${memberId} AND active`;
  if (!row) throw invalid(field, "Choose somebody who works here.");
  return row.name;
}

async function currentVersion(db: TenantDb, jobId: string): Promise<number> {
  const [row] = await db.sql<{ version: number }>`
    SELECT version FROM jobs WHERE company_id = ${db.companyId} AND id = ${jobId}`;
  if (!row) throw notFound("job");
  return row.version;
}

export async function updateJob(
  db: TenantDb,
  jobId: string,
  version: number,
  body: Input<typeof jobs.updateJob>["body"],
  today: string,
): Promise<jobs.Job> {
  await lockJob(db, jobId, today);
  await checkVersion(await currentVersion(db, jobId), version, () => readJob(db, jobId, today));
  if (body.salespersonId) await requireMember(db, body.salespersonId, "body.salespersonId");
  if (body.estimatorId) await requireMember(db, body.estimatorId, "body.estimatorId");
  await db.prisma.job.update({ where: rowKey(db, jobId), data: given(body) });
  await db.audit({
    action: "job.changed",
    entity: "job",
    entityId: jobId,
    jobId,
    words: body.hazard ? `Hazard noted: ${body.hazard}.` : "Job details changed.",
    changes: given(body),
  });
  await refreshJob(db, jobId, today);
  return readJob(db, jobId, today);
}

export async function pinJob(
  db: TenantDb,
  jobId: string,
  why: string | null,
  today: string,
): Promise<{ done: true }> {
  await lockJob(db, jobId, today);
  await db.prisma.job.update({ where: rowKey(db, jobId), data: { pinnedWhy: why } });
  await db.audit({
    action: why ? "job.pinned" : "job.unpinned",
    entity: "job",
    entityId: jobId,
    jobId,
    words: why ? `Put at the head of the list: ${why}` : "No longer at the head of the list.",
  });
  return { done: true };
}

export async function promiseWindow(
  db: TenantDb,
  jobId: string,
  body: Input<typeof jobs.promiseWindow>["body"],
  today: string,
): Promise<{ id: string }> {
  const job = await lockJob(db, jobId, today);
  if (job.facts.closed || job.facts.booking?.started)
    throw illegalMove("A start can be promised only before work starts.");
  if (body.from < today) throw invalid("body.from", "A promise begins today or later.");
  const { from, to, probabilityBp } = body;
  const promise = await db.prisma.promise.create({
    data: { jobId, fromOn: toDate(from), toOn: toDate(to), probabilityBp, madeById: db.memberId },
  });
  await db.prisma.job.update({
    where: rowKey(db, jobId),
    data: { promisedFrom: toDate(from), promisedTo: toDate(to), probabilityBp },
  });
  await db.audit({
    action: "promise.made",
    entity: "promise",
    entityId: promise.id,
    jobId,
    words: `A start from ${sayDate(from)} to ${sayDate(to)} was promised.`,
  });
  await refreshJob(db, jobId, today);
  return { id: promise.id };
}

export async function closeJob(
  db: TenantDb,
  jobId: string,
  body: Input<typeof jobs.closeJob>["body"],
  today: string,
): Promise<{ done: true }> {
  await takeJob(db, jobId, today, "close_job");
  const why = `Job closed: ${words(body.reason)}.`;
  await endOpenQuotes(db, jobId, "withdrawn", why);
  await db.sql`UPDATE bookings SET cancelled_at = now(), cancelled_why = ${why}
    WHERE company_id = ${db.companyId} AND job_id = ${jobId} AND cancelled_at IS NULL`;
  await db.sql`UPDATE visits SET state = 'cancelled'
    WHERE company_id = ${db.companyId} AND job_id = ${jobId} AND state = 'scheduled'`;
  await db.prisma.job.update({
    where: rowKey(db, jobId),
    data: { closedOn: toDate(today), closedReason: body.reason, closedNote: body.note },
  });
  await db.audit({
    action: "job.closed",
    entity: "job",
    entityId: jobId,
    jobId,
    words: `${why} ${body.note}`.trim(),
  });
  await refreshJob(db, jobId, today);
  return { done: true };
}

export async function reopenJob(
  db: TenantDb,
  jobId: string,
  why: string,
  today: string,
): Promise<{ done: true }> {
  await takeJob(db, jobId, today, "reopen_job");
  await db.prisma.job.update({
    where: rowKey(db, jobId),
    data: { closedOn: null, closedReason: null, closedNote: "" },
  });
  await db.audit({
    action: "job.reopened",
    entity: "job",
    entityId: jobId,
    jobId,
    words: `Taken up again: ${why}`,
  });
  await refreshJob(db, jobId, today);
  return { done: true };
}

export async function placeHold(
  db: TenantDb,
  jobId: string,
  body: Input<typeof jobs.placeHold>["body"],
  today: string,
): Promise<{ id: string }> {
  const job = await takeJob(db, jobId, today, "place_hold");
  if (job.facts.placedHolds.includes(body.hold))
    throw illegalMove(`The hold "${words(body.hold)}" already stands.`);
  if (db.memberId === null) throw new Problem("not-signed-in", "Sign in first.");
  const hold = await db.prisma.hold.create({
    data: { jobId, hold: body.hold, why: body.why, placedById: db.memberId },
  });
  await db.audit({
    action: "hold.placed",
    entity: "hold",
    entityId: hold.id,
    jobId,
    words: `Hold placed, ${words(body.hold)}: ${body.why}`,
  });
  await refreshJob(db, jobId, today);
  return { id: hold.id };
}

export async function liftHold(db: TenantDb, holdId: string, today: string): Promise<{ done: true }> {
  const hold = await db.prisma.hold.findFirst({ where: { companyId: db.companyId, id: holdId } });
  if (!hold) throw notFound("hold");
  const job = await lockJob(db, hold.jobId, today);
  requireAct(job, "place_hold");
  if (hold.liftedAt) throw illegalMove("This hold is lifted already.");
  await db.sql`UPDATE holds SET lifted_at = now(), lifted_by_id = ${db.memberId}
    WHERE company_id = ${db.companyId} AND id = ${holdId}`;
  await db.audit({
    action: "hold.lifted",
    entity: "hold",
    entityId: holdId,
    jobId: hold.jobId,
    words: `Hold lifted: ${words(hold.hold)}.`,
  });
  await refreshJob(db, hold.jobId, today);
  return { done: true };
}
