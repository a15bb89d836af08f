import { describe, expect, it } from "vitest";
import { type LineRates, type PriceableLine, type PricingTerms, priceLine, priceRevision } from "./index.ts";

const terms: PricingTerms = { overheadBp: 1200, marginBp: 3500, materialTaxBp: 600 };
const free: PricingTerms = { overheadBp: 0, marginBp: 0, materialTaxBp: 0 };
const rates: LineRates = {
  materialUnitCents: "285",
  wasteBp: 1000,
  hoursPerUnit: "0.05",
  laborRateCode: "CARP",
  laborHourlyCents: 4000,
  laborBurdenBp: 3500,
};
const line = (quantity: string, change: Partial<LineRates> = {}): PriceableLine => ({
  quantity,
  by: "us",
  rates: { ...rates, ...change },
});
const nothing = {
  materialCents: 0,
  taxCents: 0,
  hours: "0",
  laborCents: 0,
  overheadCents: 0,
  costCents: 0,
  priceCents: 0,
};

describe("priceLine", () => {
  it("prices 120 units step by step, each step rounded once", () => {
    // Worked by hand: 120 x 1.10 x 285 = 37620; 6% = 2257.2; 120 x 0.05 = 6 h; 6 x 4000 x 1.35 = 32400;
    // 12% of 72277 = 8673.24; 80950 / 0.65 = 124538.46.
    expect(priceLine(line("120"), terms)).toEqual({
      materialCents: 37620,
      taxCents: 2257,
      hours: "6",
      laborCents: 32400,
      overheadCents: 8673,
      costCents: 80950,
      priceCents: 124538,
    });
  });

  it.each([
    ["a half cent of material goes up", "0.5", { materialUnitCents: "1", wasteBp: 0 }, { materialCents: 1 }],
    [
      "just under half a cent goes down",
      "0.4999",
      { materialUnitCents: "1", wasteBp: 0 },
      { materialCents: 0 },
    ],
    [
      "unit costs carry fractions of a cent",
      "1000",
      { materialUnitCents: "0.125", wasteBp: 0 },
      { materialCents: 125 },
    ],
    ["hours keep four places", "0.3333", { hoursPerUnit: "0.3333" }, { hours: "0.1111" }],
    ["hours tie at the fifth place goes up", "0.5", { hoursPerUnit: "0.0001" }, { hours: "0.0001" }],
    // 0.00005 h rounds to 0.0001 h first, so $10,000 an hour gives 100 cents and not 50.
    [
      "labor is priced from the hours shown",
      "0.5",
      { hoursPerUnit: "0.0001", laborHourlyCents: 1_000_000, laborBurdenBp: 0 },
      { laborCents: 100 },
    ],
  ])("%s", (_name, quantity, change, expected) => {
    expect(priceLine(line(quantity, change), free)).toMatchObject(expected);
  });

  it("takes sales tax on the rounded material, not on labor", () => {
    const price = priceLine(line("1", { materialUnitCents: "1050", wasteBp: 0 }), {
      ...free,
      materialTaxBp: 500,
    });
    expect(price).toMatchObject({ materialCents: 1050, taxCents: 53, laborCents: 270, priceCents: 1373 });
  });

  it("reads margin as a share of the price: at 50% the price is twice the cost", () => {
    const price = priceLine(line("120"), { ...terms, marginBp: 5000 });
    expect(price.priceCents).toBe(2 * price.costCents);
  });

  it.each([
    ["by the owner", { ...line("10"), by: "owner" as const }],
    ["by others", { ...line("10"), by: "others" as const }],
    ["without rates", { ...line("10"), rates: null }],
    ["of nothing", line("0")],
  ])("a line %s prices to zero", (_name, zero) => {
    expect(priceLine(zero, terms)).toEqual(nothing);
  });

  it.each([
    ["negative quantity", line("-1"), terms],
    ["negative quantity by others", { ...line("-0.5"), by: "others" as const }, terms],
    ["quantity that is no number", line("twelve"), terms],
    ["negative unit cost", line("1", { materialUnitCents: "-1" }), terms],
    ["negative hours", line("1", { hoursPerUnit: "-1" }), terms],
    ["negative waste", line("1", { wasteBp: -1 }), terms],
    ["fraction of a basis point", line("1", { laborBurdenBp: 0.5 }), terms],
    ["negative hourly rate", line("1", { laborHourlyCents: -1 }), terms],
    ["negative margin", line("1"), { ...terms, marginBp: -1 }],
    ["margin above 90%", line("1"), { ...terms, marginBp: 9001 }],
    ["negative overhead", line("1"), { ...terms, overheadBp: -1 }],
    ["negative tax", line("1"), { ...terms, materialTaxBp: -1 }],
    ["price no field can hold", line("100000", { materialUnitCents: "100000" }), terms],
    ["hours past any house", line("100000", { hoursPerUnit: "1000", laborHourlyCents: 0 }), terms],
  ])("refuses a %s", (_name, bad, badTerms) => {
    expect(() => priceLine(bad, badTerms)).toThrow(RangeError);
  });

  it("accepts margins of 0% and 90%", () => {
    const cost = priceLine(line("120"), { ...terms, marginBp: 0 });
    expect(cost.priceCents).toBe(cost.costCents);
    expect(priceLine(line("120"), { ...terms, marginBp: 9000 }).priceCents).toBe(10 * cost.costCents);
  });
});

describe("priceRevision", () => {
  it("puts a price on every line, keeps the line's own fields, and sums rounded lines", () => {
    const lines = [
      { ...line("120"), id: "a" },
      { ...line("3.5", { materialUnitCents: "1999.5" }), id: "b" },
      { ...line("4"), by: "owner" as const, id: "c" },
    ];
    const priced = priceRevision({ lines }, terms);
    expect(priced.lines.map((l) => l.id)).toEqual(["a", "b", "c"]);
    // b, by hand: 3.5 x 1.1 x 1999.5 = 7698.075; tax 461.88; 0.175 h; labor 945; overhead 1092.6 from 9105; cost
    // 10198; price 15689.23.
    expect(priced.lines[1]?.price).toEqual({
      materialCents: 7698,
      taxCents: 462,
      hours: "0.175",
      laborCents: 945,
      overheadCents: 1093,
      costCents: 10198,
      priceCents: 15689,
    });
    expect(priced.totals).toEqual({
      materialCents: 45318,
      taxCents: 2719,
      hours: "6.175",
      laborCents: 33345,
      overheadCents: 9766,
      costCents: 91148,
      priceCents: 140227,
    });
  });

  it("rounds per line, never on the sum: three lines of half a cent are three cents", () => {
    const half = line("0.5", { materialUnitCents: "1", wasteBp: 0, hoursPerUnit: "0" });
    expect(priceRevision({ lines: [half, half, half] }, free).totals.priceCents).toBe(3);
  });

  it("an empty revision costs nothing", () => {
    expect(priceRevision({ lines: [] }, terms)).toEqual({ lines: [], totals: nothing });
  });

  it("refuses bad terms even when no line is priced", () => {
    expect(() => priceRevision({ lines: [] }, { ...terms, marginBp: 9500 })).toThrow(RangeError);
  });
});
