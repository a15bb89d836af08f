import { describe, expect, it } from "vitest";
import { type Allowance, agreedPrice, allowanceFindings, expectedQuantity } from "./allowance.ts";
import { NOTHING } from "./line.ts";
import { flatRates } from "./rates.fixture.ts";
import { type PricingTerms, priceRevision, type RevisionLine } from "./revision.ts";

const free: PricingTerms = {
  overheadBp: 0,
  marginBp: 0,
  materialTaxBp: 0,
  minimumChargeCents: 0,
  roundUpToCents: 0,
};
const rates = flatRates({
  materialUnitCents: "100",
  wasteBp: 0,
  hoursPerUnit: "0.5",
  laborRateCode: "CARP",
  laborHourlyCents: 1000,
  laborBurdenBp: 0,
});
/** $6 a unit at free terms: $1 of material and half an hour at $10. */
const line = (quantity: string, change: Partial<RevisionLine> = {}): RevisionLine => ({
  quantity,
  by: "us",
  rates,
  ...change,
});
const rot = (change: Partial<Allowance> = {}): Allowance => ({
  chanceBp: 4000,
  lowQuantity: "2",
  highQuantity: "13",
  capQuantity: "10",
  charge: "included",
  ...change,
});

describe("alternates", () => {
  const lines = [
    line("10"),
    line("2", { alternate: "Stain" }),
    line("3", { alternate: "Lattice" }),
    line("4", { alternate: "Stain" }),
    line("5", { alternate: "Gate", by: "owner" }),
  ];

  it("are priced beside the base, in the order they first appear, and never in the total", () => {
    const priced = priceRevision({ lines }, free);
    expect(priced.lines.map((l) => [l.standing, l.price.priceCents])).toEqual([
      ["base", 6000],
      ["alternate", 1200],
      ["alternate", 1800],
      ["alternate", 2400],
      ["not_ours", 0],
    ]);
    expect(priced.alternates.map((a) => [a.name, a.price.priceCents, a.price.hours])).toEqual([
      ["Stain", 3600, "3"],
      ["Lattice", 1800, "1.5"],
    ]);
    expect(priced.totals).toMatchObject({ priceCents: 6000, hours: "5" });
  });

  it("neither reach the minimum charge nor are raised to it", () => {
    const priced = priceRevision({ lines }, { ...free, minimumChargeCents: 9000, roundUpToCents: 5000 });
    expect(priced.totals.priceCents).toBe(10_000);
    expect(priced.alternates.map((a) => a.price.priceCents)).toEqual([3600, 1800]);
  });
});

describe("an allowance charged only if found", () => {
  it("adds nothing and has an agreed unit price and a cap", () => {
    const found = line("6", { allowance: rot({ charge: "if_found", capQuantity: "7.5" }) });
    const priced = priceRevision({ lines: [line("10"), found] }, free);
    expect(priced.lines[1]).toMatchObject({
      standing: "if_found",
      price: NOTHING,
      agreed: { unitPriceCents: 600, capQuantity: "7.5", capCents: 4500 },
    });
    expect(priced.totals).toMatchObject({ priceCents: 6000, hours: "5" });
  });

  it("spreads the time to set up over the likeliest amount, to the cent", () => {
    const setup = { ...rates, labor: rates.labor.map((l) => ({ ...l, setupHours: "1" })) };
    // By hand: 7 x 600 + 1000 = 5200; 5200 / 7 = 742.86; 743 x 10 = 7430.
    const allowance = rot({ charge: "if_found" });
    expect(agreedPrice(line("7", { rates: setup }), allowance, free)).toEqual({
      unitPriceCents: 743,
      capQuantity: "10",
      capCents: 7430,
    });
  });

  it.each([
    ["by the owner", line("6", { by: "owner" }), "not_ours"],
    ["without rates", line("6", { rates: null }), "unpriced"],
  ] as const)("%s has no agreed price", (_name, base, standing) => {
    const priced = priceRevision({ lines: [{ ...base, allowance: rot({ charge: "if_found" }) }] }, free);
    expect(priced.lines[0]).toMatchObject({ standing, agreed: null, price: NOTHING });
  });

  it("has no agreed price where the likeliest amount is nothing", () => {
    const allowance = rot({ charge: "if_found", lowQuantity: "0" });
    expect(priceRevision({ lines: [line("0", { allowance })] }, free).lines[0]).toMatchObject({
      standing: "if_found",
      agreed: null,
    });
  });

  it("stays out of the extra it is written in", () => {
    const allowance = rot({ charge: "if_found" });
    const priced = priceRevision({ lines: [line("6", { alternate: "Stain", allowance })] }, free);
    expect(priced).toMatchObject({ alternates: [], lines: [{ standing: "if_found" }] });
  });
});

