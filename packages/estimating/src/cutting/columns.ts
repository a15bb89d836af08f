import type { Highs, Model } from "highs";
import type { Clock } from "./clock.ts";
import type { Cuts } from "./knapsack.ts";
import type { Problem } from "./problem.ts";

/** One way to cut one board of one stock: a column of the linear program. */
export interface Pattern {
  bin: number;
  cuts: Cuts;
}

export const patternKey = ({ bin, cuts }: Pattern): string =>
  `${bin}:${cuts.map(([i, n]) => `${i}x${n}`).join(",")}`;

export interface Relaxed {
  /** Cents. */
  objective: number;
  /** Boards of each pattern, not whole. */
  amounts: Float64Array;
  /** What one more piece of each length would cost, cents, zero or more. */
  duals: Float64Array;
  /** What one more board of each limited stock would save, cents, zero or more. */
  savings: Float64Array;
}

/** The patterns in hand and the program that picks among them: every demand met, no stock overdrawn, least cost. */
export interface Master {
  patterns: Pattern[];
  /** Adds those not yet in hand; says how many were new. */
  add(patterns: readonly Pattern[]): number;
  /** How many boards of each pattern, fractions allowed. Undefined where HiGHS did not get there in time. */
  relax(): Relaxed | undefined;
  setDemand(demand: readonly number[], limits: readonly number[]): void;
  dispose(): void;
}

/** The rows of the program: first one for each length, then one for each limited stock. */
export function rowsOf(problem: Problem, demand = problem.demand, limits = problem.bins.map((b) => b.limit)) {
  const rowOfBin = new Map<number, number>();
  problem.bins.forEach(({ limit }, b) => {
    if (limit !== Number.POSITIVE_INFINITY) rowOfBin.set(b, demand.length + rowOfBin.size);
  });
  const lower = [...demand];
  const upper = demand.map(() => Number.POSITIVE_INFINITY);
  for (const b of rowOfBin.keys()) {
    lower.push(0);
    upper.push(limits[b] ?? 0);
  }
  return { rowOfBin, lower, upper };
}

/** The patterns as compressed sparse columns. */
export function packed(patterns: readonly Pattern[], rowOfBin: Map<number, number>, numRows: number) {
  const starts = [0];
  const indices: number[] = [];
  const values: number[] = [];
  for (const { bin, cuts } of patterns) {
    for (const [index, times] of cuts) {
      indices.push(index);
      values.push(times);
    }
    const row = rowOfBin.get(bin);
    if (row !== undefined) {
      indices.push(row);
      values.push(1);
    }
    starts.push(indices.length);
  }
  return {
    format: "csc" as const,
    numRows,
    numCols: patterns.length,
    starts: Int32Array.from(starts),
    indices: Int32Array.from(indices),
    values: Float64Array.from(values),
  };
}

export function openMaster(highs: Highs, problem: Problem, first: readonly Pattern[], clock: Clock): Master {
  const { rowOfBin, lower, upper } = rowsOf(problem);
  const numRows = lower.length;
  const empty = packed([], rowOfBin, numRows);
  const model: Model = highs.createModel({
    numCols: 0,
    numRows,
    colCost: [],
    colLower: [],
    colUpper: [],
    rowLower: lower,
    rowUpper: upper,
    matrix: empty,
  });
  model.options.set({ output_flag: false, presolve: "off", simplex_strategy: 4 });
  const known = new Set<string>();
  const patterns: Pattern[] = [];
  const master: Master = {
    patterns,
    add(more) {
      const fresh = more.filter((p) => {
        const key = patternKey(p);
        if (known.has(key)) return false;
        known.add(key);
        return true;
      });
      if (fresh.length === 0) return 0;
      patterns.push(...fresh);
      model.addCols({
        cost: Float64Array.from(fresh, (p) => problem.bins[p.bin]?.cost ?? 0),
        lower: new Float64Array(fresh.length),
        upper: new Float64Array(fresh.length).fill(highs.infinity),
        matrix: packed(fresh, rowOfBin, numRows),
      });
      return fresh.length;
    },
    relax() {
      const before = model.getRunTime();
      if (clock.left() <= 0) return undefined;
      model.options.set("time_limit", before + clock.left());
      model.run();
      clock.spend(model.getRunTime() - before);
      if (model.getModelStatus() !== highs.constants.modelStatus.optimal) return undefined;
      const { colValue, rowDual } = model.getSolution();
      const savings = new Float64Array(problem.bins.length);
      for (const [bin, row] of rowOfBin) savings[bin] = Math.max(0, -(rowDual[row] ?? 0));
      return {
        objective: model.getObjectiveValue(),
        amounts: colValue,
        duals: rowDual.slice(0, problem.demand.length).map((d) => Math.max(0, d)),
        savings,
      };
    },
    setDemand(demand, limits) {
      const rows = rowsOf(problem, [...demand], [...limits]);
      model.changeRowsBounds({ kind: "range", from: 0, to: numRows - 1 }, rows.lower, rows.upper);
    },
    dispose: () => model.dispose(),
  };
  master.add(first);
  return master;
}
