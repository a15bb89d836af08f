import { addDays, daysBetween, sayDate } from "@ledgerboard/contracts/dates";
import { formatMoney } from "@ledgerboard/contracts/money";
import {
  PLACED_HOLDS,
  type PlacedHold,
  type Role,
  type VisitKind,
  words,
} from "@ledgerboard/contracts/vocabulary";
import {
  type Act,
  isPriced,
  type JobFacts,
  type JobView,
  type NextAct,
  openDraft,
  quoteExpired,
  quoteSignable,
  workStarted,
} from "./job-facts.ts";

const VISITOR: Record<VisitKind, Role> = {
  first_look: "sales",
  site_review: "estimator",
  follow_up: "sales",
};

const LIFTING: Record<PlacedHold, { owedBy: Role | "customer"; task: string }> = {
  permit: { owedBy: "owner", task: "get the permit" },
  materials_on_order: { owedBy: "scheduler", task: "get the ordered materials in" },
  customer_not_ready: { owedBy: "customer", task: "say when the crew may come" },
  weather: { owedBy: "scheduler", task: "wait for the weather, then lift the hold" },
};

/** Who owes what next, in the words of the waiting list. An act that is named is always an allowed one. */
export function nextAct(view: JobView): NextAct {
  const { facts, stage } = view;
  if (stage === "finished") return wait("The work is finished");
  if (stage === "closed") return wait("The job is closed");
  if (workStarted(facts)) return whileUnderWay(view);
  return finishDraft(facts) ?? (facts.acceptance === "standing" ? afterSigning(view) : beforeSigning(view));
}

function owe(owedBy: Role | "customer", act: Act | null, task: string): NextAct {
  const who = words(owedBy);
  return { act, owedBy, words: `${who.charAt(0).toUpperCase()}${who.slice(1)}: ${task}` };
}

function wait(text: string): NextAct {
  return { act: null, owedBy: null, words: text };
}

function finishDraft(facts: JobFacts): NextAct | null {
  const draft = openDraft(facts);
  if (!draft) return null;
  return owe(draft === "first_pass" ? "sales" : "estimator", "issue_revision", `finish the ${words(draft)}`);
}

function whileUnderWay({ facts, today }: JobView): NextAct {
  if (facts.changeOrder === "draft") return owe("estimator", "issue_revision", "finish the change order");
  if (facts.acceptance !== "standing" && quoteSignable(facts, today)) return signQuote(facts);
  if (facts.materialVarianceOpen) return owe("owner", "waive_variance", "settle the material change");
  return owe("lead_hand", "finish_work", "finish the work");
}

function beforeSigning({ facts, today }: JobView): NextAct {
  if (quoteSignable(facts, today)) return signQuote(facts);
  if (!isPriced(facts)) return lookAndPrice(facts, today);
  if (facts.quote === "declined" && facts.quoteOnNewestRevision) {
    return owe("sales", "close_job", "the customer declined; close the job or offer something else");
  }
  if (facts.quoteExpiresOn && quoteExpired(facts, today) && facts.quoteOnNewestRevision) {
    return owe(
      "sales",
      "issue_quote",
      `send the quote again, it ran out on ${sayDate(facts.quoteExpiresOn)}`,
    );
  }
  if (facts.quote !== "none" || facts.acceptance === "void")
    return owe("sales", "issue_quote", "send the changed quote");
  if (facts.siteReview === "issued" || facts.firstPass !== "issued")
    return owe("sales", "issue_quote", "send the quote");
  return reviewBeforeQuote(facts, today);
}

/** Nothing has been priced: somebody has to look and write the first pass. */
function lookAndPrice(facts: JobFacts, today: string): NextAct {
  const open = facts.visitOpen;
  const task = open ? visit(open, today) : "look and write the first pass";
  return owe(open ? VISITOR[open.kind] : "sales", "start_first_pass", hazard(facts) + task);
}

function reviewBeforeQuote(facts: JobFacts, today: string): NextAct {
  return facts.visitOpen
    ? owe("estimator", "start_site_review", hazard(facts) + visit(facts.visitOpen, today))
    : owe("estimator", "schedule_visit", `${hazard(facts)}visit before the quote goes out`);
}

function hazard(facts: JobFacts): string {
  return facts.hazardReported ? "hazard reported, " : "";
}

function visit(open: { kind: VisitKind; on: string }, today: string): string {
  const due = open.on < today ? `was due on ${sayDate(open.on)}` : `on ${sayDate(open.on)}`;
  return `${words(open.kind)} visit ${due}`;
}

function signQuote(facts: JobFacts): NextAct {
  const changed = facts.acceptance === "void" ? "changed quote" : "quote";
  const by = facts.quoteExpiresOn ? ` by ${sayDate(facts.quoteExpiresOn)}` : "";
  return owe("customer", "record_acceptance", `sign the ${changed}${by}`);
}

/** Signed: money and promises first, then a crew, then what is left in the way of the start. */
function afterSigning({ facts, today, holds }: JobView): NextAct {
  const stands = new Set(holds.map(({ hold }) => hold));
  if (facts.materialVarianceOpen) {
    return facts.quoteOnNewestRevision || !isPriced(facts)
      ? owe("owner", "waive_variance", "settle the material change")
      : owe("sales", "issue_quote", "send the changed quote");
  }
  if (!facts.deposit && !facts.booking) return owe("sales", "request_deposit", "ask for the deposit");
  if (facts.deposit && stands.has("deposit_short")) {
    const { dueCents, paidCents } = facts.deposit;
    return owe("customer", "record_payment", `pay ${formatMoney(dueCents - paidCents)} of the deposit`);
  }
  if (facts.visitOpen?.kind === "site_review" && facts.firstPass === "issued") {
    return owe("estimator", "start_site_review", visit(facts.visitOpen, today));
  }
  if (facts.cancelUntil && stands.has("cancellation_window_open")) {
    const free = sayDate(addDays(facts.cancelUntil, 1));
    return wait(
      `Right to cancel still open: ${facts.booking ? "work may start" : "a crew may be placed"} from ${free}`,
    );
  }
  if (!facts.booking) return owe("scheduler", "book_crew", `place a crew${promise(facts, today)}`);
  const placed = PLACED_HOLDS.find((hold) => stands.has(hold));
  if (placed) return owe(LIFTING[placed].owedBy, "place_hold", LIFTING[placed].task);
  const late = facts.booking.startOn < today ? "was due to start on" : "start work on";
  return owe("lead_hand", "start_work", `${late} ${sayDate(facts.booking.startOn)}`);
}

function promise(facts: JobFacts, today: string): string {
  if (!facts.promisedTo) return "";
  const over = daysBetween(facts.promisedTo, today);
  const late = over > 0 ? `, ${over} ${over === 1 ? "day" : "days"} past it` : "";
  return `, start promised by ${sayDate(facts.promisedTo)}${late}`;
}