describe("an allowance inside the price", () => {
  it("is priced at its expected quantity and keeps its own", () => {
    // By hand: 40% of (2 + 6 + 13) / 3 = 2.8; 2.8 x 100 = 280; 1.4 h = 1400.
    const priced = priceRevision({ lines: [line("6", { allowance: rot() })] }, free);
    expect(priced.lines[0]).toMatchObject({
      quantity: "6",
      standing: "base",
      price: { materialCents: 280, hours: "1.4", laborCents: 1400, priceCents: 1680 },
      agreed: { unitPriceCents: 600, capCents: 6000 },
    });
    expect(priced.totals.priceCents).toBe(1680);
    expect(priced.purchases).toMatchObject([{ needed: "2.8", usedCents: 280 }]);
  });

  it("belongs to the extra it is written in", () => {
    const priced = priceRevision({ lines: [line("6", { alternate: "Stain", allowance: rot() })] }, free);
    expect(priced).toMatchObject({
      totals: { priceCents: 0 },
      alternates: [{ name: "Stain", price: { priceCents: 1680 } }],
    });
  });
});

describe("expectedQuantity", () => {
  // Source: "Triangular distribution", Wikipedia, https://en.wikipedia.org/wiki/Triangular_distribution: the mean is
  // (a + b + c) / 3.
  it.each([
    ["certain", "3", rot({ chanceBp: 10_000, lowQuantity: "3", highQuantity: "3" }), "3"],
    ["impossible", "3", rot({ chanceBp: 0 }), "0"],
    ["even chance", "4", rot({ chanceBp: 5000, lowQuantity: "0", highQuantity: "8" }), "2"],
    ["to four places", "1", rot({ chanceBp: 10_000, lowQuantity: "0", highQuantity: "1" }), "0.6667"],
  ])("%s", (_name, likely, allowance, expected) => {
    expect(expectedQuantity(likely, allowance)).toBe(expected);
  });
});

describe("an allowance that no price can be made of", () => {
  it.each([
    ["chance above 100%", "6", { chanceBp: 10_001 }],
    ["chance below 0%", "6", { chanceBp: -1 }],
    ["fraction of a basis point", "6", { chanceBp: 0.5 }],
    ["negative quantity, though the expected one is not", "-1", {}],
    ["negative least", "6", { lowQuantity: "-1" }],
    ["negative most", "6", { highQuantity: "-1" }],
    ["negative cap", "6", { capQuantity: "-1" }],
    ["most that is no number", "6", { highQuantity: "plenty" }],
  ])("is refused: %s", (_name, quantity, change) => {
    for (const charge of ["included", "if_found"] as const) {
      for (const base of [{}, { rates: null }, { by: "owner" as const }, { alternate: "Stain" }]) {
        const bad = line(quantity, { ...base, allowance: rot({ ...change, charge }) });
        expect(() => priceRevision({ lines: [bad] }, free)).toThrow(RangeError);
      }
    }
  });
});

describe("allowanceFindings", () => {
  const fields = (quantity: string, change: Partial<Allowance> = {}) =>
    allowanceFindings(quantity, rot(change)).map((f) => f.field);
  it.each([
    ["sound", "6", {}, []],
    ["all three the same", "5", { lowQuantity: "5.0", highQuantity: "5" }, []],
    ["chances of 0% and 100%", "6", { chanceBp: 0 }, []],
    ["a certain chance", "6", { chanceBp: 10_000 }, []],
    ["a chance above 100%", "6", { chanceBp: 10_001 }, ["allowance.chanceBp"]],
    ["a chance below 0%", "6", { chanceBp: -1 }, ["allowance.chanceBp"]],
    ["a fraction of a basis point", "6", { chanceBp: 0.5 }, ["allowance.chanceBp"]],
    ["least above likeliest", "1.9999", {}, ["allowance.lowQuantity"]],
    ["most below likeliest", "13.0001", {}, ["allowance.highQuantity"]],
    ["no cap", "6", { capQuantity: "0" }, ["allowance.capQuantity"]],
    [
      "everything",
      "6",
      { chanceBp: -1, lowQuantity: "7", highQuantity: "5", capQuantity: "0" },
      ["allowance.chanceBp", "allowance.lowQuantity", "allowance.highQuantity", "allowance.capQuantity"],
    ],
  ])("%s", (_name, quantity, change, expected) => {
    expect(fields(quantity, change)).toEqual(expected);
  });
});
