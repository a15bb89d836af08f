import type { Stage } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { type Act, deriveJob, type JobFacts, type JobState } from "@ledgerboard/scheduling";
import { illegalMove, notFound } from "../../problem.ts";

/** What is kept with a job: the facts its stage and holds follow from, and what lists show beside them. */
export interface StoredFacts extends JobFacts {
  /** Price and hours of the newest issued revision, or of the draft while none is issued. */
  priceCents: number | null;
  hours: string | null;
  startOn: string | null;
  endOn: string | null;
  finishedOn: string | null;
  depositDueOn: string | null;
  /** The first day each stage was reached. */
  passed: { stage: Stage; on: string }[];
  /** The stage this job falls back to when its open quote runs out. */
  stageWithoutQuote: Stage;
}

interface FactsRow {
  closed: boolean;
  hazard_reported: boolean;
  promised_to: string | null;
  timezone: string;
  visit: JobFacts["visitOpen"];
  revisions: { id: string; kind: string; issued: boolean; priceCents: number; hours: string; on: string }[];
  quote: { id: string; revisionId: string; expiresOn: string; ending: string | null } | null;
  first_quoted_on: string | null;
  acceptance: { quoteId: string; signedOn: string; cancelUntil: string | null; void: boolean } | null;
  deposit: { quoteId: string; dueCents: number; dueOn: string } | null;
  paid_cents: number;
  variance: { toRevisionId: string; waived: boolean; at: string } | null;
  placed_holds: JobFacts["placedHolds"];
  booking: {
    startOn: string;
    endOn: string;
    bookedOn: string;
    startedOn: string | null;
    finishedOn: string | null;
  } | null;
}

/** Reads every fact of one job in one statement. */
async function readFacts(db: TenantDb, jobId: string): Promise<FactsRow> {
  const [row] = await db.sql<FactsRow>`
    SELECT j.closed_on IS NOT NULL AS closed, j.hazard IS NOT NULL AS hazard_reported, j.promised_to, c.timezone,
      (SELECT json_build_object('kind', v.kind, 'on', (v.starts_at AT TIME ZONE c.timezone)::date)
         FROM visits v WHERE v.company_id = j.company_id AND v.job_id = j.id AND v.state = 'scheduled'
         ORDER BY v.starts_at LIMIT 1) AS visit,
      (SELECT coalesce(json_agg(json_build_object('id', r.id, 'kind', r.kind, 'issued', r.issued_at IS NOT NULL,
              'priceCents', r.price_cents, 'hours', trim_scale(r.hours)::text,
              'on', (r.created_at AT TIME ZONE c.timezone)::date) ORDER BY r.number), '[]')
         FROM revisions r WHERE r.company_id = j.company_id AND r.job_id = j.id) AS revisions,
      (SELECT json_build_object('id', q.id, 'revisionId', q.revision_id, 'expiresOn', q.expires_on, 'ending', e.kind)
         FROM quotes q LEFT JOIN quote_endings e ON e.company_id = q.company_id AND e.quote_id = q.id
         WHERE q.company_id = j.company_id AND q.job_id = j.id ORDER BY q.id DESC LIMIT 1) AS quote,
      (SELECT min(q.issued_on) FROM quotes q WHERE q.company_id = j.company_id AND q.job_id = j.id) AS first_quoted_on,
      (SELECT json_build_object('quoteId', a.quote_id, 'signedOn', a.signed_on, 'cancelUntil', a.cancel_until,
              'void', v.id IS NOT NULL)
         FROM acceptances a LEFT JOIN acceptance_voids v ON v.company_id = a.company_id AND v.acceptance_id = a.id
         WHERE a.company_id = j.company_id AND a.job_id = j.id ORDER BY a.id DESC LIMIT 1) AS acceptance,
      (SELECT json_build_object('quoteId', d.quote_id, 'dueCents', d.amount_cents, 'dueOn', d.due_on)
         FROM deposit_requests d WHERE d.company_id = j.company_id AND d.job_id = j.id ORDER BY d.id DESC LIMIT 1) AS deposit,
      (SELECT coalesce(sum(p.amount_cents), 0) FROM payments p WHERE p.company_id = j.company_id AND p.job_id = j.id) AS paid_cents,
      (SELECT json_build_object('toRevisionId', v.to_revision_id, 'waived', w.id IS NOT NULL, 'at', v.created_at)
         FROM variances v LEFT JOIN variance_waivers w ON w.company_id = v.company_id AND w.variance_id = v.id
         WHERE v.company_id = j.company_id AND v.job_id = j.id AND v.material ORDER BY v.id DESC LIMIT 1) AS variance,
      (SELECT array_agg(DISTINCT h.hold) FROM holds h
         WHERE h.company_id = j.company_id AND h.job_id = j.id AND h.lifted_at IS NULL) AS placed_holds,
      (SELECT json_build_object('startOn', b.start_on, 'endOn', b.end_on, 'startedOn', b.started_on,
              'finishedOn', b.finished_on, 'bookedOn', (b.created_at AT TIME ZONE c.timezone)::date)
         FROM bookings b WHERE b.company_id = j.company_id AND b.job_id = j.id AND b.cancelled_at IS NULL) AS booking
    FROM jobs j JOIN companies c ON c.company_id = j.company_id
    WHERE j.company_id = ${db.companyId} AND j.id = ${jobId}`;
  if (!row) throw notFound("job");
  return row;
}

