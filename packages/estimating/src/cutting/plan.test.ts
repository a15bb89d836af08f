import { describe, expect, it } from "vitest";
import { EstimateInputError } from "../input-error.ts";
import { planCuts } from "./plan.ts";
import type { CuttingOrder } from "./problem.ts";

const order = (change: Partial<CuttingOrder> = {}): CuttingOrder => ({
  pieces: [{ lengthIn: 60, count: 4 }],
  stock: [{ lengthIn: 120, costCents: 1000 }],
  kerfIn: 0,
  endTrimIn: 0,
  ...change,
});

async function faultyFields(input: CuttingOrder): Promise<string[]> {
  const error = await planCuts(input).catch((e: unknown) => e);
  if (!(error instanceof EstimateInputError)) throw new Error(`Not refused: ${JSON.stringify(error)}`);
  return error.findings.map((f) => f.field);
}

describe("planCuts", () => {
  it("needs nothing for nothing", async () => {
    expect(await planCuts(order({ pieces: [] }))).toMatchObject({
      costCents: 0,
      proved: true,
      gap: 0,
      boards: [],
    });
    expect(await planCuts(order({ pieces: [{ lengthIn: 60, count: 0 }] }))).toMatchObject({
      costCents: 0,
      proved: true,
    });
  });

  it("gives the purchase list, the cut list, offcuts and waste", async () => {
    const pieces = [
      { lengthIn: 70, count: 2 },
      { lengthIn: 40, count: 2 },
    ];
    const plan = await planCuts(order({ pieces, kerfIn: 0.125, endTrimIn: 0.5 }));
    // Each board: 120 - 2 x 0.5 = 119 usable; 70 + 0.125 + 40 = 110.125; another cut leaves 8.75.
    expect(plan).toEqual({
      costCents: 2000,
      boundCents: 2000,
      gap: 0,
      proved: true,
      stopped: false,
      solverFailed: false,
      boards: [
        { stockIn: 120, cuts: [70, 40], offcutIn: 8.75 },
        { stockIn: 120, cuts: [70, 40], offcutIn: 8.75 },
      ],
      purchase: [{ stockIn: 120, count: 2, costCents: 2000 }],
      offcuts: [{ lengthIn: 8.75, count: 2 }],
      wasteIn: 20,
      wasteShare: 20 / 240,
    });
  });

  it("needs no saw cut after the last piece of a board that is used up", async () => {
    const halves = { pieces: [{ lengthIn: 59.9375, count: 2 }] };
    expect((await planCuts(order({ ...halves, kerfIn: 0.125 }))).boards).toHaveLength(1);
    expect((await planCuts(order({ ...halves, kerfIn: 0.140625 }))).boards).toHaveLength(2);
  });

  it("takes the end trim off both ends", async () => {
    const one = { pieces: [{ lengthIn: 119, count: 1 }] };
    expect((await planCuts(order({ ...one, endTrimIn: 0.5 }))).boards).toHaveLength(1);
    expect(await faultyFields(order({ ...one, endTrimIn: 0.515625 }))).toEqual(["pieces[0].lengthIn"]);
  });

  it("uses offcuts on hand before buying, as far as they go", async () => {
    const stock = [
      { lengthIn: 62, costCents: 0, limit: 1 },
      { lengthIn: 120, costCents: 1000 },
    ];
    const plan = await planCuts(order({ pieces: [{ lengthIn: 60, count: 3 }], stock }));
    expect(plan).toMatchObject({ costCents: 1000, proved: true });
    expect(plan.purchase).toEqual([
      { stockIn: 120, count: 1, costCents: 1000 },
      { stockIn: 62, count: 1, costCents: 0 },
    ]);
  });

  it("keeps two prices of one length apart when the cheap ones run out", async () => {
    const stock = [
      { lengthIn: 120, costCents: 700, limit: 1 },
      { lengthIn: 120, costCents: 1000 },
    ];
    const plan = await planCuts(order({ stock }));
    expect(plan).toMatchObject({ costCents: 1700, proved: true });
    expect(plan.purchase.map((p) => p.costCents)).toEqual([1000, 700]);
  });

  // 5 + 5 of 12 each way: first-fit opens longest first and strands the limited stock; a plan does exist.
  it("finds a way within tight limits, and says when there is none", async () => {
    const pieces = [
      { lengthIn: 70, count: 1 },
      { lengthIn: 50, count: 1 },
      { lengthIn: 40, count: 2 },
    ];
    const stock = [
      { lengthIn: 120, costCents: 500, limit: 1 },
      { lengthIn: 80, costCents: 900, limit: 1 },
    ];
    expect(await planCuts(order({ pieces, stock }))).toMatchObject({ costCents: 1400, proved: true });
    const short = [stock[0], { lengthIn: 80, costCents: 900, limit: 0 }].filter((s) => s !== undefined);
    expect(await faultyFields(order({ pieces, stock: short }))).toEqual(["stock"]);
  });

  it("names every field that cannot be used", async () => {
    const bad = order({
      pieces: [
        { lengthIn: Number.NaN, count: 1.5 },
        { lengthIn: 0.3, count: -1 },
      ],
      stock: [{ lengthIn: -8, costCents: -1, limit: 0.5 }],
      kerfIn: 2,
      endTrimIn: Number.POSITIVE_INFINITY,
    });
    expect(await faultyFields(bad)).toEqual([
      "kerfIn",
      "endTrimIn",
      "pieces[0].lengthIn",
      "pieces[0].count",
      "pieces[1].lengthIn",
      "pieces[1].count",
      "stock[0].lengthIn",
      "stock[0].costCents",
      "stock[0].limit",
    ]);
    expect(await faultyFields(order({ stock: [] }))).toEqual(["stock"]);
    expect(await faultyFields(order({ pieces: [{ lengthIn: 121, count: 1 }] }))).toEqual([
      "pieces[0].lengthIn",
    ]);
    expect(await faultyFields(order({ pieces: [{ lengthIn: 1, count: 20_001 }] }))).toEqual(["pieces"]);
  });

  it("is free where stock is free", async () => {
    expect(await planCuts(order({ stock: [{ lengthIn: 120, costCents: 0 }] }))).toMatchObject({
      costCents: 0,
      proved: true,
      gap: 0,
    });
  });

  it("gives the best plan so far with its gap when the time is up", async () => {
    const pieces = Array.from({ length: 30 }, (_, i) => ({
      lengthIn: 31 + ((i * 37) % 60) + 0.5,
      count: 1 + (i % 3),
    }));
    const stock = [96, 120, 144, 192].map((lengthIn, i) => ({ lengthIn, costCents: lengthIn * 9 + i * 31 }));
    const input = order({ pieces, stock, kerfIn: 0.125 });
    const best = await planCuts(input);
    expect(best.proved).toBe(true);
    let ticks = 0;
    const told: { costCents: number; boundCents: number }[] = [];
    const early = await planCuts(input, { limitMs: 3, now: () => ticks++, onProgress: (s) => told.push(s) });
    expect(early).toMatchObject({ stopped: true, proved: false });
    expect(early.gap).toBeGreaterThan(0);
    expect(early.costCents).toBeGreaterThanOrEqual(best.costCents);
    expect(early.boundCents).toBeLessThanOrEqual(best.costCents);
    expect(told.at(-1)).toEqual({ costCents: early.costCents, boundCents: early.boundCents });
  });

  it("gives the same plan every time", async () => {
    const input = order({
      pieces: [31, 43, 57, 64].map((lengthIn, i) => ({ lengthIn, count: 3 + i })),
      stock: [96, 144].map((lengthIn) => ({ lengthIn, costCents: lengthIn * 7 })),
    });
    expect(await planCuts(input)).toEqual(await planCuts({ ...input, pieces: input.pieces.toReversed() }));
  });
});
