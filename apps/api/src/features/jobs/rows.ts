import type { jobs, Stage } from "@ledgerboard/contracts";
import { daysBetween } from "@ledgerboard/contracts/dates";
import { deriveJob, type JobState } from "@ledgerboard/scheduling";
import { usd } from "../money.ts";
import type { StoredFacts } from "./facts.ts";

/** A job as lists read it from the database. */
export interface JobRecord {
  id: string;
  version: number;
  number: string;
  title: string;
  customer_name: string;
  city: string;
  hazard: string | null;
  pinned_why: string | null;
  inquiry_on: string;
  promised_from: string | null;
  promised_to: string | null;
  probability_bp: number | null;
  closed_on: string | null;
  urgency: number;
  due_on: string;
  facts: StoredFacts;
}

const derived = new Map<string, JobState>();
const KEPT = 20_000;

/**
 * The state of a stored job on a day. A job's version changes with its facts, so (id, version, day) names the
 * answer for good and a list that is asked for again need not decide anew. Only for reads: a write that rolls back
 * would leave the answer of a version that never was.
 */
export function stateOf(record: Pick<JobRecord, "id" | "version" | "facts">, today: string): JobState {
  const key = `${record.id}/${record.version}/${today}`;
  let state = derived.get(key);
  if (!state) {
    state = deriveJob(record.facts, today);
    if (derived.size >= KEPT) derived.clear();
    derived.set(key, state);
  }
  return state;
}

function waited(record: JobRecord, today: string): number {
  return Math.max(0, daysBetween(record.inquiry_on, record.facts.finishedOn ?? record.closed_on ?? today));
}

/** Days past the promised window of a job whose work has not started. */
function late(record: JobRecord, stage: Stage, today: string): number {
  if (!record.promised_to || stage === "under_way" || stage === "finished" || stage === "closed") return 0;
  return Math.max(0, daysBetween(record.promised_to, today));
}

/** A stored job as lists show it. */
export function toJobRow(record: JobRecord, state: JobState, today: string): jobs.JobRow {
  const { facts } = record;
  return {
    id: record.id,
    number: record.number,
    title: record.title,
    customerName: record.customer_name,
    city: record.city,
    stage: state.stage,
    hazard: record.hazard,
    pinnedWhy: record.pinned_why,
    inquiryOn: record.inquiry_on,
    waitedDays: waited(record, today),
    daysLate: late(record, state.stage, today),
    passed: facts.passed,
    promised:
      record.promised_from && record.promised_to
        ? { from: record.promised_from, to: record.promised_to, probabilityBp: record.probability_bp }
        : null,
    startOn: facts.startOn,
    price: facts.priceCents === null ? null : usd(facts.priceCents),
    holds: state.holds,
    next: state.next,
    version: record.version,
  };
}
