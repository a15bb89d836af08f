import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { EstimateInputError } from "../input-error.ts";
import { coverPacks, type Pack } from "./packs.ts";

const fault = (run: () => unknown) => {
  try {
    run();
  } catch (error) {
    if (error instanceof EstimateInputError) return error.findings.map((f) => f.field);
    throw error;
  }
  return [];
};

describe("coverPacks", () => {
  it("buys whole packs of the only size there is", () => {
    expect(coverPacks("101", [{ size: "50", cents: 1200 }])).toEqual({
      packs: [{ size: "50", cents: 1200, count: 3 }],
      cents: 3600,
      boughtQuantity: "150",
    });
  });

  it("buys nothing for nothing, also where no pack is sold", () => {
    expect(coverPacks("0", [])).toEqual({ packs: [], cents: 0, boughtQuantity: "0" });
  });

  // By hand: 350 = 250 + 100 costs 2200 + 1000 = 3200; two of 250 cost 4400; one of 1000 costs 7000.
  it("mixes sizes where that is cheapest", () => {
    const sold = [
      { size: "1000", cents: 7000 },
      { size: "250", cents: 2200 },
      { size: "100", cents: 1000 },
    ];
    expect(coverPacks("350", sold)).toMatchObject({ cents: 3200, boughtQuantity: "350" });
    expect(coverPacks("951", sold)).toMatchObject({ cents: 7000, boughtQuantity: "1000" });
  });

  it("never rounds a need away: a thousandth over a pack is another pack", () => {
    expect(coverPacks("5.001", [{ size: "5", cents: 999 }]).cents).toBe(1998);
    expect(coverPacks("0.3", [{ size: "0.1", cents: 7 }])).toMatchObject({
      cents: 21,
      boughtQuantity: "0.3",
    });
  });

  it("names every fault by its field", () => {
    expect(fault(() => coverPacks("-1", [{ size: "0", cents: 1.5 }]))).toEqual([
      "needed",
      "packs[0].size",
      "packs[0].cents",
    ]);
    expect(fault(() => coverPacks("1e5", [{ size: "x", cents: -1 }]))).toEqual([
      "needed",
      "packs[0].size",
      "packs[0].cents",
    ]);
    expect(fault(() => coverPacks("1", []))).toEqual(["packs"]);
    expect(fault(() => coverPacks("999999999999.999999", [{ size: "0.000001", cents: 1 }]))).toEqual([
      "needed",
    ]);
  });
});

const pack = fc.record({ size: fc.integer({ min: 1, max: 40 }), cents: fc.integer({ min: 0, max: 500 }) });
const quarters = (n: number) => String(n / 4);
const asSold = (packs: { size: number; cents: number }[]): Pack[] =>
  packs.map((p) => ({ size: quarters(p.size), cents: p.cents }));

/** The cheapest cover by filling a table of every amount: slow, plain and with nothing in common with coverPacks. */
function byTable(needed: number, packs: { size: number; cents: number }[]): number {
  const cheapest = [0];
  for (let q = 1; q <= needed; q++) {
    cheapest[q] = Math.min(...packs.map((p) => p.cents + (cheapest[Math.max(0, q - p.size)] ?? 0)));
  }
  return cheapest[needed] ?? Number.NaN;
}

describe("coverPacks, properties", () => {
  it("is the cheapest cover, covers, and adds up", () => {
    fc.assert(
      fc.property(
        fc.array(pack, { minLength: 1, maxLength: 5 }),
        fc.integer({ min: 0, max: 300 }),
        (packs, needed) => {
          const cover = coverPacks(quarters(needed), asSold(packs));
          expect(cover.cents).toBe(byTable(needed, packs));
          expect(cover.cents).toBe(cover.packs.reduce((sum, p) => sum + p.cents * p.count, 0));
          const bought = cover.packs.reduce((sum, p) => sum + Number(p.size) * p.count, 0);
          expect(Number(cover.boughtQuantity)).toBe(bought);
          expect(bought).toBeGreaterThanOrEqual(needed / 4);
          expect(cover.packs.every((p) => Number.isInteger(p.count) && p.count > 0)).toBe(true);
        },
      ),
    );
  });

  it("never costs less to cover more, and the order of the packs changes nothing", () => {
    const wide = fc.record({
      size: fc.integer({ min: 1, max: 9999 }),
      cents: fc.integer({ min: 1, max: 9999 }),
    });
    const need = fc.integer({ min: 0, max: 100_000_000 });
    fc.assert(
      fc.property(fc.array(wide, { minLength: 1, maxLength: 6 }), need, need, (packs, a, b) => {
        const [less, more] = a < b ? [a, b] : [b, a];
        const cents = (n: number) => coverPacks(quarters(n), asSold(packs)).cents;
        expect(cents(less)).toBeLessThanOrEqual(cents(more));
        expect(coverPacks(quarters(more), asSold(packs.toReversed()))).toEqual(
          coverPacks(quarters(more), asSold(packs)),
        );
      }),
    );
  });
});
