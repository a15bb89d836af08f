import { type Fillings, fillBoards } from "./knapsack.ts";
import { divisor, type Problem } from "./problem.ts";

/** What each piece is taken to be worth, and what that proves. */
export interface Worth {
  /** Cents for each length, as the linear program has them; the best fillings at these values. */
  values: Float64Array;
  fillings: Fillings;
  /** Cents for each length, scaled down until no board without limit holds more than it costs. */
  settled: Float64Array;
  /** Cents for one board of each stock: its cost, and for a limited stock what a board of it is worth above that. */
  paid: number[];
  /** Cents; no plan costs less. Not rounded up; below zero where limits are charged for more than all is worth. */
  bound: number;
}

/**
 * A lower bound that does not rest on the linear program's tolerances. Whatever each piece is taken to be worth (zero or
 * more), if no board can be filled with more worth than it costs, then no plan costs less than all pieces are worth
 * together. The worths come from the linear program, are cut to whole fractions of a cent, so that the knapsack over
 * them is exact, and are scaled down until no unlimited stock can be overfilled; a limited stock that can be is
 * charged for the excess as often as there are boards of it (weak duality; Farley 1990 for the scaling, from memory).
 *
 * @param duals cents for each length.
 */
export function worthOf(problem: Problem, duals: ArrayLike<number>): Worth {
  const { bins, demand, widths } = problem;
  const dearest = Math.max(1, ...bins.map((b) => b.cost));
  // A power of two, so that dividing by it is exact; sums of worths stay below 2^53.
  const scale = 2 ** Math.max(0, Math.min(24, Math.floor(Math.log2(2 ** 46 / dearest))));
  const largest = Math.max(...bins.map((b) => b.capacity));
  const whole = (value: number) => Math.floor(value * scale) / scale;
  const values = Float64Array.from(demand, (_, i) =>
    whole(Math.min(Math.max(0, duals[i] ?? 0), 4 * dearest)),
  );
  const fillings = fillBoards(widths, demand, values, largest);
  let shrink = 1;
  for (const { capacity, cost, limit } of bins) {
    const worth = fillings.best[capacity] as number;
    // A hair less than exact, so that rounding in the product cannot lift a filling above its board's price.
    if (limit === Number.POSITIVE_INFINITY && worth > cost)
      shrink = Math.min(shrink, (cost / worth) * (1 - 1e-12));
  }
  const settled = shrink < 1 ? values.map((v) => whole(v * shrink)) : values;
  const pieces = demand.reduce((sum, count) => sum + count, 0);
  let bound = worthOfAll(problem, settled);
  const paid = bins.map(({ capacity, cost, limit }) => {
    if (limit === Number.POSITIVE_INFINITY) return cost;
    const excess = Math.max(0, (fillings.best[capacity] as number) * shrink * (1 + 1e-12) - cost);
    bound -= excess * Math.min(limit, pieces);
    return cost + excess;
  });
  return { values, settled, fillings, paid, bound };
}

export const worthOfAll = (problem: Problem, values: ArrayLike<number>): number =>
  problem.demand.reduce((sum, count, i) => sum + count * (values[i] ?? 0), 0);

/** The greatest amount of money by which two plans can differ at least: every cost is a multiple of it. */
export const stepOf = (problem: Problem): number =>
  problem.bins.reduce((step, b) => divisor(step, b.cost), 0);

/** Sums are looked through one by one up to this many. */
const MOST_SUMS = 2_000_000;
/** More than rounding can add to a sum of worths, in cents. */
const HAIR = 1e-4;

/**
 * The bound rounded up to a cost that whole boards can have: the least number of cents at which some number of boards
 * of each stock can hold the worth of all pieces. Holds for any worths, since a board never holds more than its best
 * filling. `most` (cents, the cost of a plan in hand) is the answer where there is none below it.
 */
export function roundedBound(problem: Problem, worth: Worth, most: number): number {
  const step = stepOf(problem);
  if (step === 0) return 0;
  const least = Math.max(0, Math.ceil((worth.bound - HAIR) / step));
  const top = Math.floor(most / step);
  if (least >= top) return Math.min(least * step, most);
  if (top > MOST_SUMS) return least * step;
  const all = worthOfAll(problem, worth.values) - HAIR;
  const held = new Float64Array(top + 1);
  // Free boards hold worth at no cost; their number is limited, or the bound would be zero.
  let free = 0;
  for (const { capacity, cost, limit } of problem.bins) {
    const best = worth.fillings.best[capacity] as number;
    if (cost === 0) free += best > 0 ? best * limit : 0;
  }
  for (const { capacity, cost } of problem.bins) {
    if (cost === 0) continue;
    const best = worth.fillings.best[capacity] as number;
    const c = cost / step;
    for (let sum = c; sum <= top; sum++) {
      const reached = (held[sum - c] as number) + best;
      if (reached > (held[sum] as number)) held[sum] = reached;
    }
  }
  for (let sum = 0; sum <= top; sum++)
    if ((held[sum] as number) + free >= all) return Math.max(least, sum) * step;
  return most;
}
