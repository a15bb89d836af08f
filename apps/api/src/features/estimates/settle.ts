import { illegalMove, invalid } from "../../problem.ts";
import { judgeRevision } from "./assessment.ts";
import { type Hand, nameOf, takeDraft } from "./drafts.ts";
import { listPasses } from "./passes.ts";
import { readPriced } from "./queries.ts";

/** A reason belongs to a remark that is there: one made up, or gone since it was read, would pass nothing. */
async function requireFinding({ db, today }: Hand, revisionId: string, key: string): Promise<void> {
  const { findings } = await judgeRevision(db, today, await readPriced(db, revisionId));
  if (!findings.some((finding) => finding.key === key))
    throw invalid("body.key", "The estimate has no such remark now. Look at its remarks again.");
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
  if (why !== null) await requireFinding(hand, revisionId, key);
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
