import { EstimateInputError, type InputFinding } from "../input-error.ts";
import { type Clock, startClock } from "./clock.ts";
import { chooseLayout, type Layout, type LayoutProgram, relaxLayout } from "./layout.ts";
import { type PlanOptions, planCuts } from "./plan.ts";
import { type CuttingStock, type Problem, readOrder } from "./problem.ts";
import type { CutPlan } from "./report.ts";
import { kindsOf, type Rows, readRows } from "./rows.ts";
import { forgetSolver, loadSolver, releaseSolver } from "./solver.ts";
import { cheapestSplit, piecesOf, type RowKind, type Split } from "./splits.ts";

export interface DeckRow {
  /** Inches, above zero, a multiple of 1/64 in. */
  lengthIn: number;
  /** Support centres in inches from the start of the row, rising; the first is 0 and the last is lengthIn. */
  supportsIn: readonly number[];
  /** Where the row starts along the deck, inches; 0 when left out. Joints of adjacent rows are compared along the deck. */
  offsetIn?: number;
}

export interface DeckLayout {
  /** In the order across the deck: a row's neighbors are the rows before and after it. */
  rows: readonly DeckRow[];
  stock: readonly CuttingStock[];
  kerfIn: number;
  endTrimIn: number;
  /** Supports that each piece should bear on at least, 2 or more; 3 when left out. */
  minSupports?: number;
}

export interface LaidRow {
  /** Pieces in order along the row, inches. */
  piecesIn: number[];
  /** Joints in inches from the start of the row. */
  jointsIn: number[];
  /** Supports that every piece of the row bears on; less than asked only where the row allows no more. */
  minSupports: number;
}

export interface LaidBoards {
  rows: LaidRow[];
  /** How to cut the pieces of all rows; its bound and `proved` are about cutting these very pieces. */
  plan: CutPlan;
  /** Cents; no layout by these rules, staggered or not, costs less. */
  layoutBoundCents: number;
  /** No other layout is cheaper: plan.costCents equals layoutBoundCents. */
  layoutProved: boolean;
}

/**
 * Splits rows of decking into pieces that meet only over supports, staggered, and plans the cutting of all pieces.
 *
 * Rules: a joint lies over the centre of a support; every piece bears on `minSupports` supports or more (default 3: some
 * county typical details ask for three, others for four; from memory, medium confidence), or on as many as the row
 * allows; no two adjacent rows have a joint at the same place along the deck. Pieces are as long as from support centre
 * to support centre: butt joints without a gap.
 *
 * What is proved: `plan` says whether its boards are the cheapest for these pieces. Splits and cutting are chosen
 * together by a program that gives alternate rows alternate supports for their joints, in several ways, of which the
 * cheapest is kept; that is a rule of thumb for staggering, so another staggering may be cheaper, by at most
 * plan.costCents - layoutBoundCents.
 *
 * @throws EstimateInputError (the promise is rejected) naming every field that cannot be used, rows whose supports are
 * too far apart for any stock, and rows that cannot be staggered against the row before.
 */
export async function layBoards(deck: DeckLayout, options: PlanOptions = {}): Promise<LaidBoards> {
  const { limitMs = 10_000, now } = options;
  const read = readRows(deck);
  const clock = startClock(limitMs, now);
  const pieces = [...read.lengths].map((lengthIn) => ({ lengthIn, count: 1 }));
  const { stock, kerfIn, endTrimIn } = deck;
  if (pieces.length === 0) {
    const plan = await planCuts({ pieces, stock, kerfIn, endTrimIn }, options);
    return { rows: [], plan, layoutBoundCents: 0, layoutProved: true };
  }
  const problem = manyOf(readOrder({ pieces, stock, kerfIn, endTrimIn }), deck.rows.length);
  let best: { rows: LaidRow[]; plan: CutPlan } | undefined;
  let refused: unknown;
  let bound = 0;
  for await (const candidate of candidates(problem, read, clock)) {
    bound = candidate.bound;
    const rows = candidate.splits.map((split, r) => laid(read.rows[r] as RowKind, split));
    const counts = new Map<number, number>();
    for (const { piecesIn } of rows) for (const p of piecesIn) counts.set(p, (counts.get(p) ?? 0) + 1);
    const wanted = [...counts].map(([lengthIn, count]) => ({ lengthIn, count }));
    const share = Math.max(0, clock.left() * 500);
    try {
      const plan = await planCuts(
        { pieces: wanted, stock, kerfIn, endTrimIn },
        { ...options, limitMs: share },
      );
      if (!best || plan.costCents < best.plan.costCents) best = { rows, plan };
    } catch (error) {
      if (!(error instanceof EstimateInputError)) throw error;
      refused = error;
    }
    if (best && best.plan.costCents <= bound) break;
  }
  if (!best) throw refused;
  const faults = faultsOf(deck, read, best.rows);
  if (faults.length > 0) throw new Error(`The layout does not keep its own rules: ${faults.join("; ")}.`);
  const layoutBoundCents = Math.min(bound, best.plan.costCents);
  return { ...best, layoutBoundCents, layoutProved: layoutBoundCents >= best.plan.costCents };
}

