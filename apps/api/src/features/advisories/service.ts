import type { advisories as contract, Endpoint, Input } from "@ledgerboard/contracts";
import type { Advisory } from "@ledgerboard/contracts/advisories";
import type { TenantDb } from "@ledgerboard/database";
import type { Context } from "../../http/implement.ts";
import { illegalMove, invalid } from "../../problem.ts";
import { lockJob, refreshJob } from "../jobs/facts.ts";
import { checkVersion } from "../versions.ts";
import { findAdvisory } from "./queries.ts";
import { sayDecision } from "./words.ts";

type Hand = Pick<Context<Endpoint>, "db" | "who" | "today" | "services">;
type Decision = Input<typeof contract.decideAdvisory>["body"];

async function takeOpenJob({ db, today }: Hand, jobId: string): Promise<void> {
  const job = await lockJob(db, jobId, today);
  if (job.facts.closed) throw illegalMove("The job is closed. Reopen it first.");
}

export async function addAdvisory(
  hand: Hand,
  jobId: string,
  body: Input<typeof contract.addAdvisory>["body"],
): Promise<{ id: string }> {
  const { db, who, services } = hand;
  await takeOpenJob(hand, jobId);
  if (body.zoneId) {
    const [zone] = await db.sql`
      SELECT id FROM zones WHERE company_id = ${db.companyId} AND job_id = ${jobId} AND id = ${body.zoneId}`;
    if (!zone) throw invalid("body.zoneId", "This job has no such zone.");
  }
  const [row] = await db.sql<{ id: string }>`
    INSERT INTO advisories (company_id, job_id, zone_id, component, words, reference, member_id, created_at)
    VALUES (${db.companyId}, ${jobId}, ${body.zoneId}, ${body.component}, ${body.words}, ${body.reference}, ${who.memberId},
            ${services.now().toISOString()})
    RETURNING id`;
  if (!row) throw new Error("The advisory was not stored.");
  await db.audit({
    action: "advisory.recorded",
    entity: "advisory",
    entityId: row.id,
    jobId,
    words: `Advisory: ${body.words} (${body.reference})`,
    changes: { after: body },
  });
  await refreshJob(db, jobId, hand.today);
  return { id: row.id };
}

/** An optional extra must exist in the newest revision before an advisory can point to it. */
async function checkAlternate(db: TenantDb, jobId: string, name: string): Promise<void> {
  const rows = await db.sql<{ alternate: string }>`
    SELECT DISTINCT l.alternate FROM scope_lines l
    WHERE l.company_id = ${db.companyId} AND l.alternate IS NOT NULL AND l.revision_id = (
      SELECT id FROM revisions WHERE company_id = ${db.companyId} AND job_id = ${jobId} ORDER BY number DESC LIMIT 1)
    ORDER BY 1`;
  if (rows.some((row) => row.alternate === name)) return;
  const known = rows.map((row) => row.alternate).join(", ");
  throw invalid(
    "body.alternate",
    known === ""
      ? "The estimate has no optional extra yet. Add its lines as an extra first."
      : `The estimate has no optional extra of that name; it has ${known}.`,
  );
}

export async function decideAdvisory(
  hand: Hand,
  advisoryId: string,
  version: number,
  body: Decision,
): Promise<Advisory> {
  const { db, today } = hand;
  const { jobId } = await findAdvisory(db, advisoryId);
  await takeOpenJob(hand, jobId);
  // Read again: it may have been decided while this waited for the job.
  const before = await findAdvisory(db, advisoryId);
  await checkVersion(before.version, version, () => before);
  if (body.decision === "alternate") await checkAlternate(db, before.jobId, body.alternate);
  if (body.decision === "declined" && body.on > today)
    throw invalid("body.on", "That day is still to come; give the day it was put in writing.");
  const declined = body.decision === "declined" ? body : null;
  await db.sql`
    UPDATE advisories SET decision = ${body.decision},
           alternate = ${body.decision === "alternate" ? body.alternate : null},
           declined_name = ${declined?.name ?? null}, declined_on = ${declined?.on ?? null}::date,
           declined_how = ${declined?.how ?? null}
    WHERE company_id = ${db.companyId} AND id = ${advisoryId}`;
  const after = await findAdvisory(db, advisoryId);
  await db.audit({
    action: "advisory.decided",
    entity: "advisory",
    entityId: advisoryId,
    jobId: before.jobId,
    words: `Advisory "${before.words}": ${sayDecision(after)}.`,
    changes: { before, after },
  });
  await refreshJob(db, before.jobId, today);
  return after;
}

export async function removeAdvisory(hand: Hand, advisoryId: string): Promise<{ done: true }> {
  const { db, services, today } = hand;
  const { jobId } = await findAdvisory(db, advisoryId);
  await takeOpenJob(hand, jobId);
  // Read again: it may have been decided or taken back while this waited for the job.
  const before = await findAdvisory(db, advisoryId);
  await db.sql`
    UPDATE advisories SET removed_at = ${services.now().toISOString()}
    WHERE company_id = ${db.companyId} AND id = ${advisoryId}`;
  await db.audit({
    action: "advisory.removed",
    entity: "advisory",
    entityId: advisoryId,
    jobId: before.jobId,
    words: `Advisory taken back: ${before.words}`,
    changes: { before },
  });
  await refreshJob(db, before.jobId, today);
  return { done: true };
}
