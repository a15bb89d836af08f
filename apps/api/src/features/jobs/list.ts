import type { Input, jobs, Output, Stage } from "@ledgerboard/contracts";
import { NOTHING, part, type SqlPart, type TenantDb } from "@ledgerboard/database";
import { fromCursor, paginate, toCursor } from "../../cursor.ts";
import { containing } from "../search.ts";
import { type JobRecord, stateOf, toJobRow } from "./rows.ts";

type Query = Input<typeof jobs.listJobs>["query"];

/** What a list needs of a job; see JobRecord. */
const COLUMNS = part`id, version, number, title, customer_name, city, hazard, pinned_why, inquiry_on, promised_from,
  promised_to, probability_bp, closed_on, urgency, due_on, facts`;

/** The stage on a day: a quote that has run out no longer counts. */
const stageOn = (today: string): SqlPart => part`CASE
  WHEN stage = 'quoted' AND (facts->>'quoteExpiresOn')::date < ${today}::date THEN facts->>'stageWithoutQuote'
  ELSE stage END`;

/** Filters are written only where somebody filters, so that the plain list stays a walk along its index. */
const narrowed = ({ stage, search }: Query, today: string): SqlPart => part`
  ${stage === undefined ? NOTHING : part`AND ${stageOn(today)} = ${stage}`}
  ${search === undefined ? NOTHING : part`AND search_text LIKE ${containing(search)}`}`;

type Pressing = readonly [urgency: number, dueOn: string, inquiryOn: string, id: string];
/** Before every job: the start of the list is a place in it like any other. */
const FIRST: Pressing = [-1, "0001-01-01", "0001-01-01", "00000000-0000-0000-0000-000000000000"];

/** The most pressing first; the order is an index, so a page costs the same however long the list is. */
function pressing(db: TenantDb, query: Query, today: string, after: Pressing): Promise<JobRecord[]> {
  const [urgency, dueOn, inquiryOn, id] = after;
  return db.sql<JobRecord>`
    SELECT ${COLUMNS} FROM job_rows
    WHERE company_id = ${db.companyId} AND list_view = ${query.view}
      AND (urgency, due_on, inquiry_on, id) > (${urgency}::int, ${dueOn}::date, ${inquiryOn}::date, ${id}::uuid)
      ${narrowed(query, today)}
    ORDER BY urgency, due_on, inquiry_on, id LIMIT ${query.limit + 1}`;
}

/** The newest first, for what is over or for everything. */
function newest(db: TenantDb, query: Query, today: string, after: string): Promise<JobRecord[]> {
  return db.sql<JobRecord>`
    SELECT ${COLUMNS} FROM job_rows
    WHERE company_id = ${db.companyId} AND id < ${after}::uuid
      ${query.view === "all" ? NOTHING : part`AND list_view = ${query.view}`} ${narrowed(query, today)}
    ORDER BY id DESC LIMIT ${query.limit + 1}`;
}

/** After every job. */
const LAST = "ffffffff-ffff-ffff-ffff-ffffffffffff";
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
    const rows = await newest(db, query, today, fromCursor<[string]>(secret, list, query.after)?.[0] ?? LAST);
    const { items, next } = paginate(rows, query.limit, (last) => toCursor(secret, list, [last.id]));
    return { items: items.map((row) => toJobRow(row, stateOf(row, today), today)), next };
  }
  const rows = await pressing(db, query, today, fromCursor<Pressing>(secret, list, query.after) ?? FIRST);
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
    SELECT ${stageOn(today)} AS stage,
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
