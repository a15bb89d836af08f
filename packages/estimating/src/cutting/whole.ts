import type { Highs } from "highs";
import type { Clock } from "./clock.ts";
import { type Pattern, packed, rowsOf } from "./columns.ts";
import type { Board } from "./greedy.ts";
import type { Problem } from "./problem.ts";

export interface Whole {
  /** The best plan found, if HiGHS found any. */
  boards: Board[] | undefined;
  /** HiGHS says that no plan made of these patterns costs less than the plan found or than `below`. */
  ended: boolean;
}

export interface WholeOptions {
  seconds: number;
  /** Cents of the best plan known: only plans that cost less are of interest. */
  below: number;
  /** Cents: a plan this cheap need not be improved. */
  target: number;
  /** The least by which two costs differ, cents. */
  step: number;
}

/**
 * How many boards to cut by each pattern, in whole boards, by HiGHS's branch and cut. The number of boards of each stock
 * is a whole variable of its own, with a row that says together they are long enough: branching on the purchase closes
 * the gap far sooner than branching on single patterns.
 */
export function solveWhole(
  highs: Highs,
  problem: Problem,
  patterns: readonly Pattern[],
  { seconds, below, target, step }: WholeOptions,
  clock: Clock,
): Whole {
  const { bins, demand, widths } = problem;
  const { rowOfBin, lower, upper } = rowsOf(problem);
  const { integer } = highs.constants.variableType;
  const cost = patterns.map((p) => bins[p.bin]?.cost ?? 0);
  const most = patterns.map(({ cuts }) => Math.max(...cuts.map(([i, n]) => Math.ceil((demand[i] ?? 0) / n))));
  const model = highs.createModel({
    numCols: patterns.length,
    numRows: lower.length,
    colCost: cost,
    colLower: cost.map(() => 0),
    colUpper: most,
    rowLower: lower,
    rowUpper: upper,
    matrix: packed(patterns, rowOfBin, lower.length),
    integrality: cost.map(() => integer),
  });
  try {
    const ofBin: number[][] = bins.map(() => []);
    patterns.forEach(({ bin }, j) => {
      ofBin[bin]?.push(j);
    });
    const pieces = demand.reduce((sum, n) => sum + n, 0);
    bins.forEach(({ limit }, b) => {
      const bought = patterns.length + b;
      model.addVar(0, Math.min(limit, pieces));
      model.changeColIntegrality(bought, integer);
      const own = ofBin[b] ?? [];
      model.addRow(0, 0, { indices: [...own, bought], values: [...own.map(() => 1), -1] });
    });
    model.addRow(
      demand.reduce((sum, n, i) => sum + n * (widths[i] ?? 0), 0),
      highs.infinity,
      { indices: bins.map((_, b) => patterns.length + b), values: bins.map((b) => b.capacity) },
    );
    // Between what is proved and what is in hand: without it the search wanders among costs that are known to be idle.
    model.addRow(target, below - step, {
      indices: bins.map((_, b) => patterns.length + b),
      values: bins.map((b) => b.cost),
    });
    model.options.set({
      output_flag: false,
      time_limit: Math.max(0.01, Math.min(seconds, clock.left())),
      mip_rel_gap: 0,
      mip_abs_gap: step * 0.999,
      objective_target: target + step * 0.001,
      // Measured on seeded orders: each of these only cost time here.
      mip_detect_symmetry: false,
      mip_allow_restart: false,
      mip_heuristic_run_feasibility_jump: false,
    });
    model.run();
    clock.spend(model.getRunTime());
    const status = model.getModelStatus();
    const { modelStatus, solutionStatus } = highs.constants;
    const ended = status === modelStatus.optimal || status === modelStatus.infeasible;
    const found = Number(model.info.get("primal_solution_status")) === solutionStatus.feasible;
    if (!found) return { boards: undefined, ended };
    const amounts = model.getSolution().colValue;
    const boards = patterns.flatMap((p, j) => Array.from({ length: Math.round(amounts[j] ?? 0) }, () => p));
    return { boards, ended };
  } finally {
    model.dispose();
  }
}
