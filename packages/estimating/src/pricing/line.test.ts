import { describe, expect, it } from "vitest";
import { type LineTerms, NOTHING, type PriceableLine, priceLine, sumHours } from "./line.ts";
import { flatRates, material } from "./rates.fixture.ts";
import type { LaborUse, LineRates } from "./rates.ts";

const terms: LineTerms = { overheadBp: 1200, marginBp: 3500, materialTaxBp: 600 };
const free: LineTerms = { overheadBp: 0, marginBp: 0, materialTaxBp: 0 };
const figures = {
  materialUnitCents: "285",
  wasteBp: 1000,
  hoursPerUnit: "0.05",
  laborRateCode: "CARP",
  laborHourlyCents: 4000,
  laborBurdenBp: 3500,
};
const line = (
  quantity: string,
  change: Partial<typeof figures> = {},
  rates: Partial<LineRates> = {},
): PriceableLine => ({
  quantity,
  by: "us",
  rates: flatRates({ ...figures, ...change }, rates),
});

const pack = (size: string, cents: number) => material("1", { packs: [{ size, cents }] });
const hand = (hoursPerUnit: string, setupHours: string): LaborUse => ({
  code: "CARP",
  hoursPerUnit,
  setupHours,
  hourlyCents: 4000,
  burdenBp: 0,
});

