import type { Master, Pattern } from "./columns.ts";
import { filledUp, generate } from "./generate.ts";
import type { Board } from "./greedy.ts";
import type { Problem } from "./problem.ts";

/**
 * A plan in whole boards from the linear program: keep the whole boards it asks for, solve it again for what is left to
 * cut with new patterns that fit what is left, and where it asks for no whole board, round up the one nearest to a whole.
 * Undefined where the limited stocks or the time run out.
 */
export function dive(problem: Problem, master: Master): Board[] | undefined {
  const demand = [...problem.demand];
  const limits = problem.bins.map((b) => b.limit);
  const boards: Board[] = [];
  try {
    while (demand.some((n) => n > 0)) {
      const rest: Problem = {
        ...problem,
        demand,
        bins: problem.bins.map((b, i) => ({ ...b, limit: limits[i] ?? 0 })),
      };
      master.setDemand(demand, limits);
      const { relaxed } = generate(rest, master, { enough: () => false, rounds: 12 });
      if (!relaxed) return undefined;
      let fixed = 0;
      let nearest: Pattern | undefined;
      let share = 0;
      for (const [j, amount] of relaxed.amounts.entries()) {
        const pattern = master.patterns[j];
        if (!pattern || amount < 1e-6) continue;
        const useful = pattern.cuts.reduce(
          (sum, [i, n]) => sum + Math.min(n, demand[i] ?? 0) * (problem.widths[i] ?? 0),
          0,
        );
        const part = amount - Math.floor(amount + 1e-6);
        for (let n = Math.floor(amount + 1e-6); n > 0; n--) if (take(pattern)) fixed += 1;
        const score = part + (0.2 * useful) / (problem.bins[pattern.bin]?.capacity ?? 1);
        if (score > share) {
          share = score;
          nearest = pattern;
        }
      }
      if (fixed === 0 && (!nearest || !take(nearest))) return undefined;
    }
    return boards;
  } finally {
    master.setDemand(
      problem.demand,
      problem.bins.map((b) => b.limit),
    );
  }

  /** Cuts one more board, without what is no longer wanted; filled up again with what is. */
  function take(pattern: Pattern): boolean {
    if ((limits[pattern.bin] ?? 0) <= 0) return false;
    const cuts = pattern.cuts.flatMap(([i, n]) => {
      const some = Math.min(n, demand[i] ?? 0);
      return some > 0 ? [[i, some] as const] : [];
    });
    if (cuts.length === 0) return false;
    const whole = filledUp({ ...problem, demand }, { bin: pattern.bin, cuts });
    for (const [i, n] of whole.cuts) demand[i] = (demand[i] ?? 0) - n;
    limits[pattern.bin] = (limits[pattern.bin] ?? 0) - 1;
    boards.push(whole);
    return true;
  }
}
