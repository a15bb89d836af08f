import type { Input, jobs, Output, Stage } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { fromCursor, paginate, toCursor } from "../../cursor.ts";
import { type JobRecord, stateOf, toJobRow } from "./rows.ts";

type Query = Input<typeof jobs.listJobs>["query"];

const like = (search: string | undefined): string | null =>
  search === undefined ? null : `%${search.toLowerCase().replace(/[\\%_]/g, "\\$&")}%`;

/** The most pressing first; the order is an index, so a page costs the same however long the list is. */
async function pressing(
  db: TenantDb,
  { view, stage, search, limit }: Query,
  today: string,
  after: readonly [urgency: number, dueOn: string, inquiryOn: string, id: string] | null,
): Promise<JobRecord[]> {
  const [urgency, dueOn, inquiryOn, id] = after ?? [null, null, null, null];
  const pattern = like(search);
  return db.sql<JobRecord>`
    SELECT j.id, j.version, j.number, j.title, coalesce(m.name, c.name) AS customer_name, p.city, j.hazard, j.pinned_why,
           j.inquiry_on, j.promised_from, j.promised_to, j.probability_bp, j.closed_on, j.urgency, j.due_on, j.facts
    FROM jobs j
    JOIN customers c ON c.company_id = j.company_id AND c.id = j.customer_id
    LEFT JOIN customers m ON m.company_id = c.company_id AND m.id = c.merged_into_id
    JOIN properties p ON p.company_id = j.company_id AND p.id = j.property_id
    WHERE j.company_id = ${db.companyId} AND j.list_view = ${view}
      AND (${urgency}::int IS NULL OR (j.urgency, j.due_on, j.inquiry_on, j.id) > (${urgency}::int, ${dueOn}::date, ${inquiryOn}::date, ${id}::uuid))
      AND (${stage ?? null}::text IS NULL OR ${stage ?? null} = CASE
            WHEN j.stage = 'quoted' AND (j.facts->>'quoteExpiresOn')::date < ${today}::date THEN j.facts->>'stageWithoutQuote'
            ELSE j.stage END)
      AND (${pattern}::text IS NULL OR lower(j.number || ' ' || j.title || ' ' || coalesce(m.name, c.name) || ' ' || p.city) LIKE ${pattern})
    ORDER BY j.urgency, j.due_on, j.inquiry_on, j.id LIMIT ${limit + 1}`;
}

/** The newest first, for what is over or for everything. */
async function newest(
  db: TenantDb,
  { view, stage, search, limit }: Query,
  today: string,
  after: readonly [id: string] | null,
): Promise<JobRecord[]> {
  const pattern = like(search);
  const only = view === "all" ? null : view;
  return db.sql<JobRecord>`
    SELECT j.id, j.version, j.number, j.title, coalesce(m.name, c.name) AS customer_name, p.city, j.hazard, j.pinned_why,
           j.inquiry_on, j.promised_from, j.promised_to, j.probability_bp, j.closed_on, j.urgency, j.due_on, j.facts
    FROM jobs j
    JOIN customers c ON c.company_id = j.company_id AND c.id = j.customer_id
    LEFT JOIN customers m ON m.company_id = c.company_id AND m.id = c.merged_into_id
    JOIN properties p ON p.company_id = j.company_id AND p.id = j.property_id
    WHERE j.company_id = ${db.companyId} AND (${only}::text IS NULL OR j.list_view = ${only})
      AND (${after?.[0] ?? null}::uuid IS NULL OR j.id < ${after?.[0] ?? null}::uuid)
      AND (${stage ?? null}::text IS NULL OR ${stage ?? null} = CASE
            WHEN j.stage = 'quoted' AND (j.facts->>'quoteExpiresOn')::date < ${today}::date THEN j.facts->>'stageWithoutQuote'
            ELSE j.stage END)
      AND (${pattern}::text IS NULL OR lower(j.number || ' ' || j.title || ' ' || coalesce(m.name, c.name) || ' ' || p.city) LIKE ${pattern})
    ORDER BY j.id DESC LIMIT ${limit + 1}`;
}

const NEWEST_FIRST = new Set(["finished", "closed", "all"]);

/** One page of a view of the jobs. */
export async function listJobs(
  db: TenantDb,
  query: Query,
  today: string,
  secret: string,
): Promise<Output<typeof jobs.listJobs>> {
  const list = `jobs/${query.view}/${query.stage ?? ""}/${query.search ?? ""}`;
  if (NEWEST_FIRST.has(query.view)) {
    const rows = await newest(db, query, today, fromCursor<[string]>(secret, list, query.after));
    const { items, next } = paginate(rows, query.limit, (last) => toCursor(secret, list, [last.id]));
    return { items: items.map((row) => toJobRow(row, stateOf(row, today), today)), next };
  }
  const after = fromCursor<[number, string, string, string]>(secret, list, query.after);
  const rows = await pressing(db, query, today, after);
  const { items, next } = paginate(rows, query.limit, (last) =>
    toCursor(secret, list, [last.urgency, last.due_on, last.inquiry_on, last.id]),
  );
  return { items: items.map((row) => toJobRow(row, stateOf(row, today), today)), next };
}

/** The head line of the waiting list, in one statement. */
export async function countJobs(db: TenantDb, today: string): Promise<Output<typeof jobs.countJobs>> {
  const stages = await db.sql<{
    stage: Stage;
    count: number;
    late: number;
    hazards: number;
    material: number;
  }>`
    SELECT CASE WHEN j.stage = 'quoted' AND (j.facts->>'quoteExpiresOn')::date < ${today}::date
                THEN j.facts->>'stageWithoutQuote' ELSE j.stage END AS stage,
           count(*) AS count,
           count(*) FILTER (WHERE j.promised_to < ${today}::date) AS late,
           count(*) FILTER (WHERE j.hazard IS NOT NULL) AS hazards,
           count(*) FILTER (WHERE (j.facts->>'materialVarianceOpen')::boolean) AS material
    FROM jobs j WHERE j.company_id = ${db.companyId} GROUP BY 1 ORDER BY 1`;
  const [crews] = await db.sql<{ crews: number; bookedTo: string | null }>`
    SELECT (SELECT count(*) FROM crews WHERE company_id = ${db.companyId} AND active) AS crews,
           (SELECT max(end_on) FROM bookings WHERE company_id = ${db.companyId} AND cancelled_at IS NULL
              AND finished_on IS NULL) AS "bookedTo"`;
  const over = new Set<Stage>(["under_way", "finished", "closed"]);
  const pending = stages.filter((s) => !over.has(s.stage));
  const sum = (pick: (s: (typeof stages)[number]) => number, of = pending) =>
    of.reduce((n, s) => n + pick(s), 0);
  return {
    stages: stages.map(({ stage, count }) => ({ stage, count })),
    waiting: sum(
      (s) => s.count,
      pending.filter((s) => s.stage !== "booked"),
    ),
    late: sum((s) => s.late),
    hazards: sum((s) => s.hazards),
    materialOpen: sum((s) => s.material),
    crews: crews?.crews ?? 0,
    bookedTo: crews?.bookedTo ?? null,
  };
}
