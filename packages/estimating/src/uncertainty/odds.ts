import { EstimateInputError } from "../input-error.ts";

/** Costs of all draws in cents, ascending, as simulateCost gives them. */
export interface DrawnCosts {
  sortedCents: Float64Array;
}

/** The smallest value that at least this share of the sorted draws does not exceed. `shareBp` from 1 to 10000. */
export function quantile(sorted: Float64Array, shareBp: number): number {
  return sorted[Math.ceil((sorted.length * shareBp) / 10_000) - 1] as number;
}

/** How many of the ascending values are at most `limit`. */
function countUpTo(sorted: Float64Array, limit: number): number {
  let [from, to] = [0, sorted.length];
  while (from < to) {
    const middle = (from + to) >>> 1;
    if ((sorted[middle] as number) <= limit) from = middle + 1;
    else to = middle;
  }
  return from;
}

/**
 * Chance that the cost exceeds a fixed price of `priceCents`, as the share of the draws that do, in basis points from
 * 0 to 10000, not rounded. Throws EstimateInputError for a price that is not a number.
 */
export function chanceOfLoss({ sortedCents }: DrawnCosts, priceCents: number): number {
  if (!Number.isFinite(priceCents))
    throw new EstimateInputError([{ field: "priceCents", words: `Must be an amount; got ${priceCents}.` }]);
  return ((sortedCents.length - countUpTo(sortedCents, priceCents)) * 10_000) / sortedCents.length;
}

/**
 * The smallest price in whole cents, not below 0, whose simulated chance of loss is at most `chanceBp` (whole basis
 * points, 0 to 10000). At 0 that is the dearest draw: the price at which no draw lost. Throws EstimateInputError for a
 * chance out of range.
 */
export function priceAtChanceOfLoss({ sortedCents }: DrawnCosts, chanceBp: number): number {
  if (!Number.isInteger(chanceBp) || chanceBp < 0 || chanceBp > 10_000)
    throw new EstimateInputError([
      {
        field: "chanceBp",
        words: `A chance of loss from 0% to 100%, in whole basis points; got ${chanceBp}.`,
      },
    ]);
  const mayLose = Math.floor((sortedCents.length * chanceBp) / 10_000);
  const dearestWithoutLoss = sortedCents[sortedCents.length - 1 - mayLose] ?? 0;
  return Math.max(0, Math.ceil(dearestWithoutLoss));
}
