import { divide, formatMoney, multiply, ratio, toDecimal } from "@ledgerboard/contracts/money";
import { words } from "@ledgerboard/contracts/vocabulary";
import { percent } from "../pricing/percent.ts";
import type { Differences, LineChange } from "./differences.ts";

/** When a company calls a change material. Limits are inclusive and not negative. */
export interface MaterialityPolicy {
  amountCents: number;
  /** Basis points of the price before. */
  percentBp: number;
  /** Decimal labor hours, or null for no limit. */
  hours: string | null;
  /** Whether any changed structural work is material by itself. */
  structuralAction: boolean;
}

/** One rule and its finding, in figures and in a sentence. */
export interface RuleFinding {
  rule: "price" | "hours" | "structural_action";
  fired: boolean;
  measured: string;
  limit: string;
  words: string;
}

/** Every rule, fired or not, always in the same order; material when any fired. */
export interface Verdict {
  material: boolean;
  rules: RuleFinding[];
}

/** Lines named in the structural sentence before the rest is only counted. */
const NAMED_LINES = 5;

const magnitude = (n: bigint) => (n < 0n ? -n : n);
const counted = (n: string, noun: string) => `${n} ${noun}${n === "1" ? "" : "s"}`;
const signed = (positive: boolean, text: string) => (positive ? "+" : "−") + text;

function checkPolicy({ amountCents, percentBp, hours }: MaterialityPolicy): void {
  const limits = [ratio(amountCents), ratio(percentBp), ratio(hours ?? 0)];
  if (limits.some((limit) => limit.num < 0n))
    throw new RangeError("Limits of a materiality policy may not be negative.");
}

/** The move in percent of the price before, to a tenth, worded so that rounding never seems to reach the limit. */
function percentMoved(fromCents: number, size: number, limitBp: number, pastLimit: boolean): string {
  if (fromCents === 0) return "from nothing";
  const moved = toDecimal(divide(multiply(ratio(size), ratio(100)), ratio(fromCents)), 1);
  const shown = ratio(moved);
  if (!pastLimit && shown.num * 100n >= BigInt(limitBp) * shown.den) return `just under ${percent(limitBp)}`;
  return moved === "0" ? "under 0.1%" : `${moved}%`;
}

/** Fires when |difference| >= max(amount, percent of the price before) and there is a difference at all. */
function priceRule({ bridge }: Differences, policy: MaterialityPolicy): RuleFinding {
  const delta = bridge.toCents - bridge.fromCents;
  const limit = `the larger of ${formatMoney(policy.amountCents)} and ${percent(policy.percentBp)}`;
  const limitIs = `limit is ${limit}.`;
  if (delta === 0) {
    return {
      rule: "price",
      fired: false,
      measured: "no change",
      limit,
      words: `Price did not move; ${limitIs}`,
    };
  }
  const size = Math.abs(delta);
  // Whole numbers on both sides, so that a share of the price is never rounded before it is compared.
  const pastPercent = BigInt(size) * 10_000n >= BigInt(policy.percentBp) * BigInt(bridge.fromCents);
  const measured = `${signed(delta > 0, formatMoney(size))} (${percentMoved(bridge.fromCents, size, policy.percentBp, pastPercent)})`;
  return {
    rule: "price",
    fired: size >= policy.amountCents && pastPercent,
    measured,
    limit,
    words: `Price moved ${measured}; ${limitIs}`,
  };
}

/** Fires when |difference in labor hours| >= the limit and there is a difference at all. */
function hoursRule({ hours }: Differences, policy: MaterialityPolicy): RuleFinding {
  const delta = ratio(hours.delta);
  const size = { num: magnitude(delta.num), den: delta.den };
  const max = policy.hours === null ? null : ratio(policy.hours);
  const limit = max ? counted(toDecimal(max), "hour") : "no limit";
  const limitIs = max ? `limit is ${limit}.` : "the policy sets no limit.";
  if (delta.num === 0n) {
    return {
      rule: "hours",
      fired: false,
      measured: "no change",
      limit,
      words: `Labor did not move; ${limitIs}`,
    };
  }
  const measured = signed(delta.num > 0n, counted(toDecimal(size), "hour"));
  return {
    rule: "hours",
    fired: max !== null && size.num * max.den >= max.num * size.den,
    measured,
    limit,
    words: `Labor moved ${measured}; ${limitIs}`,
  };
}

/** Says how a change touched structural work, or null when it did not. */
function structuralChange({ structural, before, after }: LineChange): string | null {
  if (!structural) return null;
  const line = before ?? after;
  if (!line) return null;
  const name = `${line.zoneName} ${words(line.component)}`;
  if (before && after) {
    if (before.action === after.action && before.component === after.component) return null;
    const component = before.component === after.component ? "" : `${words(after.component)} `;
    return `${name} (${words(before.action)}, now ${component}${words(after.action)})`;
  }
  if (line.action === "keep") return null;
  return `${name} (${words(line.action)}, ${after ? "new" : "taken out"})`;
}

/**
 * Fires when a pair with a structural component changes its action (or the component itself), or when structural work
 * other than keeping is added or removed.
 */
function structuralRule({ changes }: Differences, policy: MaterialityPolicy): RuleFinding {
  const found = changes.map(structuralChange).filter((text) => text !== null);
  const limit = policy.structuralAction ? "none" : "no limit";
  const measured = counted(String(found.length), "line");
  if (found.length === 0) {
    return { rule: "structural_action", fired: false, measured, limit, words: "No structural work changed." };
  }
  const named = found.slice(0, NAMED_LINES);
  if (found.length > NAMED_LINES) named.push(`and ${found.length - NAMED_LINES} more`);
  const meaning = policy.structuralAction
    ? "Any such change counts."
    : "The policy does not count such changes.";
  return {
    rule: "structural_action",
    fired: policy.structuralAction,
    measured,
    limit,
    words: `Structural work changed on ${measured}: ${named.join("; ")}. ${meaning}`,
  };
}

/**
 * Holds the differences between two revisions against a company's policy. Throws RangeError when a limit is negative or malformed.
 */
export function judge(differences: Differences, policy: MaterialityPolicy): Verdict {
  checkPolicy(policy);
  const rules = [
    priceRule(differences, policy),
    hoursRule(differences, policy),
    structuralRule(differences, policy),
  ];
  return { material: rules.some((rule) => rule.fired), rules };
}
