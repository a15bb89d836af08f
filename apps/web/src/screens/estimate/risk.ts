import type { Revision } from "@ledgerboard/contracts/estimates";
import {
  type Charge,
  chanceOfLoss,
  EstimateInputError,
  MAX_MARGIN_BP,
  type PricedRevision,
  priceAtChanceOfLoss,
  type SimulatedCost,
  simulateCost,
} from "@ledgerboard/estimating";
import { priceAll, type TypedLine } from "./prices.ts";

/** The same draws every time, and those of the service, so that a figure moves only when the estimate does. */
const SEED = 1;
const DRAWS = 10_000;
/** Chances of a loss a price is worked out for, in basis points. */
export const CHANCES = [500, 1000, 2000, 3000, 5000] as const;

type Whole = PricedRevision<TypedLine, Charge>;

/** The spread of what the draft costs; null where nothing is priced or an allowance cannot be drawn from yet. */
export function spreadOf(whole: Whole, terms: Revision["terms"]): SimulatedCost | null {
  if (whole.totals.costCents === 0) return null;
  try {
    return simulateCost(
      { ...whole, terms },
      { draws: DRAWS, seed: SEED, laborCorrelationBp: terms.laborCorrelationBp },
    );
  } catch (error) {
    if (error instanceof EstimateInputError || error instanceof RangeError) return null;
    throw error;
  }
}

/** The smallest margin at which the price reaches `wanted` cents; null where not even the largest does. */
export function marginReaching(wanted: number, priceAt: (marginBp: number) => number): number | null {
  if (priceAt(MAX_MARGIN_BP) < wanted) return null;
  let [low, high] = [0, MAX_MARGIN_BP];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (priceAt(middle) >= wanted) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** The price of the draft at another margin. */
export const priceAtMarginOf =
  (lines: readonly TypedLine[], charges: readonly Charge[], terms: Revision["terms"]) =>
  (marginBp: number): number =>
    priceAll(lines, charges, { ...terms, marginBp }).totals.priceCents;

export interface PriceAtChance {
  chanceBp: number;
  /** The lowest price whose chance of a loss is at most that. */
  priceCents: number;
  /** The margin that gives at least that price, and the price it gives. */
  marginBp: number | null;
  givesCents: number | null;
}

/**
 * What would have to be charged to lose money no more often than each of `CHANCES`. Another margin also moves the agreed
 * unit prices of work charged only if found, and with them what the job costs: the draws are then made once more.
 */
export function pricesAtChances(whole: Whole, terms: Revision["terms"]): PriceAtChance[] {
  const spread = spreadOf(whole, terms);
  if (!spread) return [];
  const { lines, charges } = whole;
  const priceAt = priceAtMarginOf(lines, charges, terms);
  const at = (chanceBp: number, drawn: SimulatedCost): PriceAtChance => {
    const priceCents = priceAtChanceOfLoss(drawn, chanceBp);
    const marginBp = marginReaching(priceCents, priceAt);
    return { chanceBp, priceCents, marginBp, givesCents: marginBp === null ? null : priceAt(marginBp) };
  };
  return CHANCES.map((chanceBp) => {
    const first = at(chanceBp, spread);
    if (first.marginBp === null || spread.paidForFoundWorkCents === 0) return first;
    const then = { ...terms, marginBp: first.marginBp };
    const again = spreadOf(priceAll(lines, charges, then), then);
    return again ? at(chanceBp, again) : first;
  });
}

/** Chance of a loss in whole percent for people: "7%", "under 1%", "over 99%". */
export function chanceWords(spread: SimulatedCost, priceCents: number): string {
  const bp = chanceOfLoss(spread, priceCents);
  if (bp > 0 && bp < 100) return "under 1%";
  if (bp < 10_000 && bp > 9900) return "over 99%";
  return `${Math.round(bp / 100)}%`;
}
