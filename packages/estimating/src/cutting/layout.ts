import type { Highs } from "highs";
import { stepOf, worthOf } from "./bound.ts";
import type { Clock } from "./clock.ts";
import { type Pattern, packed, patternKey, rowsOf } from "./columns.ts";
import { filledUp } from "./generate.ts";
import type { Problem } from "./problem.ts";
import { cheapestSplit, piecesOf, type RowKind, type Split } from "./splits.ts";

/** Splits for the rows of each kind, and how many rows are made up by each. */
export type Layout = { split: Split; rows: number }[][];

/** The splits in play and the patterns to cut their pieces by: a linear program that grows (column generation). */
export interface LayoutProgram {
  splits: Split[][];
  patterns: Pattern[];
  /** Cents; no layout of these kinds of row costs less, however it is cut. */
  bound: number;
}

/** `problem` holds every length that a piece can have; its demand is how often a pattern may repeat a length. */
interface Place {
  problem: Problem;
  kinds: readonly RowKind[];
  index: Map<number, number>;
}

const ROUNDS = 300;

/**
 * Chooses splits and cutting patterns together, in fractions: in turn the program is solved, and the patterns and splits
 * that would make it cheaper are added, until there is none. Undefined where some row cannot be split by the rules.
 */
export function relaxLayout(
  highs: Highs,
  problem: Problem,
  kinds: readonly RowKind[],
  clock: Clock,
): LayoutProgram | undefined {
  const place: Place = { problem, kinds, index: new Map(problem.lengthsIn.map((l, i) => [l, i])) };
  const rate = Math.min(...problem.bins.map((b) => Math.max(1, b.cost) / b.capacity));
  const byLength = problem.widths.map((w) => w * rate);
  const splits: Split[][] = [];
  for (const kind of kinds) {
    const first = cheapestSplit(kind, priceIn(place, byLength));
    if (!first) return undefined;
    splits.push([first.split]);
  }
  const patterns = problem.bins.flatMap(({ capacity }, bin) =>
    problem.widths.flatMap((w, i) => (w <= capacity ? [filledUp(problem, { bin, cuts: [[i, 1]] })] : [])),
  );
  const known = new Set(patterns.map(patternKey));
  const program: LayoutProgram = { splits, patterns, bound: 0 };
  for (let round = 0; round < ROUNDS && clock.left() > 0; round++) {
    const solved = solve(highs, place, program, clock, undefined);
    if (!solved?.duals) break;
    const worth = worthOf(problem, solved.duals);
    // What all rows are worth by their cheapest splits is a bound, less what the limits on stock may be worth.
    let bound = 0;
    let fresh = 0;
    for (const [k, kind] of kinds.entries()) {
      bound += kind.rows * (cheapestSplit(kind, priceIn(place, worth.settled))?.cost ?? 0);
      const better = cheapestSplit(kind, priceIn(place, solved.duals));
      if (!better || better.cost >= (solved.kindDuals[k] ?? 0) - 1e-6) continue;
      const own = splits[k] ?? [];
      if (own.some((s) => s.join() === better.split.join())) continue;
      own.push(better.split);
      fresh += 1;
    }
    problem.bins.forEach((b, i) => {
      if (b.limit !== Number.POSITIVE_INFINITY) bound -= ((worth.paid[i] ?? 0) - b.cost) * b.limit;
    });
    program.bound = Math.max(program.bound, bound);
    for (const [bin, { capacity, cost }] of problem.bins.entries()) {
      const gain = (worth.fillings.best[capacity] ?? 0) - cost - (solved.savings[bin] ?? 0);
      if (gain <= 1e-6) continue;
      const pattern = filledUp(problem, { bin, cuts: worth.fillings.cuts(capacity) });
      const key = patternKey(pattern);
      if (known.has(key)) continue;
      known.add(key);
      patterns.push(pattern);
      fresh += 1;
    }
    if (fresh === 0) break;
  }
  const step = stepOf(problem) || 1;
  program.bound = Math.max(0, Math.ceil((program.bound - 1e-4) / step) * step);
  return program;
}

