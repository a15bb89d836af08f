import type { TenantDb } from "@ledgerboard/database";
import { illegalMove } from "../../problem.ts";
import { type Hand, nameOf, takeDraft } from "./drafts.ts";

export interface Pass {
  why: string;
  by: string;
  at: string;
}

/** The reasons in force on a job, by the key of the finding they let pass: the newest word on each counts. */
export async function listPasses(db: TenantDb, jobId: string): Promise<Map<string, Pass>> {
  const rows = await db.sql<Pass & { key: string }>`
    SELECT key, why, by, at FROM (
      SELECT DISTINCT ON (p.key) p.key, p.why, m.name AS by, p.created_at AS at
      FROM finding_passes p
      JOIN members m ON m.company_id = p.company_id AND m.id = p.member_id
      WHERE p.company_id = ${db.companyId} AND p.job_id = ${jobId}
      ORDER BY p.key, p.id DESC
    ) newest WHERE why IS NOT NULL`;
  return new Map(rows.map(({ key, ...pass }) => [key, pass]));
}

/** Lets a finding pass with a reason, or (why: null) takes such a reason back. */
export async function settleFinding(
  hand: Hand,
  revisionId: string,
  key: string,
  why: string | null,
): Promise<{ done: true }> {
  const { db, who, services } = hand;
  const { revision } = await takeDraft(hand, revisionId, "edit_revision");
  if (why === null && !(await listPasses(db, revision.jobId)).has(key)) {
    throw illegalMove("No reason stands for this remark, so there is none to take back.");
  }
  const [row] = await db.sql<{ id: string }>`
    INSERT INTO finding_passes (company_id, job_id, key, why, member_id, created_at)
    VALUES (${db.companyId}, ${revision.jobId}, ${key}, ${why}, ${who.memberId}, ${services.now().toISOString()})
    RETURNING id`;
  await db.audit({
    action: why === null ? "finding.stands_again" : "finding.passed",
    entity: "finding_pass",
    entityId: row?.id ?? revisionId,
    jobId: revision.jobId,
    words:
      why === null
        ? `${nameOf(revision)}: a remark stands again.`
        : `${nameOf(revision)}: a remark was let pass: ${why}`,
    changes: { key },
  });
  return { done: true };
}
