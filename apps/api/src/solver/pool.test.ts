import { type CuttingOrder, EstimateInputError } from "@ledgerboard/estimating";
import { afterAll, describe, expect, it } from "vitest";
import { openSolver } from "./pool.ts";

const solver = openSolver();
afterAll(() => solver.close());

/** Small pieces of many lengths, few of each: far too much to be proved in a tenth of a second. */
const hard: CuttingOrder = {
  pieces: Array.from({ length: 150 }, (_, i) => ({
    lengthIn: 6 + ((i * 7919) % 1100) / 16,
    count: 1 + (i % 9),
  })),
  stock: [96, 120, 144, 168, 192, 240].map((lengthIn, i) => ({
    lengthIn,
    costCents: lengthIn * 11 + i * 37,
  })),
  kerfIn: 0.125,
  endTrimIn: 0,
};
const easy: CuttingOrder = {
  pieces: [{ lengthIn: 45, count: 4 }],
  stock: [{ lengthIn: 96, costCents: 900 }],
  kerfIn: 0.125,
  endTrimIn: 0,
};

describe("the solver's threads", () => {
  it("plan cuts and lay boards", async () => {
    expect(await solver.planCuts(easy)).toMatchObject({ costCents: 1800, proved: true });
    const { stock, kerfIn, endTrimIn } = easy;
    const rows = [1, 2, 3].map(() => ({ lengthIn: 144, supportsIn: [0, 24, 48, 72, 96, 120, 144] }));
    const laid = await solver.layBoards({ rows, stock, kerfIn, endTrimIn });
    expect(laid.rows.map((r) => r.piecesIn.reduce((a, b) => a + b, 0))).toEqual([144, 144, 144]);
    expect(laid.rows[0]?.jointsIn).not.toEqual(laid.rows[1]?.jointsIn);
  });

  it("say which field cannot be used", async () => {
    const error = await solver.planCuts({ ...easy, kerfIn: -1 }).catch((e: unknown) => e);
    expect(error).toBeInstanceOf(EstimateInputError);
    expect((error as EstimateInputError).findings.map((f) => f.field)).toEqual(["kerfIn"]);
  });

  it("give a plan when the time is up, and leave this thread free meanwhile", async () => {
    let turns = 0;
    const timer = setInterval(() => {
      turns += 1;
    }, 5);
    try {
      const plan = await solver.planCuts(hard, { limitMs: 400 });
      const cut = plan.boards.reduce((sum, b) => sum + b.cuts.length, 0);
      expect(cut).toBe(hard.pieces.reduce((sum, p) => sum + p.count, 0));
      expect(plan.boundCents).toBeLessThanOrEqual(plan.costCents);
      // Some 80 turns in 400 ms; a thread that waits for the solver has none.
      expect(turns).toBeGreaterThan(10);
    } finally {
      clearInterval(timer);
    }
  });

  it("give a job up when told to, and take the next", async () => {
    const abort = new AbortController();
    const given = solver.planCuts(hard, { limitMs: 60_000, signal: abort.signal });
    setTimeout(() => abort.abort(), 50);
    await expect(given).rejects.toMatchObject({ name: "AbortError" });
    expect(await solver.planCuts(easy)).toMatchObject({ costCents: 1800 });
  });
});

it("a closed solver rejects what is still at work", async () => {
  const other = openSolver();
  const given = other.planCuts(hard, { limitMs: 60_000 });
  const ended = expect(given).rejects.toThrow();
  await other.close();
  await ended;
});

it("refuses what more would have to wait than may, as something to try again, and does the rest", async () => {
  const small = openSolver({ waiting: 1 });
  try {
    const answers = await Promise.allSettled(
      [1, 2, 3, 4, 5].map(() => small.planCuts(hard, { limitMs: 200 })),
    );
    const refused = answers.flatMap((a) => (a.status === "rejected" ? [a.reason] : []));
    expect(refused.length).toBeGreaterThan(0);
    expect(refused.length).toBeLessThan(5);
    for (const reason of refused) expect(reason).toMatchObject({ problem: "unavailable", status: 503 });
  } finally {
    await small.close();
  }
});
