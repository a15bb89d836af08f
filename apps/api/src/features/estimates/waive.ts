import { formatMoney } from "@ledgerboard/contracts/money";
import { illegalMove, notFound } from "../../problem.ts";
import { refreshJob, takeJob } from "../jobs/facts.ts";
import type { Hand } from "./drafts.ts";

/**
 * The owner lets a material change pass. That settles the change, but a signature it voided stays void: what the
 * customer signed was another scope, so he is still asked again.
 */
export async function waiveVariance(hand: Hand, varianceId: string, why: string): Promise<{ done: true }> {
  const { db, who, today } = hand;
  const [seen] = await db.sql<{ jobId: string; material: boolean }>`
    SELECT job_id AS "jobId", material FROM variances WHERE company_id = ${db.companyId} AND id = ${varianceId}`;
  if (!seen) throw notFound("comparison");
  if (!seen.material) throw illegalMove("This change is not material, so there is nothing to let pass.");
  await takeJob(db, seen.jobId, today, "waive_variance");
  const [variance] = await db.sql<{ deltaCents: number; newest: boolean; signer: string | null }>`
    SELECT v.delta_cents AS "deltaCents", a.signer,
      NOT EXISTS (SELECT FROM variances n WHERE n.company_id = v.company_id AND n.job_id = v.job_id
                    AND n.material AND n.id > v.id) AS newest
    FROM variances v
    LEFT JOIN acceptance_voids x ON x.company_id = v.company_id AND x.variance_id = v.id
    LEFT JOIN acceptances a ON a.company_id = x.company_id AND a.id = x.acceptance_id
    WHERE v.company_id = ${db.companyId} AND v.id = ${varianceId}`;
  if (!variance?.newest) throw illegalMove("A later site review has taken the place of this change.");

  await db.sql`INSERT INTO variance_waivers (company_id, variance_id, why, member_id)
    VALUES (${db.companyId}, ${varianceId}, ${why}, ${who.memberId})`;
  const still = variance.signer
    ? ` ${variance.signer}'s signature stays void: a new one is still needed.`
    : "";
  await db.audit({
    action: "variance.waived",
    entity: "variance",
    entityId: varianceId,
    jobId: seen.jobId,
    words: `${who.memberName} let the material change of ${formatMoney(variance.deltaCents)} pass: ${why}${/[.!?]$/.test(why) ? "" : "."}${still}`,
  });
  await refreshJob(db, seen.jobId, today);
  return { done: true };
}
