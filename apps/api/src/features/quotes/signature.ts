import type { TenantDb } from "@ledgerboard/database";

/** The customer's standing signature, with the quote and the revision it stands on. */
export interface Signature {
  id: string;
  signer: string;
  signedOn: string;
  quoteNumber: string;
  revisionId: string;
}

/** The signature of a job that has not been voided; null where there is none. */
export async function standingSignature(db: TenantDb, jobId: string): Promise<Signature | null> {
  const [row] = await db.sql<Signature>`
    SELECT a.id, a.signer, a.signed_on AS "signedOn", q.number AS "quoteNumber", q.revision_id AS "revisionId"
    FROM acceptances a
    JOIN quotes q ON q.company_id = a.company_id AND q.id = a.quote_id
    LEFT JOIN acceptance_voids v ON v.company_id = a.company_id AND v.acceptance_id = a.id
    WHERE a.company_id = ${db.companyId} AND a.job_id = ${jobId} AND v.id IS NULL
    ORDER BY a.id DESC LIMIT 1`;
  return row ?? null;
}

/** Ends a signature for a reason that is kept; `words` is what the timeline says. The caller refreshes the job. */
export async function voidSignature(
  db: TenantDb,
  jobId: string,
  signature: Signature,
  reason: { why: string; words: string; varianceId?: string },
): Promise<void> {
  await db.sql`INSERT INTO acceptance_voids (company_id, acceptance_id, why, variance_id)
    VALUES (${db.companyId}, ${signature.id}, ${reason.why}, ${reason.varianceId ?? null})`;
  await db.audit({
    action: "acceptance.voided",
    entity: "acceptance",
    entityId: signature.id,
    jobId,
    words: reason.words,
  });
}
