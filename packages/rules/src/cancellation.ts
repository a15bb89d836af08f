import { addDays, weekday } from "@ledgerboard/contracts/dates";
import type { SigningPlace } from "@ledgerboard/contracts/vocabulary";
import rule from "../../../shared/cancellation-rule.json" with { type: "json" };
import { holidays } from "./holidays.ts";
import { CHECK_LOCAL_LAW, requireCents } from "./terms.ts";

export interface Cancellation {
  /** Whether the federal right to cancel covers this contract. */
  applies: boolean;
  /** Why it does or does not, in plain words. */
  rule: string;
  /** Last day the buyer may cancel, to midnight: the day to print and to enforce. Null when it does not apply. */
  lastDay: string | null;
  /** The last day when only statutory holidays are skipped, not the days they are observed on. */
  literalLastDay: string | null;
  /** Days that did not count towards `lastDay`. */
  skipped: { on: string; why: string }[];
  /** The two ways to count give different days, and no ruling on it was found. */
  unsure: boolean;
  source: string;
  asOf: string;
  checkLocalLaw: typeof CHECK_LOCAL_LAW;
}

/**
 * The federal right to cancel a sale made away from the seller's own place of business.
 *
 * `signedOn` is the local date of signing, 2021 to 2198; `signedAt` where the customer signed;
 * `contractCents` the whole price in cents. Counts three business days after the day of signing: every day
 * but Sundays and federal holidays. Where a holiday is observed on another day both days are skipped, since
 * 16 CFR 429.1(c) forbids only a date that is too early.
 *
 * A remote signature counts as one at home: the exception for sales by mail or telephone ends with the
 * first site visit. State law may give longer. Source: 16 CFR 429.0 and 429.1, as kept with its doubts in
 * shared/cancellation-rule.json. Throws RangeError on a bad date or amount.
 */
export function cancellation(contract: {
  signedOn: string;
  signedAt: SigningPlace;
  contractCents: number;
}): Cancellation {
  const { signedOn, signedAt } = contract;
  const contractCents = requireCents(contract.contractCents, "The contract price");
  const conservative = countBusinessDays(signedOn, true);
  const literal = countBusinessDays(signedOn, false);
  const terms = { source: rule.source, asOf: String(rule.as_of), checkLocalLaw: CHECK_LOCAL_LAW };
  const reason = whyNot(signedAt, contractCents);
  if (reason !== null) {
    const none = { lastDay: null, literalLastDay: null, skipped: [], unsure: false };
    return { applies: false, rule: reason, ...none, ...terms };
  }
  return {
    applies: true,
    rule: `The buyer may cancel until midnight of business day ${rule.business_days} after signing. Saturdays count; Sundays and federal holidays do not.`,
    lastDay: conservative.lastDay,
    literalLastDay: literal.lastDay,
    skipped: conservative.skipped,
    unsure: conservative.lastDay !== literal.lastDay,
    ...terms,
  };
}

function whyNot(signedAt: SigningPlace, contractCents: number): string | null {
  if (signedAt === "office") return "Signed at the contractor's own place of business.";
  // The lower of the two federal limits: it is never wrong to give the right.
  if (contractCents < rule.threshold_cents.at_home) return "The price is below the federal limit of $25.";
  return null;
}

function countBusinessDays(signedOn: string, skipObserved: boolean) {
  const skipped: { on: string; why: string }[] = [];
  let day = signedOn;
  for (let counted = 0; counted < rule.business_days; ) {
    day = addDays(day, 1);
    const why = notABusinessDay(day, skipObserved);
    if (why === null) counted += 1;
    else skipped.push({ on: day, why });
  }
  return { lastDay: day, skipped };
}

function notABusinessDay(day: string, skipObserved: boolean): string | null {
  if (weekday(day) === 7) return "Sunday";
  const year = Number(day.slice(0, 4));
  // New Year's Day of the next year can be observed on 31 December.
  const near = day.endsWith("-12-31") ? [...holidays(year), ...holidays(year + 1)] : holidays(year);
  const statutory = near.find((h) => h.on === day);
  if (statutory) return statutory.name;
  const observed = skipObserved && near.find((h) => h.observed === day);
  return observed ? `${observed.name} (observed)` : null;
}
