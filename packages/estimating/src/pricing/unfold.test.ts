import { describe, expect, it } from "vitest";
import type { Allowance } from "./allowance.ts";
import { flatRates, material, only } from "./rates.fixture.ts";
import { priceRevision, type RevisionLine } from "./revision.ts";
import { unfoldAdjustment, unfoldCharge, unfoldLine } from "./unfold.ts";

const terms = { overheadBp: 1200, marginBp: 3500, materialTaxBp: 650 };
const rates = flatRates(
  {
    materialUnitCents: "285.5",
    wasteBp: 1000,
    hoursPerUnit: "0.05",
    laborRateCode: "CARP",
    laborHourlyCents: 4000,
    laborBurdenBp: 3500,
  },
  {},
);
const line: RevisionLine = { quantity: "120", by: "us", rates };
const shown = (line: RevisionLine) => unfoldLine(line, terms).map((r) => [r.label, r.formula, r.cents]);

describe("unfoldLine", () => {
  it("shows every step as arithmetic a person can redo", () => {
    // By hand: 120 x 1.1 x 285.5 = 37686; 6.5% = 2449.59; 6 h x 4000 x 1.35 = 32400; 12% of 72536 = 8704.32;
    // 81240 / 0.65 = 124984.6, less the cost.
    expect(unfoldLine(line, terms)).toEqual([
      { label: "Board with 10% waste", formula: "120 × 1.1 × $28.55 ÷ 10", cents: 37686 },
      { label: "Sales tax on material, 6.5%", formula: "$376.86 × 0.065", cents: 2450 },
      {
        label: "Labor at CARP with 35% burden",
        formula: "120 × 0.05 h = 6 h; 6 h × $40 × 1.35",
        cents: 32400,
      },
      { label: "Overhead, 12% of direct cost", formula: "$725.36 × 0.12", cents: 8704 },
      { label: "Margin, 35% of the price", formula: "$812.40 ÷ 0.65 − $812.40", cents: 43745 },
    ]);
  });

  it("shows the pack a material is priced at, amounts, time to set up, disposal and equipment", () => {
    const screw = material("0", {
      name: "Screw",
      perUnit: "7.0",
      packs: [
        { size: "75", cents: 599 },
        { size: "350.00", cents: 1899 },
      ],
    });
    const coating = material("0", { name: "Coating", perUnit: "0.02", packs: [] });
    const full = {
      ...only(screw, coating, material("285", { perUnit: "1.0" })),
      labor: rates.labor.map((use) => ({ ...use, setupHours: "1.50" })),
      disposalUnitCents: "12.5",
      equipmentUnitCents: "300",
    };
    // By hand: 40 x 7 x 1899 / 350 = 1519.2; 40 x 285 = 11400; 6.5% of 12919 = 839.735; 3.5 h x 5400 = 18900;
    // 40 x 12.5 = 500; 40 x 300 = 12000; 12% of 45159 = 5419.08; 50578 / 0.65 = 77812.31.
    expect(shown({ quantity: "40.0", by: "us", rates: full })).toEqual([
      ["Screw", "40 × 7 × $18.99 ÷ 350", 1519],
      ["Coating", "40 × 0.02 × no price", 0],
      ["Board", "40 × $2.85", 11400],
      ["Sales tax on material, 6.5%", "$129.19 × 0.065", 840],
      ["Labor at CARP with 35% burden", "40 × 0.05 h + 1.5 h = 3.5 h; 3.5 h × $40 × 1.35", 18900],
      ["Hauling away and tipping", "40 × $0.125", 500],
      ["Equipment", "40 × $3", 12000],
      ["Overhead, 12% of direct cost", "$451.59 × 0.12", 5419],
      ["Margin, 35% of the price", "$505.78 ÷ 0.65 − $505.78", 27234],
    ]);
  });

  it("does not show time to set up that is not charged", () => {
    const labor = rates.labor.map((use) => ({ ...use, setupHours: "1.5" }));
    expect(shown({ ...line, quantity: "0.0", rates: { ...rates, labor } })[2]).toEqual([
      "Labor at CARP with 35% burden",
      "0 × 0.05 h = 0 h; 0 h × $40 × 1.35",
      0,
    ]);
  });

  it("starts an allowance inside the price with its expected quantity", () => {
    const allowance: Allowance = {
      chanceBp: 4000,
      lowQuantity: "2.0",
      highQuantity: "13",
      capQuantity: "10",
      charge: "included",
    };
    const rows = shown({ ...line, quantity: "6", allowance });
    expect(rows.slice(0, 2)).toEqual([
      ["Expected quantity of what cannot be seen", "0.4 × (2 + 6 + 13) ÷ 3 = 2.8", 0],
      // By hand: 2.8 x 1.1 x 285.5 = 879.34.
      ["Board with 10% waste", "2.8 × 1.1 × $28.55 ÷ 10", 879],
    ]);
    expect(shown({ ...line, quantity: "6", allowance: { ...allowance, charge: "if_found" } })).toEqual([
      ["Charged only if found, at the agreed unit price", "", 0],
    ]);
  });

  it.each([
    ["owner", { ...line, by: "owner" as const }, "By owner: not in the price"],
    ["others", { ...line, by: "others" as const }, "By others: not in the price"],
    ["no rates", { ...line, rates: null }, "No rates: not in the price"],
  ])("says why a line is not in the price (%s)", (_name, unpriced, label) => {
    expect(unfoldLine(unpriced, terms)).toEqual([{ label, formula: "", cents: 0 }]);
  });

  it.each([
    ["by the owner", { ...line, by: "owner" as const, quantity: "-1" }],
    ["by us", { ...line, quantity: "-1" }],
  ])("refuses a negative quantity %s", (_name, bad) => {
    expect(() => unfoldLine(bad, terms)).toThrow(RangeError);
  });
});

