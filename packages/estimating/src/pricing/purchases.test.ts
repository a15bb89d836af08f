import { describe, expect, it } from "vitest";
import { NOTHING } from "./line.ts";
import { material, only } from "./rates.fixture.ts";
import type { MaterialUse } from "./rates.ts";
import { type PricingTerms, priceRevision, type RevisionLine } from "./revision.ts";

const terms: PricingTerms = {
  overheadBp: 1200,
  marginBp: 3500,
  materialTaxBp: 600,
  minimumChargeCents: 0,
  roundUpToCents: 0,
};
const free: PricingTerms = { ...terms, overheadBp: 0, marginBp: 0, materialTaxBp: 0 };

/** Material only, so that with free terms the price is the cents of the materials. */
const takes = (quantity: string, ...materials: MaterialUse[]): RevisionLine => ({
  quantity,
  by: "us",
  rates: only(...materials),
});
const dollar = (count: number) => takes(String(count), material("100"));
const kinds = (lines: RevisionLine[], with_: PricingTerms) =>
  priceRevision({ lines }, with_).adjustments.map((a) => [a.kind, a.price.priceCents]);

describe("whole packs", () => {
  const screws = (change: Partial<MaterialUse> = {}) =>
    material("0", { code: "SCREW", packs: [{ size: "500", cents: 2000 }], wholePacks: true, ...change });

  it("two lines share one box, and what is left in it is charged with tax, overhead and margin", () => {
    const { adjustments, purchases, totals, lines } = priceRevision(
      { lines: [takes("100", screws()), takes("100", screws())] },
      terms,
    );
    // By hand: each line 100 x 4 = 400, tax 24, overhead 50.88, cost 475, price 730.77. Bought 2000:
    // tax 120; 12% of 2120 = 254.4; 2374 / 0.65 = 3652.31. Less the two lines, part by part.
    expect(lines.map((l) => l.price.priceCents)).toEqual([731, 731]);
    expect(purchases).toEqual([
      {
        code: "SCREW",
        name: "Board",
        unit: "each",
        section: null,
        wholePacks: true,
        needed: "200",
        usedCents: 800,
        packs: [{ size: "500", cents: 2000, count: 1 }],
        packsCents: 2000,
        leftoverCents: 1200,
      },
    ]);
    expect(adjustments).toMatchObject([
      {
        kind: "whole_packs",
        price: {
          ...NOTHING,
          materialCents: 1200,
          taxCents: 72,
          overheadCents: 152,
          costCents: 1424,
          priceCents: 2190,
        },
        purchases,
      },
    ]);
    expect(totals.priceCents).toBe(3652);
    expect(totals.materialCents).toBe(2000);
  });

  it.each([
    ["none is left over", "500", 0],
    ["one more than a box needs another box", "501", 1996],
    ["what is left of a box", "400", 400],
  ])("%s", (_name, quantity, leftover) => {
    const packed = [takes(quantity, screws())];
    expect(kinds(packed, free)).toEqual(leftover > 0 ? [["whole_packs", leftover]] : []);
  });

  it("charges what waste pushes into a second box", () => {
    // By hand: 400 x 1.3 = 520 takes two boxes, 4000; used 520 x 4 = 2080.
    expect(kinds([takes("400", screws({ wasteBp: 3000 }))], free)).toEqual([["whole_packs", 1920]]);
  });

  it("lists what to buy but charges nothing for leftovers of a material taken from stock", () => {
    const priced = priceRevision({ lines: [takes("100", screws({ wholePacks: false }))] }, terms);
    expect(priced.adjustments).toEqual([]);
    expect(priced.purchases).toMatchObject([{ packsCents: 2000, usedCents: 400, leftoverCents: 0 }]);
  });

  it("does not let one material's flag decide for the same material without it, in either order", () => {
    const packed = takes("100", screws());
    const stock = takes("100", screws({ wholePacks: false }));
    expect(kinds([packed, stock], free)).toEqual(kinds([stock, packed], free));
    expect(kinds([packed, stock], free)).toEqual([["whole_packs", 1600]]);
  });

  it("keeps materials of other codes and prices apart, in the order they first appear", () => {
    const dearer = screws({ packs: [{ size: "500", cents: 2500 }] });
    const { purchases } = priceRevision(
      {
        lines: [
          takes("1", screws(), material("100", { code: "POST" })),
          takes("1", dearer),
          takes("1", screws()),
        ],
      },
      free,
    );
    expect(purchases.map((p) => [p.code, p.needed, p.packsCents])).toEqual([
      ["SCREW", "2", 2000],
      ["POST", "1", 100],
      ["SCREW", "1", 2500],
    ]);
  });

  it("buys nothing for work by others, extras and what is charged only if found", () => {
    const allowance = {
      chanceBp: 5000,
      lowQuantity: "0",
      highQuantity: "900",
      capQuantity: "900",
      charge: "if_found" as const,
    };
    const lines = [
      { ...takes("1", screws()), by: "owner" as const },
      { ...takes("1", screws()), alternate: "Stain" },
      { ...takes("1", screws()), allowance },
    ];
    expect(priceRevision({ lines }, terms)).toMatchObject({ purchases: [], adjustments: [] });
  });

  it("a material without packs is named, with nothing to buy", () => {
    const bare = screws({ packs: [] });
    expect(priceRevision({ lines: [takes("7", bare), dollar(1)] }, free)).toMatchObject({
      purchases: [
        { code: "SCREW", needed: "7", packs: [], packsCents: 0, leftoverCents: 0 },
        { code: "BOARD" },
      ],
      adjustments: [],
      totals: { priceCents: 100 },
    });
  });
});
