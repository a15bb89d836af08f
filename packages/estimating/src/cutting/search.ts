import type { Highs } from "highs";
import { roundedBound, stepOf, type Worth } from "./bound.ts";
import type { Clock } from "./clock.ts";
import { type Master, openMaster, type Pattern, patternKey } from "./columns.ts";
import { dive } from "./dive.ts";
import { patternsWithin } from "./enumerate.ts";
import { filledUp, generate } from "./generate.ts";
import { costOf } from "./greedy.ts";
import { improve } from "./improve.ts";
import type { Problem } from "./problem.ts";
import { offer, type State } from "./state.ts";
import { solveWhole } from "./whole.ts";

/**
 * From a first plan to the best: column generation for the bound, then whole boards from its patterns, then all
 * patterns that could be part of a cheaper plan, and where those are too many, dives and partial re-planning.
 */
export function search(
  highs: Highs,
  problem: Problem,
  state: State,
  clock: Clock,
  onProgress: () => void,
): void {
  const done = () => state.cost <= state.bound || clock.left() <= 0;
  const master = openMaster(
    highs,
    problem,
    state.boards.map((b) => filledUp(problem, b)),
    clock,
  );
  try {
    const raise = (worth: Worth | undefined) => {
      if (worth) state.bound = Math.max(state.bound, roundedBound(problem, worth, state.cost));
    };
    const { worth } = generate(problem, master, {
      enough: (bound) => bound > state.cost - stepOf(problem),
    });
    raise(worth);
    onProgress();
    if (done() || !worth) return;
    offer(problem, state, dive(problem, master));
    raise(worth);
    onProgress();
    if (done()) return;
    finish(highs, problem, state, master, worth, clock, onProgress);
  } finally {
    master.dispose();
  }
}

function finish(
  highs: Highs,
  problem: Problem,
  state: State,
  master: Master,
  worth: Worth,
  clock: Clock,
  onProgress: () => void,
): void {
  const step = stepOf(problem);
  const done = () => state.cost <= state.bound || clock.left() <= 0;
  const raise = () => {
    state.bound = Math.max(state.bound, roundedBound(problem, worth, state.cost));
  };
  const whole = (patterns: readonly Pattern[], seconds: number): boolean => {
    const { boards, ended } = solveWhole(
      highs,
      problem,
      patterns,
      { seconds, below: state.cost, target: state.bound, step },
      clock,
    );
    const better = boards !== undefined && costOf(problem, boards) < state.cost;
    const taken = offer(problem, state, boards);
    raise();
    onProgress();
    // A plan of HiGHS's that does not hold up in whole numbers proves nothing.
    return ended && taken === better;
  };
  const proveWithAll = (most: number, seconds: number): boolean => {
    // A plan that costs less than the one in hand has no pattern whose price is further above its worth than this.
    const slack = state.cost - step - worth.bound + SAFE;
    const all = patternsWithin(problem, worth.settled, worth.paid, slack, most);
    if (!all) return false;
    const ended = whole(all, seconds);
    if (ended) state.bound = state.cost;
    return ended;
  };

  if (proveWithAll(400, clock.left()) || done()) return;
  let patterns: readonly Pattern[] = master.patterns;
  // Each round may take longer and more patterns than the one before, so that easy orders end soon and hard ones late.
  for (let round = 0, seconds = 0.12; round < ROUNDS && !done(); round++, seconds *= 2.5) {
    const most = 800 * 2 ** round;
    whole(patterns, seconds);
    if (done()) return;
    if (proveWithAll(most, seconds * 5) || done()) return;
    const tried = state.cost;
    improve(highs, problem, state, patterns, clock, seconds * 2, onProgress);
    if (done()) return;
    if (state.cost < tried && proveWithAll(most, seconds * 5)) return;
    patterns = nearPatterns(problem, worth, state, master.patterns);
  }
}

/** More would take an hour. */
const ROUNDS = 10;

/** Added to a slack so that no rounding leaves out a pattern that belongs. */
const SAFE = 1e-3;

/** The patterns in hand and those whose price is least above their worth, as many as HiGHS can take. */
function nearPatterns(problem: Problem, worth: Worth, state: State, known: readonly Pattern[]): Pattern[] {
  let slack = (state.cost - worth.bound) / 4;
  for (let tries = 0; tries < 8; tries++, slack /= 3) {
    const near = patternsWithin(problem, worth.settled, worth.paid, slack, 600);
    if (!near) continue;
    const keys = new Set(known.map(patternKey));
    return [...known, ...near.filter((p) => !keys.has(patternKey(p)))];
  }
  return [...known];
}
