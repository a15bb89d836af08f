import type { jobs } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { requireJob } from "./require.ts";

/** What happened to a job, newest first, from an entry on. */
export async function readTimeline(
  db: TenantDb,
  jobId: string,
  after: string | null,
  limit: number,
): Promise<jobs.TimelineEntry[]> {
  await requireJob(db, jobId);
  return db.sql<jobs.TimelineEntry>`
    SELECT a.id, a.at, coalesce(m.name, 'Ledgerboard') AS by, a.action, a.words
    FROM audit_entries a LEFT JOIN members m ON m.company_id = a.company_id AND m.id = a.member_id
    WHERE a.company_id = ${db.companyId} AND a.job_id = ${jobId} AND (${after}::uuid IS NULL OR a.id < ${after}::uuid)
    ORDER BY a.id DESC LIMIT ${limit}`;
}
