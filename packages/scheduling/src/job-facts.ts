import type { Hold, PlacedHold, Role, Stage, VisitKind } from "@ledgerboard/contracts/vocabulary";

/** What is known of a job, read from what is stored. Stage, holds and acts follow from this and today's date. */
export interface JobFacts {
  /** Closed with a reason and not reopened since. */
  closed: boolean;
  hazardReported: boolean;
  /** A scheduled visit that has not happened. */
  visitOpen: { kind: VisitKind; on: string } | null;
  firstPass: "none" | "draft" | "issued";
  /** State of the newest site review. */
  siteReview: "none" | "draft" | "issued";
  /** State of the newest change order. No act starts one yet, but an open one stops others. */
  changeOrder: "none" | "draft" | "issued";
  /** Newest quote. An accepted one counts as open; expiry is decided from quoteExpiresOn and today. */
  quote: "none" | "open" | "superseded" | "declined";
  /** Last day on which the quote may be signed; null when it does not expire. */
  quoteExpiresOn: string | null;
  /** The newest quote was made from the newest issued revision. */
  quoteOnNewestRevision: boolean;
  acceptance: "none" | "standing" | "void";
  /** Last day of the right to cancel; null when it does not apply. */
  cancelUntil: string | null;
  /** Whole cents; null when no deposit has been asked for. dueCents 0 means the company asks none. */
  deposit: { dueCents: number; paidCents: number } | null;
  /** A material variance neither signed by the customer nor waived by the owner. */
  materialVarianceOpen: boolean;
  placedHolds: readonly PlacedHold[];
  /** The standing booking; a cancelled one is null. */
  booking: { startOn: string; endOn: string; started: boolean; finished: boolean } | null;
  /** Last day of the start window promised to the customer. */
  promisedTo: string | null;
}

/**
 * Everything a member can do to a job. `edit_revision` and `issue_revision` are about the open draft;
 * `place_hold` also lifts one; `record_payment` covers receipts, refunds and reversals.
 */
export const ACTS = [
  "schedule_visit",
  "start_first_pass",
  "start_site_review",
  "edit_revision",
  "issue_revision",
  "issue_quote",
  "record_acceptance",
  "decline_quote",
  "request_deposit",
  "record_payment",
  "waive_variance",
  "place_hold",
  "book_crew",
  "move_booking",
  "cancel_booking",
  "start_work",
  "finish_work",
  "close_job",
  "reopen_job",
] as const;
export type Act = (typeof ACTS)[number];

export type Verdict = { allowed: true } | { allowed: false; why: string };

export interface StandingHold {
  hold: Hold;
  why: string;
}

/** The one thing that moves the job on. `act` is null when there is nothing to do but wait. */
export interface NextAct {
  act: Act | null;
  owedBy: Role | "customer" | null;
  words: string;
}

export interface JobState {
  stage: Stage;
  holds: StandingHold[];
  acts: Record<Act, Verdict>;
  next: NextAct;
}

/** The facts with what has been worked out from them so far; what acts and the next act are decided on. */
export interface JobView {
  facts: JobFacts;
  today: string;
  stage: Stage;
  holds: readonly StandingHold[];
}

/** The quote's last day has passed. */
export function quoteExpired(facts: JobFacts, today: string): boolean {
  return facts.quote === "open" && facts.quoteExpiresOn !== null && facts.quoteExpiresOn < today;
}

/** A quote the customer could sign today: open, not expired, made from the newest revision. */
export function quoteSignable(facts: JobFacts, today: string): boolean {
  return facts.quote === "open" && facts.quoteOnNewestRevision && !quoteExpired(facts, today);
}

/** The kind of revision that is open as a draft, or null. */
export function openDraft(facts: JobFacts): "change_order" | "site_review" | "first_pass" | null {
  if (facts.changeOrder === "draft") return "change_order";
  if (facts.siteReview === "draft") return "site_review";
  return facts.firstPass === "draft" ? "first_pass" : null;
}

/** Some revision has been issued, so there is a priced scope to quote from. */
export function isPriced(facts: JobFacts): boolean {
  return facts.firstPass === "issued" || facts.siteReview === "issued" || facts.changeOrder === "issued";
}

export function workStarted(facts: JobFacts): boolean {
  return facts.booking?.started === true;
}
