import type { TenantDb } from "@ledgerboard/database";
import type { CompanyPast } from "@ledgerboard/estimating";

/** Finished jobs further back say little about today's crews. Own choice, no source. */
const MONTHS_BACK = 36;

/**
 * What the company's own finished jobs say: hours for a unit of each kind of work, and prices by the square foot of
 * each kind of zone. A job's actual hours are known as one number; they are spread over its lines in proportion to what
 * was estimated. Optional extras and concealed work are left out of the hours: nobody noted whether they were done, and
 * the estimate carries only a share of them. Areas are those of rectangular zones with a length and a width. Null until a job is finished.
 */
export async function readPast(
  db: TenantDb,
  today: string,
): Promise<{ past: CompanyPast | null; finishedJobs: number }> {
  const [counted] = await db.sql<{ jobs: number }>`
    SELECT count(DISTINCT job_id) AS jobs FROM bookings
    WHERE company_id = ${db.companyId} AND finished_on > ${today}::date - make_interval(months => ${MONTHS_BACK})
      AND actual_hours > 0`;
  const finishedJobs = counted?.jobs ?? 0;
  if (finishedJobs === 0) return { past: null, finishedJobs };
  const hoursPerUnit = await db.sql<CompanyPast["hoursPerUnit"][number]>`
    WITH done AS (
      SELECT b.job_id, sum(b.actual_hours) AS hours FROM bookings b
      WHERE b.company_id = ${db.companyId} AND b.actual_hours > 0
        AND b.finished_on > ${today}::date - make_interval(months => ${MONTHS_BACK})
      GROUP BY b.job_id
    ), revised AS (
      SELECT DISTINCT ON (r.job_id) r.id, r.job_id, d.hours / r.hours AS ratio
      FROM done d JOIN revisions r ON r.company_id = ${db.companyId} AND r.job_id = d.job_id
      WHERE r.issued_at IS NOT NULL AND r.hours > 0 ORDER BY r.job_id, r.number DESC
    ), worked AS (
      SELECT r.job_id, l.component, l.action, l.unit, sum(l.hours) * min(r.ratio) / sum(l.quantity) AS hours
      FROM revised r JOIN scope_lines l ON l.company_id = ${db.companyId} AND l.revision_id = r.id
      WHERE l.by = 'us' AND l.hours > 0 AND l.alternate IS NULL AND l.allowance IS NULL
      GROUP BY r.job_id, l.component, l.action, l.unit
    )
    SELECT component, action, unit, count(*) AS jobs, round(avg(hours), 4)::text AS "meanHours",
           round(coalesce(stddev_samp(hours), 0), 4)::text AS "sdHours"
    FROM worked GROUP BY component, action, unit ORDER BY component, action, unit`;
  const pricePerSqft = await db.sql<CompanyPast["pricePerSqft"][number]>`
    WITH revised AS (
      SELECT DISTINCT ON (r.job_id) r.id, r.job_id
      FROM bookings b JOIN revisions r ON r.company_id = b.company_id AND r.job_id = b.job_id
      WHERE b.company_id = ${db.companyId} AND r.issued_at IS NOT NULL
        AND b.finished_on > ${today}::date - make_interval(months => ${MONTHS_BACK})
      ORDER BY r.job_id, r.number DESC
    ), priced AS (
      SELECT r.job_id, z.kind, sum(l.price_cents) / (z.length_ft * z.width_ft) AS cents
      FROM revised r
      JOIN scope_lines l ON l.company_id = ${db.companyId} AND l.revision_id = r.id
      JOIN zones z ON z.company_id = l.company_id AND z.id = l.zone_id
      WHERE l.by = 'us' AND l.alternate IS NULL AND z.length_ft > 0 AND z.width_ft > 0
        AND coalesce(z.geometry #>> '{outline,shape}', 'rectangle') = 'rectangle'
      GROUP BY r.job_id, z.id, z.kind, z.length_ft, z.width_ft HAVING sum(l.price_cents) > 0
    )
    SELECT kind AS "zoneKind", count(*) AS jobs,
           round(percentile_cont(0.1) WITHIN GROUP (ORDER BY cents))::bigint AS "p10Cents",
           round(percentile_cont(0.9) WITHIN GROUP (ORDER BY cents))::bigint AS "p90Cents"
    FROM priced GROUP BY kind ORDER BY kind`;
  return { past: { hoursPerUnit, pricePerSqft }, finishedJobs };
}
