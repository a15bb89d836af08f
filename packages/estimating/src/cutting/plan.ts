import { EstimateInputError } from "../input-error.ts";
import { roundedBound, worthOf } from "./bound.ts";
import { startClock } from "./clock.ts";
import { type Board, costOf, firstPlan } from "./greedy.ts";
import { type CuttingOrder, type Problem, readOrder } from "./problem.ts";
import { type CutPlan, type Outcome, report } from "./report.ts";
import { search } from "./search.ts";
import { forgetSolver, loadSolver, releaseSolver } from "./solver.ts";
import type { State } from "./state.ts";

export interface PlanOptions {
  /** Milliseconds after which the best plan so far is given; 10,000 when left out. */
  limitMs?: number;
  /** A clock in milliseconds. Without one only the running time that HiGHS itself counts is limited. */
  now?: () => number;
  /** Told of every better plan and every better bound, in cents. */
  onProgress?: (state: { costCents: number; boundCents: number }) => void;
}

const LIMIT_MS = 10_000;
/** Cells of the knapsack's table; above them only the plain bound of length is proved. */
const MOST_CELLS = 40_000_000;

/**
 * The cheapest boards to buy, and how to cut every piece from them.
 *
 * Every board loses `endTrimIn` at each of its two ends (the saw cut there included), and `kerfIn` between two pieces or
 * between the last piece and an offcut; a board that is used up exactly needs no cut after its last piece. Stock at
 * 0 cents with a limit stands for offcuts on hand, which are then used first where that helps.
 *
 * The plan is the cheapest (`proved`) unless the time limit ends the search or the order is beyond what can be proved;
 * then it is the best one found, and `gap` says by what share of its cost a cheaper one might at most exist. A time
 * limit is never an error. `boundCents` is a true lower bound. The same order gives the same plan when no limit is
 * met; the order of lines and the splitting of a line change nothing.
 *
 * Column generation (Gilmore and Gomory 1961) with HiGHS for the linear and the whole-number programs. HiGHS is loaded
 * on first use. If it breaks down, the plan of the first-fit and best-fit rules stands (`solverFailed`).
 *
 * @throws EstimateInputError (the promise is rejected) naming every field that cannot be used: lengths and counts that
 * are not sensible, pieces longer than what any stock gives after its end trim, limits too small for the demand.
 */
export async function planCuts(order: CuttingOrder, options: PlanOptions = {}): Promise<CutPlan> {
  const problem = readOrder(order);
  const { limitMs = LIMIT_MS, now, onProgress } = options;
  if (!(limitMs >= 0))
    throw new EstimateInputError([
      { field: "limitMs", words: `Give a time limit of zero or more, not ${limitMs}.` },
    ]);
  if (problem.demand.length === 0)
    return report(order, problem, [], { bound: 0, stopped: false, solverFailed: false });

  const clock = startClock(limitMs, now);
  const found = firstPlan(problem);
  const whole = found ? problem : withImaginary(problem);
  const boards = found ?? firstPlan(whole) ?? [];
  const state: State = { boards, cost: costOf(whole, boards), bound: 0 };
  const tell = () => onProgress?.({ costCents: state.cost, boundCents: state.bound });
  const outcome: Outcome = { bound: 0, stopped: false, solverFailed: false };
  const largest = Math.max(...whole.bins.map((b) => b.capacity));
  if (whole.demand.length * largest <= MOST_CELLS) {
    const rate = Math.min(...whole.bins.map((b) => b.cost / b.capacity));
    const byLength = worthOf(
      whole,
      whole.widths.map((w) => w * rate),
    );
    state.bound = roundedBound(whole, byLength, state.cost);
    tell();
    if (state.cost > state.bound) outcome.solverFailed = !(await withSolver(whole, state, clock, tell));
    outcome.stopped = !outcome.solverFailed && state.cost > state.bound && clock.left() <= 0;
  } else {
    const rate = Math.min(...whole.bins.map((b) => b.cost / b.capacity));
    const length = whole.demand.reduce((sum, n, i) => sum + n * (whole.widths[i] ?? 0), 0);
    state.bound = Math.min(state.cost, Math.floor(rate * length * (1 - 1e-9)));
  }
  outcome.bound = state.bound;
  refuseImaginary(whole, state.boards, state.bound);
  return report(order, whole, state.boards, outcome);
}

/** Whether HiGHS ran without breaking down. The best plan and bound so far stand in either case. */
async function withSolver(
  problem: Problem,
  state: State,
  clock: ReturnType<typeof startClock>,
  tell: () => void,
): Promise<boolean> {
  try {
    const highs = await loadSolver();
    search(highs, problem, state, clock, tell);
    releaseSolver(highs);
    return true;
  } catch {
    // A WebAssembly runtime that has stopped once is in no known state: the next plan starts a fresh one.
    forgetSolver();
    return false;
  }
}

const IMAGINARY = -1;

/**
 * The problem with one more stock, of which there is no end but which costs more than any real plan: a plan that still
 * uses it when it is proved to be the cheapest shows that the limits do not suffice.
 */
function withImaginary(problem: Problem): Problem {
  const pieces = problem.demand.reduce((sum, n) => sum + n, 0);
  const cost = problem.bins.reduce((sum, b) => sum + b.cost * Math.min(b.limit, pieces), 1);
  const capacity = Math.max(...problem.bins.map((b) => b.capacity));
  const bins = [...problem.bins, { capacity, cost, limit: Number.POSITIVE_INFINITY, stockIndex: IMAGINARY }];
  return { ...problem, bins };
}

function refuseImaginary(problem: Problem, boards: readonly Board[], bound: number): void {
  const imaginary = problem.bins.findIndex((b) => b.stockIndex === IMAGINARY);
  const missing = boards.filter(({ bin }) => bin === imaginary);
  if (imaginary < 0 || missing.length === 0) return;
  const proved = bound >= (problem.bins[imaginary]?.cost ?? 0);
  throw new EstimateInputError([
    {
      field: "stock",
      words: proved
        ? "The limits on the stock are too small for all pieces: raise a limit or add a stock length."
        : "No way was found to cut all pieces within the limits on the stock: raise a limit or add a stock length.",
    },
  ]);
}
