import type { TenantDb } from "@ledgerboard/database";

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
