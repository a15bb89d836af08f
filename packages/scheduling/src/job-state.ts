import { sayDate } from "@ledgerboard/contracts/dates";
import { formatMoney } from "@ledgerboard/contracts/money";
import { PLACED_HOLDS, type PlacedHold, type Stage } from "@ledgerboard/contracts/vocabulary";
import { verdicts } from "./job-acts.ts";
import { type JobFacts, type JobState, quoteSignable, type StandingHold } from "./job-facts.ts";
import { nextAct } from "./job-next.ts";

const PLACED_WORDS: Record<PlacedHold, string> = {
  permit: "Waiting for the permit",
  materials_on_order: "Materials are on order",
  customer_not_ready: "The customer is not ready",
  weather: "Waiting for the weather",
};

/**
 * Where a job stands: its stage, the holds on it, which acts are allowed, and the next act with who owes
 * it. Every screen, report and route decides from this one function. `today` is the local date at the
 * company. Depends on nothing but its arguments. Throws RangeError when a date it has to print is not one.
 */
export function deriveJob(facts: JobFacts, today: string): JobState {
  sayDate(today); // refuses a bad date before it is compared with anything
  const stage = stageOf(facts, today);
  const holds = stage === "closed" || stage === "finished" ? [] : holdsOn(facts, today);
  const view = { facts, today, stage, holds };
  return { stage, holds, acts: verdicts(view), next: nextAct(view) };
}

/** The first that holds, from the far end of the job backwards. A finished job stays finished. */
function stageOf(facts: JobFacts, today: string): Stage {
  if (facts.booking?.finished) return "finished";
  if (facts.closed) return "closed";
  if (facts.booking?.started) return "under_way";
  if (facts.booking) return "booked";
  if (facts.acceptance === "standing") return "accepted";
  if (quoteSignable(facts, today)) return "quoted";
  if (facts.siteReview !== "none") return "site_review";
  if (facts.firstPass !== "none") return "first_pass";
  return "inquiry";
}

function holdsOn(facts: JobFacts, today: string): StandingHold[] {
  const holds: StandingHold[] = [];
  if (facts.acceptance !== "standing") {
    const why =
      facts.acceptance === "void"
        ? "The customer's signature no longer stands"
        : "The customer has not signed";
    holds.push({ hold: "unsigned", why });
  }
  if (facts.deposit && facts.deposit.paidCents < facts.deposit.dueCents) {
    const { dueCents, paidCents } = facts.deposit;
    const why = `Deposit short by ${formatMoney(dueCents - paidCents)} of ${formatMoney(dueCents)}`;
    holds.push({ hold: "deposit_short", why });
  }
  if (facts.cancelUntil !== null && today <= facts.cancelUntil) {
    holds.push({
      hold: "cancellation_window_open",
      why: `Right to cancel runs to ${sayDate(facts.cancelUntil)}`,
    });
  }
  if (facts.materialVarianceOpen) {
    const why = "A material change is neither signed by the customer nor waived by the owner";
    holds.push({ hold: "material_variance_unresolved", why });
  }
  for (const hold of PLACED_HOLDS) {
    if (facts.placedHolds.includes(hold)) holds.push({ hold, why: PLACED_WORDS[hold] });
  }
  return holds;
}