const newestOf = (row: FactsRow, kind: string): "none" | "draft" | "issued" => {
  const newest = row.revisions.findLast((r) => r.kind === kind);
  return newest ? (newest.issued ? "issued" : "draft") : "none";
};

/** A material change is settled by a signature on the changed (or a later) revision, or by the owner's waiver. */
function materialOpen(row: FactsRow): boolean {
  if (!row.variance || row.variance.waived) return false;
  const signed =
    row.acceptance && !row.acceptance.void && row.quote?.id === row.acceptance.quoteId
      ? row.quote.revisionId
      : null;
  if (!signed) return true;
  const order = row.revisions.map((r) => r.id);
  return order.indexOf(signed) < order.indexOf(row.variance.toRevisionId);
}

function passedStages(row: FactsRow): StoredFacts["passed"] {
  const first = (kind: string) => row.revisions.find((r) => r.kind === kind)?.on ?? null;
  const days: [Stage, string | null][] = [
    ["first_pass", first("first_pass")],
    ["site_review", first("site_review")],
    ["quoted", row.first_quoted_on],
    ["accepted", row.acceptance && !row.acceptance.void ? row.acceptance.signedOn : null],
    ["booked", row.booking?.bookedOn ?? null],
    ["under_way", row.booking?.startedOn ?? null],
    ["finished", row.booking?.finishedOn ?? null],
  ];
  return days.flatMap(([stage, on]) => (on ? [{ stage, on }] : []));
}

function toFacts(row: FactsRow, today: string): StoredFacts {
  const issued = row.revisions.findLast((r) => r.issued);
  const shown = issued ?? row.revisions.at(-1) ?? null;
  const signed = row.acceptance && !row.acceptance.void ? row.acceptance : null;
  const deposit = row.deposit && (!signed || row.deposit.quoteId === signed.quoteId) ? row.deposit : null;
  const facts: JobFacts = {
    closed: row.closed,
    hazardReported: row.hazard_reported,
    visitOpen: row.visit,
    firstPass: newestOf(row, "first_pass"),
    siteReview: newestOf(row, "site_review"),
    changeOrder: newestOf(row, "change_order"),
    quote: !row.quote
      ? "none"
      : row.quote.ending === null
        ? "open"
        : row.quote.ending === "declined"
          ? "declined"
          : "superseded",
    quoteExpiresOn: row.quote?.expiresOn ?? null,
    quoteOnNewestRevision: row.quote !== null && row.quote.revisionId === issued?.id,
    acceptance: signed ? "standing" : row.acceptance ? "void" : "none",
    cancelUntil: signed?.cancelUntil ?? null,
    deposit: deposit && { dueCents: deposit.dueCents, paidCents: row.paid_cents },
    materialVarianceOpen: materialOpen(row),
    placedHolds: row.placed_holds ?? [],
    booking: row.booking && {
      startOn: row.booking.startOn,
      endOn: row.booking.endOn,
      started: row.booking.startedOn !== null,
      finished: row.booking.finishedOn !== null,
    },
    promisedTo: row.promised_to,
  };
  return {
    ...facts,
    priceCents: shown?.priceCents ?? null,
    hours: shown?.hours ?? null,
    startOn: row.booking?.startedOn ?? row.booking?.startOn ?? null,
    endOn: row.booking?.endOn ?? null,
    finishedOn: row.booking?.finishedOn ?? null,
    depositDueOn: deposit?.dueOn ?? null,
    passed: passedStages(row),
    stageWithoutQuote: deriveJob({ ...facts, quote: "none" }, today).stage,
  };
}

export interface JobInHand {
  jobId: string;
  facts: StoredFacts;
  state: JobState;
}

/** Takes a job in hand for a change: nobody else changes it until this transaction ends. Not found is a problem. */
export async function lockJob(db: TenantDb, jobId: string, today: string): Promise<JobInHand> {
  await db.sql`SELECT id FROM jobs WHERE company_id = ${db.companyId} AND id = ${jobId} FOR UPDATE`;
  const facts = toFacts(await readFacts(db, jobId), today);
  return { jobId, facts, state: deriveJob(facts, today) };
}

/** Refuses, with the plain reason, an act that the job's state does not allow. */
export function requireAct(job: JobInHand, act: Act): void {
  const verdict = job.state.acts[act];
  if (!verdict.allowed) throw illegalMove(verdict.why);
}

/** Lock and check in one step: what nearly every act begins with. */
export async function takeJob(db: TenantDb, jobId: string, today: string, act: Act): Promise<JobInHand> {
  const job = await lockJob(db, jobId, today);
  requireAct(job, act);
  return job;
}

/** Derives stage and facts anew and keeps them with the job. Every act on a job ends with this. */
export async function refreshJob(db: TenantDb, jobId: string, today: string): Promise<JobInHand> {
  const facts = toFacts(await readFacts(db, jobId), today);
  const state = deriveJob(facts, today);
  await db.sql`UPDATE jobs SET stage = ${state.stage}, facts = ${JSON.stringify(facts)}
    WHERE company_id = ${db.companyId} AND id = ${jobId}`;
  return { jobId, facts, state };
}
