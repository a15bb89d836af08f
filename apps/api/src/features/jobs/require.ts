import type { TenantDb } from "@ledgerboard/database";
import { notFound } from "../../problem.ts";

/** For reads of what hangs on a job: a job that is not there is a problem, not an empty list. */
export async function requireJob(db: TenantDb, jobId: string): Promise<void> {
  const [job] = await db.sql`SELECT id FROM jobs WHERE company_id = ${db.companyId} AND id = ${jobId}`;
  if (!job) throw notFound("job");
}
