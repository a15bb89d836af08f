import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { EstimateInputError } from "../input-error.ts";
import { planCuts } from "./plan.ts";
import type { CuttingOrder } from "./problem.ts";
import type { CutPlan } from "./report.ts";

const sixteenths = (min: number, max: number) =>
  fc.integer({ min: min * 16, max: max * 16 }).map((n) => n / 16);

const orders = (lengths: number, most: number): fc.Arbitrary<CuttingOrder> =>
  fc.record({
    pieces: fc.array(fc.record({ lengthIn: sixteenths(4, 90), count: fc.integer({ min: 0, max: most }) }), {
      maxLength: lengths,
    }),
    stock: fc.array(
      fc.record(
        {
          lengthIn: sixteenths(96, 240),
          costCents: fc.integer({ min: 0, max: 3000 }),
          limit: fc.integer({ min: 0, max: 6 }),
        },
        { requiredKeys: ["lengthIn", "costCents"] },
      ),
      { minLength: 1, maxLength: 4 },
    ),
    kerfIn: fc.constantFrom(0, 0.0625, 0.125),
    endTrimIn: fc.constantFrom(0, 0.5, 1),
  });

/** The plan, or undefined where the stock does not suffice. */
async function attempt(order: CuttingOrder): Promise<CutPlan | undefined> {
  try {
    return await planCuts(order);
  } catch (error) {
    if (error instanceof EstimateInputError) return undefined;
    throw error;
  }
}

describe("planCuts, properties", () => {
  it("meets every demand within stock, trim, kerf and limits, at the sum of its boards, never below its bound", async () => {
    await fc.assert(
      fc.asyncProperty(orders(8, 5), async (order) => {
        const plan = await attempt(order);
        fc.pre(plan !== undefined);
        const cut = new Map<number, number>();
        for (const { stockIn, cuts, offcutIn } of plan.boards) {
          for (const c of cuts) cut.set(c, (cut.get(c) ?? 0) + 1);
          const used = cuts.reduce((sum, c) => sum + c, 0) + (cuts.length - 1) * order.kerfIn;
          const usable = stockIn - 2 * order.endTrimIn;
          expect(used).toBeLessThanOrEqual(usable);
          expect(offcutIn).toBe(Math.max(0, usable - used - order.kerfIn));
        }
        const wanted = new Map<number, number>();
        for (const p of order.pieces)
          if (p.count > 0) wanted.set(p.lengthIn, (wanted.get(p.lengthIn) ?? 0) + p.count);
        expect(cut).toEqual(wanted);
        expect(plan.purchase.reduce((sum, p) => sum + p.costCents, 0)).toBe(plan.costCents);
        expect(plan.purchase.reduce((sum, p) => sum + p.count, 0)).toBe(plan.boards.length);
        for (const length of new Set(order.stock.map((s) => s.lengthIn))) {
          const all = order.stock.filter((s) => s.lengthIn === length);
          const most = all.reduce((sum, s) => sum + (s.limit ?? Number.POSITIVE_INFINITY), 0);
          expect(plan.boards.filter((b) => b.stockIn === length).length).toBeLessThanOrEqual(most);
        }
        expect(plan.boundCents).toBeLessThanOrEqual(plan.costCents);
        expect(plan).toMatchObject({ proved: true, solverFailed: false });
        expect(plan.wasteIn).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 150, seed: 20261125 },
    );
  }, 120_000);

  it("costs what trying everything costs", async () => {
    await fc.assert(
      fc.asyncProperty(orders(4, 2), async (order) => {
        expect((await attempt(order))?.costCents).toBe(byTryingEverything(order));
      }),
      { numRuns: 150, seed: 7 },
    );
  });

  it("is the same when the kerf is added to every piece and every usable length", async () => {
    await fc.assert(
      fc.asyncProperty(orders(6, 4), async (order) => {
        const without: CuttingOrder = {
          kerfIn: 0,
          endTrimIn: 0,
          pieces: order.pieces.map((p) => ({ ...p, lengthIn: p.lengthIn + order.kerfIn })),
          stock: order.stock.map((s) => ({
            ...s,
            lengthIn: s.lengthIn - 2 * order.endTrimIn + order.kerfIn,
          })),
        };
        expect((await attempt(without))?.costCents).toBe((await attempt(order))?.costCents);
      }),
      { numRuns: 60, seed: 11 },
    );
  });

  it("never costs more with another stock to choose from, nor less with another piece to cut", async () => {
    const other = fc.record({ lengthIn: sixteenths(96, 240), costCents: fc.integer({ min: 0, max: 3000 }) });
    await fc.assert(
      fc.asyncProperty(orders(6, 4), other, sixteenths(4, 90), async (order, stock, lengthIn) => {
        const plan = await attempt(order);
        fc.pre(plan !== undefined);
        const wider = await attempt({ ...order, stock: [...order.stock, stock] });
        expect(wider?.costCents).toBeLessThanOrEqual(plan.costCents);
        const longer = await attempt({ ...order, pieces: [...order.pieces, { lengthIn, count: 1 }] });
        if (longer) expect(longer.costCents).toBeGreaterThanOrEqual(plan.costCents);
      }),
      { numRuns: 60, seed: 13 },
    );
  });
});

/** The cheapest cost by putting piece after piece onto every open board and every kind of new one. */
function byTryingEverything(order: CuttingOrder): number | undefined {
  const pieces = order.pieces.flatMap((p) => Array.from({ length: p.count }, () => p.lengthIn));
  pieces.sort((a, b) => b - a);
  const left = order.stock.map((s) => s.limit ?? Number.POSITIVE_INFINITY);
  const rooms: number[] = [];
  let cheapest: number | undefined;
  const place = (index: number, cost: number): void => {
    if (cheapest !== undefined && cost >= cheapest) return;
    const piece = pieces[index];
    if (piece === undefined) {
      cheapest = cost;
      return;
    }
    const tried = new Set<number>();
    for (const [b, room] of rooms.entries()) {
      if (room < piece || tried.has(room)) continue;
      tried.add(room);
      rooms[b] = room - piece - order.kerfIn;
      place(index + 1, cost);
      rooms[b] = room;
    }
    for (const [s, stock] of order.stock.entries()) {
      const usable = stock.lengthIn - 2 * order.endTrimIn;
      if ((left[s] ?? 0) <= 0 || usable < piece) continue;
      left[s] = (left[s] ?? 0) - 1;
      rooms.push(usable - piece - order.kerfIn);
      place(index + 1, cost + stock.costCents);
      rooms.pop();
      left[s] = (left[s] ?? 0) + 1;
    }
  };
  place(0, 0);
  return cheapest;
}
