import { type Worth, worthOf } from "./bound.ts";
import type { Master, Pattern, Relaxed } from "./columns.ts";
import type { Cuts } from "./knapsack.ts";
import type { Problem } from "./problem.ts";

/** A pattern with the room that is left filled up, longest piece first: it costs the same and can only help. */
export function filledUp(problem: Problem, { bin, cuts }: Pattern): Pattern {
  const counts = new Map(cuts);
  let room = problem.bins[bin]?.capacity ?? 0;
  for (const [i, n] of cuts) room -= n * (problem.widths[i] ?? 0);
  problem.widths.forEach((width, i) => {
    const more = Math.min(Math.floor(room / width), (problem.demand[i] ?? 0) - (counts.get(i) ?? 0));
    if (more <= 0) return;
    counts.set(i, (counts.get(i) ?? 0) + more);
    room -= more * width;
  });
  const all: Cuts = [...counts].sort(([a], [b]) => a - b);
  return { bin, cuts: all };
}

export interface Generated {
  relaxed: Relaxed | undefined;
  /** The best bound met, with the worths that prove it. */
  worth: Worth | undefined;
  /** No pattern whatever would improve on the last program. */
  complete: boolean;
}

/**
 * Column generation (Gilmore and Gomory 1961): solve the program over the patterns in hand, look for the board that is
 * worth most against its price at the program's own prices for the pieces, add it, and again until there is none.
 * Every round proves a bound, so that it may be cut short.
 *
 * @param enough ends it as soon as the bound (cents) suffices.
 */
export function generate(
  problem: Problem,
  master: Master,
  { enough, rounds = 2000 }: { enough: (bound: number) => boolean; rounds?: number },
): Generated {
  let worth: Worth | undefined;
  let relaxed: Relaxed | undefined;
  for (let round = 0; round < rounds; round++) {
    const solved = master.relax();
    if (!solved) break;
    relaxed = solved;
    const now = worthOf(problem, solved.duals);
    if (!worth || now.bound > worth.bound) worth = now;
    if (enough(worth.bound)) break;
    const found = problem.bins.flatMap(({ capacity, cost }, bin): Pattern[] => {
      const gain = (now.fillings.best[capacity] ?? 0) - cost - (solved.savings[bin] ?? 0);
      if (gain <= 1e-6) return [];
      return [filledUp(problem, { bin, cuts: now.fillings.cuts(capacity) })];
    });
    if (master.add(found) === 0) return { relaxed, worth, complete: true };
  }
  return { relaxed, worth, complete: false };
}