describe("unfoldCharge", () => {
  const charge = { kind: "travel" as const, words: "Ferry", costCents: 150_50 };
  it("is the cost alone where it is passed on at cost", () => {
    expect(unfoldCharge({ ...charge, atCost: true }, terms)).toEqual([
      { label: "Ferry", formula: "$150.50", cents: 15050 },
    ]);
  });

  it("adds overhead and margin where it is not", () => {
    // By hand: 12% of 15050 = 1806; 16856 / 0.65 = 25932.3.
    expect(unfoldCharge({ ...charge, atCost: false }, terms)).toEqual([
      { label: "Ferry", formula: "$150.50", cents: 15050 },
      { label: "Overhead, 12% of direct cost", formula: "$150.50 × 0.12", cents: 1806 },
      { label: "Margin, 35% of the price", formula: "$168.56 ÷ 0.65 − $168.56", cents: 9076 },
    ]);
  });
});

describe("unfoldAdjustment", () => {
  it("shows the boxes that are bought, the minimum and the rounding", () => {
    const joist = material("0", {
      name: "Joist",
      wholePacks: true,
      packs: [
        { size: "8", cents: 800 },
        { size: "12.50", cents: 1200 },
      ],
    });
    const whole = { ...terms, minimumChargeCents: 500_00, roundUpToCents: 150_00 };
    const { adjustments } = priceRevision(
      { lines: [{ quantity: "20", by: "us", rates: only(joist) }] },
      whole,
    );
    // By hand: 20 at 1200 / 12.5 = 1920; one of each is 2000 and holds 20.5; left over 80: tax 5.2; 12% of 85 = 10.2;
    // 95 / 0.65 = 146.15. The line: tax 124.8; 12% of 2045 = 245.4; 2290 / 0.65 = 3523.08; together 3669.
    expect(
      adjustments.map((a) => unfoldAdjustment(a, whole).map((r) => [r.label, r.formula, r.cents])),
    ).toEqual([
      [
        ["Joist: 1 × 12.5 + 1 × 8", "$20 − $19.20", 80],
        ["Sales tax on material, 6.5%", "$20 × 0.065 − $1.25", 5],
        ["Overhead, 12% of direct cost", "$21.30 × 0.12 − $2.45", 11],
        ["Margin, 35% of the price", "$23.86 ÷ 0.65 − $23.86 − $12.33", 52],
      ],
      [["Minimum charge, $500", "$500 − $36.71", 463_29]],
      [["Rounded up to $600", "$600 − $500", 100_00]],
    ]);
  });
});