/** Whole rows and whole boards from the splits and patterns of a program. Undefined where HiGHS finds none in time. */
export function chooseLayout(
  highs: Highs,
  problem: Problem,
  kinds: readonly RowKind[],
  program: LayoutProgram,
  clock: Clock,
  seconds: number,
): Layout | undefined {
  const place: Place = { problem, kinds, index: new Map(problem.lengthsIn.map((l, i) => [l, i])) };
  const solved = solve(highs, place, program, clock, seconds);
  if (!solved) return undefined;
  let at = program.patterns.length;
  return program.splits.map((own) =>
    own.map((split) => ({ split, rows: Math.round(solved.amounts[at++] ?? 0) })),
  );
}

const priceIn =
  ({ index }: Place, prices: ArrayLike<number>) =>
  (lengthIn: number): number => {
    const i = index.get(lengthIn);
    return i === undefined ? Number.POSITIVE_INFINITY : (prices[i] ?? 0);
  };

/** Columns: one for each pattern, then one for each split. Rows: lengths, limited stocks, then kinds of row. */
function solve(
  highs: Highs,
  place: Place,
  program: LayoutProgram,
  clock: Clock,
  wholeSeconds: number | undefined,
) {
  const { problem, kinds, index } = place;
  const lengths = problem.lengthsIn.length;
  const { rowOfBin, lower, upper } = rowsOf(
    problem,
    problem.demand.map(() => 0),
  );
  const kindRow = lower.length;
  for (const { rows } of kinds) {
    lower.push(rows);
    upper.push(rows);
  }
  const matrix = packed(program.patterns, rowOfBin, lower.length);
  const starts = [...matrix.starts];
  const indices = [...matrix.indices];
  const values = [...matrix.values];
  for (const [k, own] of program.splits.entries())
    for (const split of own) {
      const counts = new Map<number, number>();
      for (const length of piecesOf(kinds[k] as RowKind, split)) {
        const i = index.get(length) ?? 0;
        counts.set(i, (counts.get(i) ?? 0) + 1);
      }
      for (const [i, n] of counts) {
        indices.push(i);
        values.push(-n);
      }
      indices.push(kindRow + k);
      values.push(1);
      starts.push(indices.length);
    }
  const numCols = starts.length - 1;
  const cost = Array.from({ length: numCols }, (_, j) => {
    const pattern = program.patterns[j];
    return pattern ? (problem.bins[pattern.bin]?.cost ?? 0) : 0;
  });
  const model = highs.createModel({
    numCols,
    numRows: lower.length,
    colCost: cost,
    colLower: cost.map(() => 0),
    colUpper: cost.map(() => highs.infinity),
    rowLower: lower,
    rowUpper: upper,
    matrix: {
      format: "csc",
      numRows: lower.length,
      numCols,
      starts: Int32Array.from(starts),
      indices: Int32Array.from(indices),
      values: Float64Array.from(values),
    },
    ...(wholeSeconds !== undefined && { integrality: cost.map(() => highs.constants.variableType.integer) }),
  });
  try {
    model.options.set({
      output_flag: false,
      time_limit: Math.max(0.01, Math.min(wholeSeconds ?? Number.POSITIVE_INFINITY, clock.left())),
    });
    model.run();
    clock.spend(model.getRunTime());
    const feasible =
      Number(model.info.get("primal_solution_status")) === highs.constants.solutionStatus.feasible;
    const optimal = model.getModelStatus() === highs.constants.modelStatus.optimal;
    if (!feasible || (wholeSeconds === undefined && !optimal)) return undefined;
    const { colValue, rowDual } = model.getSolution();
    const savings = problem.bins.map((_, b) => Math.max(0, -(rowDual[rowOfBin.get(b) ?? -1] ?? 0)));
    return {
      amounts: colValue,
      duals: rowDual.slice(0, lengths).map((d) => Math.max(0, d)),
      kindDuals: rowDual.slice(kindRow),
      savings,
    };
  } finally {
    model.dispose();
  }
}
