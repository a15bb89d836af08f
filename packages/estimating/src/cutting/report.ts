import type { Board } from "./greedy.ts";
import type { CuttingOrder, Problem } from "./problem.ts";

/** One board: the stock it is, its cuts in order (longest first), and the offcut that is left over, all in inches. */
export interface CutBoard {
  stockIn: number;
  cuts: number[];
  /** What is left beyond the last saw cut, end trim taken off; 0 where nothing is. */
  offcutIn: number;
}

export interface CutPlan {
  costCents: number;
  /** No plan costs less. */
  boundCents: number;
  /** (costCents - boundCents) / costCents: 0 when the plan is proved to be the cheapest. */
  gap: number;
  proved: boolean;
  /** The time limit ended the search before the proof. */
  stopped: boolean;
  /** HiGHS broke down, and the plan is the best one known until then. */
  solverFailed: boolean;
  /** One entry for each board, longest stock first, like boards together. */
  boards: CutBoard[];
  /** How many of each stock to buy (or take, at 0 cents), and what they cost together; longest first. */
  purchase: { stockIn: number; count: number; costCents: number }[];
  /** Offcuts left over, longest first. */
  offcuts: { lengthIn: number; count: number }[];
  /** Stock bought or taken less the pieces: saw kerf, end trim and offcuts. */
  wasteIn: number;
  /** wasteIn as a share of all stock, 0 to 1. */
  wasteShare: number;
}

export interface Outcome {
  bound: number;
  stopped: boolean;
  solverFailed: boolean;
}

/** The plan in inches and cents, as people read it. */
export function report(
  order: CuttingOrder,
  problem: Problem,
  boards: readonly Board[],
  { bound, stopped, solverFailed }: Outcome,
): CutPlan {
  const stockOf = ({ bin }: Board) => order.stock[problem.bins[bin]?.stockIndex ?? -1];
  const lines = boards.map((board) => {
    const stockIn = stockOf(board)?.lengthIn ?? 0;
    const cuts = board.cuts
      .flatMap(([i, n]) => Array.from({ length: n }, () => problem.lengthsIn[i] ?? 0))
      .sort((a, b) => b - a);
    const used = cuts.reduce((sum, c) => sum + c + order.kerfIn, 0);
    return { stockIn, cuts, offcutIn: Math.max(0, stockIn - 2 * order.endTrimIn - used) };
  });
  lines.sort((a, b) => b.stockIn - a.stockIn || compare(b.cuts, a.cuts));

  const bought = new Map<number, { stockIn: number; count: number; costCents: number }>();
  for (const board of boards) {
    const index = problem.bins[board.bin]?.stockIndex ?? -1;
    const stock = stockOf(board);
    const line = bought.get(index) ?? { stockIn: stock?.lengthIn ?? 0, count: 0, costCents: 0 };
    line.count += 1;
    line.costCents += stock?.costCents ?? 0;
    bought.set(index, line);
  }
  const offcuts = new Map<number, number>();
  for (const { offcutIn } of lines) if (offcutIn > 0) offcuts.set(offcutIn, (offcuts.get(offcutIn) ?? 0) + 1);

  const costCents = boards.reduce((sum, b) => sum + (stockOf(b)?.costCents ?? 0), 0);
  const stockIn = lines.reduce((sum, l) => sum + l.stockIn, 0);
  const wasteIn = stockIn - lines.reduce((sum, l) => sum + l.cuts.reduce((s, c) => s + c, 0), 0);
  const boundCents = Math.min(bound, costCents);
  return {
    costCents,
    boundCents,
    gap: costCents > 0 ? (costCents - boundCents) / costCents : 0,
    proved: boundCents >= costCents,
    stopped,
    solverFailed,
    boards: lines,
    purchase: [...bought.values()].sort((a, b) => b.stockIn - a.stockIn || b.costCents - a.costCents),
    offcuts: [...offcuts]
      .map(([lengthIn, count]) => ({ lengthIn, count }))
      .sort((a, b) => b.lengthIn - a.lengthIn),
    wasteIn,
    wasteShare: stockIn > 0 ? wasteIn / stockIn : 0,
  };
}

function compare(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < Math.max(a.length, b.length); i++) {
    const difference = (a[i] ?? 0) - (b[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
}
