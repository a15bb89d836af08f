import type { Pattern } from "./columns.ts";
import type { Cuts } from "./knapsack.ts";
import type { Problem } from "./problem.ts";

/** A board of the plan: the stock it is cut from and how often each length is cut from it. */
export type Board = Pattern;

export const costOf = (problem: Problem, boards: readonly Board[]): number =>
  boards.reduce((sum, b) => sum + (problem.bins[b.bin]?.cost ?? 0), 0);

const usedBy = (problem: Problem, cuts: Cuts): number =>
  cuts.reduce((sum, [i, n]) => sum + n * (problem.widths[i] ?? 0), 0);

/**
 * Longest piece first, into the first (or the tightest) board it fits; a new board is of the stock named first in
 * `order` that is long enough and not used up. Undefined where the limited stocks run out.
 */
function fill(problem: Problem, order: readonly number[], tightest: boolean): Board[] | undefined {
  const left = problem.bins.map((b) => b.limit);
  const open: { bin: number; room: number; cuts: (readonly [number, number])[] }[] = [];
  for (const [index, width] of problem.widths.entries()) {
    let wanted = problem.demand[index] ?? 0;
    // Like pieces follow each other into the same board, by either rule, so they are put there at once.
    const put = (board: (typeof open)[number]) => {
      const some = Math.min(wanted, Math.floor(board.room / width));
      if (some === 0) return;
      board.room -= some * width;
      board.cuts.push([index, some]);
      wanted -= some;
    };
    const roomy = open.filter((board) => board.room >= width);
    if (tightest) roomy.sort((a, b) => a.room - b.room);
    for (const board of roomy) put(board);
    while (wanted > 0) {
      const bin = order.find((b) => (left[b] ?? 0) > 0 && (problem.bins[b]?.capacity ?? 0) >= width);
      if (bin === undefined) return undefined;
      left[bin] = (left[bin] ?? 0) - 1;
      const board = { bin, room: problem.bins[bin]?.capacity ?? 0, cuts: [] };
      open.push(board);
      put(board);
    }
  }
  return open.map(({ bin, cuts }) => ({ bin, cuts }));
}

/** Gives every board the cheapest stock that its cuts fit and that is not used up. */
export function cheapen(problem: Problem, boards: readonly Board[]): Board[] {
  const left = problem.bins.map((b) => b.limit);
  for (const { bin } of boards) left[bin] = (left[bin] ?? 0) - 1;
  return boards.map(({ bin, cuts }) => {
    const used = usedBy(problem, cuts);
    let best = bin;
    problem.bins.forEach(({ capacity, cost }, b) => {
      if (capacity >= used && (left[b] ?? 0) > 0 && cost < (problem.bins[best]?.cost ?? 0)) best = b;
    });
    left[bin] = (left[bin] ?? 0) + 1;
    left[best] = (left[best] ?? 0) - 1;
    return { bin: best, cuts };
  });
}

/** The boards without the pieces that nobody asked for: the last boards give up their surplus first. */
export function withoutSurplus(problem: Problem, boards: readonly Board[]): Board[] {
  const wanted = [...problem.demand];
  const trimmed = boards.map(({ bin, cuts }) => ({
    bin,
    cuts: cuts.flatMap(([i, n]) => {
      const take = Math.min(n, wanted[i] ?? 0);
      wanted[i] = (wanted[i] ?? 0) - take;
      return take > 0 ? [[i, take] as const] : [];
    }),
  }));
  return trimmed.filter(({ cuts }) => cuts.length > 0);
}

/**
 * A first plan in no time: first-fit and best-fit decreasing, once for each stock as the one that new boards are
 * opened in, then every board cut from the cheapest stock that still holds it. Undefined where none of these finds
 * a way within the limits.
 */
export function firstPlan(problem: Problem): Board[] | undefined {
  const all = problem.bins.map((_, b) => b);
  const rate = (b: number) => (problem.bins[b]?.cost ?? 0) / (problem.bins[b]?.capacity ?? 1);
  const byRate = [...all].sort((a, b) => rate(a) - rate(b) || b - a);
  let best: Board[] | undefined;
  for (const favourite of byRate) {
    const order = [favourite, ...byRate.filter((b) => b !== favourite)];
    for (const tightest of [false, true]) {
      const filled = fill(problem, order, tightest);
      if (!filled) continue;
      const plan = cheapen(problem, filled);
      if (!best || costOf(problem, plan) < costOf(problem, best)) best = plan;
    }
  }
  return best;
}