describe("priceLine", () => {
  it("prices 120 units step by step, each step rounded once", () => {
    // Worked by hand: 120 x 1.10 x 285 = 37620; 6% = 2257.2; 120 x 0.05 = 6 h; 6 x 4000 x 1.35 = 32400;
    // 12% of 72277 = 8673.24; 80950 / 0.65 = 124538.46.
    expect(priceLine(line("120"), terms)).toEqual({
      materialCents: 37620,
      taxCents: 2257,
      hours: "6",
      laborCents: 32400,
      disposalCents: 0,
      equipmentCents: 0,
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
    expect(priceLine(zero, terms)).toEqual(NOTHING);
  });

  it.each([
    ["negative quantity", line("-1"), terms],
    ["negative quantity by others", { ...line("-0.5"), by: "others" as const }, terms],
    ["quantity that is no number", line("twelve"), terms],
    ["negative unit cost", line("1", { materialUnitCents: "-1" }), terms],
    ["pack that holds nothing", line("1", {}, { materials: [pack("0", 100)] }), terms],
    ["pack for a fraction of a cent", line("1", {}, { materials: [pack("1", 0.5)] }), terms],
    ["negative amount per unit", line("1", {}, { materials: [material("1", { perUnit: "-1" })] }), terms],
    ["negative setup", line("1", {}, { labor: [hand("0", "-1")] }), terms],
    ["negative disposal", line("1", {}, { disposalUnitCents: "-1" }), terms],
    ["negative equipment", line("1", {}, { equipmentUnitCents: "-0.5" }), terms],
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

describe("materials, labor rates and the rest of a line", () => {
  const deck: LineRates = {
    materials: [
      material("0", {
        code: "BOARD",
        perUnit: "2.2",
        wasteBp: 1000,
        packs: [
          { size: "12", cents: 2160 },
          { size: "16", cents: 2720 },
        ],
      }),
      material("0", {
        code: "SCREW",
        perUnit: "7",
        wasteBp: 500,
        packs: [
          { size: "75", cents: 599 },
          { size: "350", cents: 1899 },
        ],
      }),
      material("0", { code: "COATING", perUnit: "0.02", packs: [] }),
    ],
    labor: [
      { code: "LEAD", hoursPerUnit: "0.02", setupHours: "0.5", hourlyCents: 4800, burdenBp: 3500 },
      { code: "HELP", hoursPerUnit: "0.05", setupHours: "0", hourlyCents: 2600, burdenBp: 3000 },
    ],
    disposalUnitCents: "12.5",
    equipmentUnitCents: "7.25",
    laborCvBp: 2500,
  };

  it("prices three materials, two labor rates, disposal and equipment", () => {
    // Worked by hand for 40. Boards: 16 ft at $1.70 a foot beats 12 ft at $1.80: 40 x 2.2 x 1.1 x 170 = 16456.
    // Screws: 1899 / 350 beats 599 / 75: 40 x 7 x 1.05 x 1899 / 350 = 1595.16. Coating has no price. Material 18051;
    // 6% = 1083.06. Lead: 0.8 + 0.5 = 1.3 h x 4800 x 1.35 = 8424; helper: 2 h x 2600 x 1.3 = 6760. Disposal 500,
    // equipment 290; direct 35108; 12% = 4212.96; 39321 / 0.65 = 60493.85.
    expect(priceLine({ quantity: "40", by: "us", rates: deck }, terms)).toEqual({
      materialCents: 18051,
      taxCents: 1083,
      hours: "3.3",
      laborCents: 15184,
      disposalCents: 500,
      equipmentCents: 290,
      overheadCents: 4213,
      costCents: 39321,
      priceCents: 60494,
    });
  });

  it("rounds each material and each labor rate by itself: two halves of a cent are two cents", () => {
    const half = material("0.5");
    const labor = { ...hand("0.0001", "0"), hourlyCents: 5000 };
    const rates = { materials: [half, half], labor: [labor, labor] };
    expect(priceLine(line("1", {}, rates), free)).toMatchObject({ materialCents: 2, laborCents: 2 });
  });

  it.each([
    ["the large one", [["10", 900] as const, ["100", 8000] as const], 80],
    ["the small one", [["10", 700] as const, ["100", 8000] as const], 70],
    ["whichever order they come in", [["100", 8000] as const, ["10", 900] as const], 80],
    ["the only one", [["4", 100] as const], 25],
  ])("takes the cheapest pack for the cost of a unit: %s", (_name, packs, cents) => {
    const one = material("0", { packs: packs.map(([size, cents]) => ({ size, cents })) });
    expect(priceLine(line("1", {}, { materials: [one], labor: [] }), free).materialCents).toBe(cents);
  });

  it("a material without packs counts nothing, whatever the quantity", () => {
    const bare = material("0", { packs: [] });
    const without = priceLine(line("500", {}, { materials: [] }), terms);
    expect(priceLine(line("500", {}, { materials: [bare] }), terms)).toEqual(without);
    expect(without.materialCents).toBe(0);
    expect(without.priceCents).toBeGreaterThan(0);
  });

  it("sets up once, whatever the quantity, and not for nothing", () => {
    const hours = (quantity: string) =>
      priceLine(line(quantity, {}, { labor: [hand("0.1", "1.5")] }), free).hours;
    expect(["0", "0.0", "0.0001", "1", "2", "10"].map(hours)).toEqual(["0", "0", "1.5", "1.6", "1.7", "2.5"]);
  });

  it("sets up for each labor rate", () => {
    const rates = { labor: [hand("0", "1"), hand("0", "0.25")] };
    expect(priceLine(line("3", {}, rates), free)).toMatchObject({ hours: "1.25", laborCents: 5000 });
  });

  it("charges disposal and equipment by the unit, with overhead and margin but no sales tax", () => {
    const rates = { materials: [], labor: [], disposalUnitCents: "33.3", equipmentUnitCents: "0.05" };
    // By hand: 10 x 33.3 = 333; 10 x 0.05 = 0.5, up to 1; 12% of 334 = 40.08; 374 / 0.65 = 575.38.
    expect(priceLine(line("10", {}, rates), { ...terms, materialTaxBp: 1200 })).toEqual({
      ...NOTHING,
      disposalCents: 333,
      equipmentCents: 1,
      overheadCents: 40,
      costCents: 374,
      priceCents: 575,
    });
  });
});

describe("sumHours", () => {
  it("adds to four places without losing any", () => {
    expect(sumHours([])).toBe("0");
    expect(sumHours(["0.1", "0.2", "0.0001"])).toBe("0.3001");
    expect(sumHours(["2", "-3.5"])).toBe("-1.5");
  });
});
