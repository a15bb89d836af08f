import type { Advisory } from "@ledgerboard/contracts/advisories";
import type { TenantDb } from "@ledgerboard/database";
import { notFound } from "../../problem.ts";

type Row = Omit<Advisory, "declined"> & {
  declinedName: string | null;
  declinedOn: string | null;
  declinedHow: string | null;
};

const toAdvisory = ({ declinedName, declinedOn, declinedHow, ...row }: Row): Advisory => ({
  ...row,
  declined:
    declinedName && declinedOn && declinedHow
      ? { name: declinedName, on: declinedOn, how: declinedHow }
      : null,
});

/** Advisories of a job, oldest first; those taken back are left out. */
export async function listAdvisories(db: TenantDb, jobId: string): Promise<Advisory[]> {
  const rows = await db.sql<Row>`
    SELECT a.id, a.job_id AS "jobId", a.zone_id AS "zoneId", z.name AS "zoneName", a.component, a.words, a.reference,
           a.decision, a.alternate, a.declined_name AS "declinedName", a.declined_on AS "declinedOn",
           a.declined_how AS "declinedHow", m.name AS "recordedBy", a.created_at AS at, a.version
    FROM advisories a
    JOIN members m ON m.company_id = a.company_id AND m.id = a.member_id
    LEFT JOIN zones z ON z.company_id = a.company_id AND z.id = a.zone_id
    WHERE a.company_id = ${db.companyId} AND a.job_id = ${jobId} AND a.removed_at IS NULL
    ORDER BY a.id`;
  return rows.map(toAdvisory);
}

export async function findAdvisory(db: TenantDb, advisoryId: string): Promise<Advisory> {
  const [row] = await db.sql<{ jobId: string }>`
    SELECT job_id AS "jobId" FROM advisories
    WHERE company_id = ${db.companyId} AND id = ${advisoryId} AND removed_at IS NULL`;
  const found = row && (await listAdvisories(db, row.jobId)).find((a) => a.id === advisoryId);
  if (!found) throw notFound("advisory");
  return found;
}
