import type { Highs } from "highs";
import { roundedBound, stepOf } from "./bound.ts";
import type { Clock } from "./clock.ts";
import { openMaster, type Pattern, patternKey } from "./columns.ts";
import { filledUp, generate } from "./generate.ts";
import { type Board, costOf } from "./greedy.ts";
import type { Problem } from "./problem.ts";
import { offer, type State } from "./state.ts";
import { solveWhole } from "./whole.ts";

/** Boards taken apart and planned anew at once: what HiGHS does in a few hundredths of a second. */
const AT_ONCE = 10;
/** Rounds in a row without a gain before it ends. */
const PATIENCE = 60;

/**
 * Takes some boards of the plan apart and plans their pieces anew, again and again, as long as it gains. Which boards,
 * is drawn by a fixed sequence, so that the same order always gives the same plan.
 */
export function improve(
  highs: Highs,
  problem: Problem,
  state: State,
  known: readonly Pattern[],
  clock: Clock,
  seconds: number,
  onProgress: () => void,
): void {
  const end = clock.left() - seconds;
  const draw = sequence(problem.widths.length);
  let idle = 0;
  while (
    idle < PATIENCE &&
    clock.left() > Math.max(0, end) &&
    state.cost > state.bound &&
    state.boards.length > 2
  ) {
    idle += 1;
    const order = state.boards.map((_, i) => i);
    for (let i = order.length - 1; i > 0; i--) {
      const j = draw(i + 1);
      [order[i], order[j]] = [order[j] as number, order[i] as number];
    }
    const chosen = new Set(order.slice(0, AT_ONCE));
    const apart = state.boards.filter((_, i) => chosen.has(i));
    const kept = state.boards.filter((_, i) => !chosen.has(i));
    const again = planAnew(highs, problem, apart, kept, known, clock);
    if (again && offer(problem, state, [...kept, ...again])) {
      idle = 0;
      onProgress();
    }
  }
}

/** A cheaper way to cut the pieces of some boards, if a quick search finds one. */
function planAnew(
  highs: Highs,
  problem: Problem,
  apart: readonly Board[],
  kept: readonly Board[],
  known: readonly Pattern[],
  clock: Clock,
): Board[] | undefined {
  const counts = problem.demand.map(() => 0);
  for (const { cuts } of apart) for (const [i, n] of cuts) counts[i] = (counts[i] ?? 0) + n;
  const index = counts.flatMap((n, i) => (n > 0 ? [i] : []));
  const place = new Map(index.map((i, at) => [i, at]));
  const used = problem.bins.map((_, b) => kept.filter(({ bin }) => bin === b).length);
  const part: Problem = {
    lengthsIn: index.map((i) => problem.lengthsIn[i] ?? 0),
    widths: index.map((i) => problem.widths[i] ?? 0),
    demand: index.map((i) => counts[i] ?? 0),
    bins: problem.bins.map((b, i) => ({ ...b, limit: b.limit - (used[i] ?? 0) })),
  };
  const inPart = ({ bin, cuts }: Pattern): Pattern[] => {
    const own = cuts.flatMap(([i, n]) => {
      const at = place.get(i);
      return at === undefined ? [] : [[at, Math.min(n, part.demand[at] ?? 0)] as const];
    });
    return own.length > 0 ? [filledUp(part, { bin, cuts: own })] : [];
  };
  const start = new Map([...apart, ...known].flatMap(inPart).map((p) => [patternKey(p), p]));
  const below = costOf(problem, apart);
  const master = openMaster(highs, part, [...start.values()], clock);
  try {
    const step = stepOf(problem);
    const { worth } = generate(part, master, { enough: (b) => b > below - step, rounds: 30 });
    const least = worth ? roundedBound(part, worth, below) : 0;
    if (least >= below) return undefined;
    const { boards } = solveWhole(
      highs,
      part,
      master.patterns,
      { seconds: 0.15, below, target: least, step },
      clock,
    );
    return boards?.map(({ bin, cuts }) => ({
      bin,
      cuts: cuts.map(([at, n]) => [index[at] ?? 0, n] as const),
    }));
  } finally {
    master.dispose();
  }
}

/** Whole numbers below `most`, evenly spread, the same every time (a linear congruential sequence). */
function sequence(seed: number): (most: number) => number {
  let state = (seed * 2_654_435_761) >>> 0;
  return (most) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * most);
  };
}
