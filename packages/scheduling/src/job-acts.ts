import { sayDate } from "@ledgerboard/contracts/dates";
import { formatMoney } from "@ledgerboard/contracts/money";
import { DERIVED_HOLDS, type Hold, words } from "@ledgerboard/contracts/vocabulary";
import {
  ACTS,
  type Act,
  isPriced,
  type JobView,
  openDraft,
  quoteExpired,
  quoteSignable,
  type StandingHold,
  type Verdict,
  workStarted,
} from "./job-facts.ts";

const STARTED = "Work has started, so the agreed scope and the booking stay as they are.";
const CLOSED = "The job is closed. Reopen it first.";
const FINISHED = "The work is finished. Only payments and refunds can still be recorded.";

/** Says why the act is refused and what to do instead; null when it is allowed. */
type Rule = (view: JobView) => string | null;

const RULES: Record<Act, Rule> = {
  schedule_visit: ({ facts }) =>
    facts.visitOpen
      ? `A ${words(facts.visitOpen.kind)} visit is already set for ${sayDate(facts.visitOpen.on)}. Move that one or record it.`
      : null,

  start_first_pass: ({ facts }) => {
    if (workStarted(facts)) return STARTED;
    const draft = openDraft(facts);
    if (draft === "first_pass") return "A first pass is already open. Go on with that one.";
    if (draft) return `The ${words(draft)} is still open. Issue it first.`;
    if (facts.firstPass === "issued")
      return "The first pass is already issued. Start a site review to change it.";
    return null;
  },

  start_site_review: ({ facts }) => {
    if (workStarted(facts)) return STARTED;
    if (facts.firstPass === "none") return "There is no first pass to review. Write and issue one first.";
    const draft = openDraft(facts);
    if (draft === "site_review") return "A site review is already open. Go on with that one.";
    return draft && `The ${words(draft)} is still open. Issue it first.`;
  },

  edit_revision: draftIsOpen,
  issue_revision: draftIsOpen,

  issue_quote: ({ facts, today }) => {
    if (workStarted(facts)) return STARTED;
    const draft = openDraft(facts);
    if (draft) return `The ${words(draft)} is still open. Issue it before the quote goes out.`;
    if (!isPriced(facts)) return "Nothing is priced yet. Write and issue a first pass.";
    if (facts.acceptance === "standing" && facts.quoteOnNewestRevision) {
      return "The customer has signed the quote on the newest revision.";
    }
    if (quoteSignable(facts, today))
      return "A quote on the newest revision is already out. Wait for the answer.";
    return null;
  },

  record_acceptance: ({ facts, today }) => {
    if (facts.acceptance === "standing") return "The customer has already signed.";
    if (facts.quote !== "open") return "No quote is out. Send one first.";
    if (!facts.quoteOnNewestRevision) return "The scope changed after this quote. Send a new one to sign.";
    if (facts.quoteExpiresOn && quoteExpired(facts, today)) {
      return `The quote ran out on ${sayDate(facts.quoteExpiresOn)}. Send a new one to sign.`;
    }
    return null;
  },

  decline_quote: ({ facts }) => {
    if (facts.acceptance === "standing")
      return "The customer has already signed. Close the job if it is called off.";
    return facts.quote === "open" ? null : "No quote is out, so there is none to decline.";
  },

  request_deposit: ({ facts }) => {
    if (facts.acceptance !== "standing") return "The customer has not signed. Ask for no money before that.";
    if (!facts.deposit) return null;
    if (facts.deposit.dueCents === 0) return "No deposit is due on this job.";
    return `A deposit of ${formatMoney(facts.deposit.dueCents)} has already been asked for.`;
  },

  // Money may still have to go back after a signature has been voided, so only a job never signed is refused.
  record_payment: ({ facts, stage }) =>
    facts.acceptance === "none" && !facts.deposit && stage !== "under_way" && stage !== "finished"
      ? "The customer has not signed. Take no money before that."
      : null,

  waive_variance: ({ facts }) =>
    facts.materialVarianceOpen ? null : "There is no material change waiting to be settled.",

  place_hold: () => null,

  book_crew: ({ facts, holds }) => {
    if (workStarted(facts)) return STARTED;
    if (facts.booking)
      return `A crew is already booked from ${sayDate(facts.booking.startOn)}. Move that booking.`;
    return settleFirst(holds.filter(({ hold }) => DERIVED.has(hold)));
  },

  move_booking: bookingNotStarted,
  cancel_booking: bookingNotStarted,

  start_work: ({ facts, holds }) => {
    if (!facts.booking) return "No crew is booked. Place a crew first.";
    if (facts.booking.started) return "Work has already started.";
    const draft = openDraft(facts);
    return settleFirst(holds) ?? (draft && `The ${words(draft)} is still open. Issue it before work starts.`);
  },

  finish_work: ({ facts }) => {
    if (!workStarted(facts)) return "Work has not started.";
    return facts.changeOrder === "draft" ? "The change order is still open. Issue it first." : null;
  },

  close_job: () => null,

  reopen_job: ({ stage }) => (stage === "closed" ? null : "The job is not closed."),
};

const DERIVED: ReadonlySet<Hold> = new Set(DERIVED_HOLDS);

const SETTLE: Record<Hold, string> = {
  unsigned: "get the quote signed",
  deposit_short: "collect the rest",
  cancellation_window_open: "wait until that day has passed",
  material_variance_unresolved: "have the changed quote signed or the change waived",
  permit: "lift the hold when the permit is there",
  materials_on_order: "lift the hold when the materials are there",
  customer_not_ready: "lift the hold when the customer is ready",
  weather: "lift the hold when the weather allows",
};

function settleFirst(holds: readonly StandingHold[]): string | null {
  return holds.length === 0 ? null : holds.map(({ hold, why }) => `${why}: ${SETTLE[hold]}.`).join(" ");
}

function draftIsOpen({ facts }: JobView): string | null {
  const draft = openDraft(facts);
  if (!draft) return "No draft is open. Start one first.";
  return workStarted(facts) && draft !== "change_order" ? STARTED : null;
}

function bookingNotStarted({ facts }: JobView): string | null {
  if (!facts.booking) return "No crew is booked.";
  return facts.booking.started ? STARTED : null;
}

function refusal(act: Act, view: JobView): string | null {
  if (view.stage === "closed" && act !== "reopen_job") return CLOSED;
  if (view.stage === "finished" && act !== "record_payment") return FINISHED;
  return RULES[act](view);
}

/** The verdict on every act. */
export function verdicts(view: JobView): Record<Act, Verdict> {
  const acts = {} as Record<Act, Verdict>;
  for (const act of ACTS) {
    const why = refusal(act, view);
    acts[act] = why === null ? { allowed: true } : { allowed: false, why };
  }
  return acts;
}