const laid = (kind: RowKind, split: Split): LaidRow => ({
  piecesIn: piecesOf(kind, split),
  jointsIn: split.slice(1, -1).map((s) => kind.supportsIn[s] ?? 0),
  minSupports: kind.minSupports,
});

/** The same lengths, each as often as it may ever be wanted. */
const manyOf = (problem: Problem, rows: number): Problem => ({
  ...problem,
  demand: problem.widths.map((w) =>
    Math.min(rows * 50, Math.ceil(Math.max(...problem.bins.map((b) => b.capacity)) / w)),
  ),
});

/** Which supports, by their place along the deck, joints of even and of odd rows may use. */
const STAGGERS: ((place: number) => boolean)[] = [
  (place) => place % 2 === 0,
  (place) => place % 2 === 1,
  (place) => place % 4 < 2,
  (place) => place % 4 > 1,
];

interface Candidate {
  splits: Split[];
  bound: number;
}

/**
 * Splits for every row, one staggering after another, each with the bound on all layouts: those that may cost no more
 * than the bound first, then the two most promising of the others, and last the one that needs no solver.
 */
async function* candidates(problem: Problem, read: Rows, clock: Clock): AsyncGenerator<Candidate> {
  let bound = 0;
  let given = 0;
  try {
    const highs = await loadSolver();
    bound = relaxLayout(highs, problem, kindsOf(read, () => true).kinds, clock)?.bound ?? 0;
    const choose = (one: Staggered): Candidate[] => {
      const seconds = Math.min(1.5, clock.left() / 4);
      const layout = chooseLayout(highs, problem, one.kinds, one.program, clock, seconds);
      return layout ? [{ splits: spread(layout, one.kindOf), bound }] : [];
    };
    const others: Staggered[] = [];
    for (const mayJoin of STAGGERS) {
      const grouped = kindsOf(read, (place, row) => mayJoin(place) === (row % 2 === 0));
      const program = clock.left() > 0 ? relaxLayout(highs, problem, grouped.kinds, clock) : undefined;
      if (!program) continue;
      if (program.bound > bound) others.push({ ...grouped, program });
      else yield* choose({ ...grouped, program });
      given += 1;
    }
    others.sort((a, b) => a.program.bound - b.program.bound);
    for (const one of others.slice(0, 2)) yield* choose(one);
    releaseSolver(highs);
  } catch {
    // As in planCuts: without HiGHS the row-by-row layout stands.
    forgetSolver();
  }
  try {
    yield { splits: rowByRow(problem, read), bound };
  } catch (error) {
    if (given === 0) throw error;
  }
}

type Staggered = ReturnType<typeof kindsOf> & { program: LayoutProgram };

/** Hands the splits of each kind out to its rows. */
function spread(layout: Layout, kindOf: readonly number[]): Split[] {
  const stacks = layout.map((own) =>
    own.flatMap(({ split, rows }) => Array.from({ length: rows }, () => split)),
  );
  return kindOf.map((k) => stacks[k]?.pop() ?? []);
}

/** A layout without the solver: each row the cheapest by length that keeps clear of the joints of the row before. */
function rowByRow(problem: Problem, { rows, places }: Rows): Split[] {
  const index = new Map(problem.lengthsIn.map((l, i) => [l, problem.widths[i] ?? 0]));
  // A cost for each cut keeps rows whole where they can be.
  const longest = Math.max(...problem.widths);
  const price = (length: number) => (index.get(length) ?? Number.POSITIVE_INFINITY) + longest;
  let before = new Set<number>();
  return rows.map((row, r) => {
    const clear = { ...row, allowed: row.allowed.map((ok, i) => ok && !before.has(places[r]?.[i] ?? -1)) };
    const found = cheapestSplit(clear, price);
    if (!found) throw new EstimateInputError([cannotStagger(r)]);
    before = new Set(found.split.slice(1, -1).map((i) => places[r]?.[i] ?? -1));
    return found.split;
  });
}

const cannotStagger = (row: number): InputFinding => ({
  field: `rows[${row}].supportsIn`,
  words: "No joint of this row can keep clear of the row before it: add a support, or a longer stock length.",
});

/** Checks a layout against the rules afresh, from the lengths alone. */
function faultsOf(deck: DeckLayout, read: Rows, rows: readonly LaidRow[]): string[] {
  const faults: string[] = [];
  let before = new Set<number>();
  deck.rows.forEach(({ lengthIn, supportsIn, offsetIn = 0 }, r) => {
    const { piecesIn = [], jointsIn = [] } = rows[r] ?? {};
    let at = 0;
    for (const piece of piecesIn) {
      const bears = supportsIn.filter((s) => s >= at && s <= at + piece).length;
      if (bears < (read.rows[r]?.minSupports ?? 0))
        faults.push(`a piece of row ${r} bears on ${bears} supports`);
      at += piece;
      if (!supportsIn.includes(at)) faults.push(`a piece of row ${r} ends at ${at}, over no support`);
    }
    if (at !== lengthIn) faults.push(`row ${r} is ${at} long instead of ${lengthIn}`);
    const joints = jointsIn.map((j) => j + offsetIn);
    if (joints.some((j) => before.has(j))) faults.push(`row ${r} has a joint beside one of the row before`);
    before = new Set(joints);
  });
  return faults;
}
