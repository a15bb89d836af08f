import { describe, expect, it } from "vitest";
import { type PriceableLine, unfoldLine } from "./index.ts";

const terms = { overheadBp: 1200, marginBp: 3500, materialTaxBp: 650 };
const line: PriceableLine = {
  quantity: "120",
  by: "us",
  rates: {
    materialUnitCents: "285.5",
    wasteBp: 1000,
    hoursPerUnit: "0.05",
    laborRateCode: "CARP",
    laborHourlyCents: 4000,
    laborBurdenBp: 3500,
  },
};

describe("unfoldLine", () => {
  it("shows every step as arithmetic a person can redo", () => {
    // By hand: 120 x 1.1 x 285.5 = 37686; 6.5% = 2449.59; 6 h x 4000 x 1.35 = 32400; 12% of 72536 = 8704.32;
    // 81240 / 0.65 = 124984.6, less the cost.
    expect(unfoldLine(line, terms)).toEqual([
      { label: "Material with 10% waste", formula: "120 × 1.1 × $2.855", cents: 37686 },
      { label: "Sales tax on material, 6.5%", formula: "$376.86 × 0.065", cents: 2450 },
      {
        label: "Labor at CARP with 35% burden",
        formula: "120 × 0.05 h = 6 h; 6 h × $40 × 1.35",
        cents: 32400,
      },
      { label: "Overhead, 12% of material, tax and labor", formula: "$725.36 × 0.12", cents: 8704 },
      { label: "Margin, 35% of the price", formula: "$812.40 ÷ 0.65 − $812.40", cents: 43745 },
    ]);
  });

  it.each([
    ["owner", { ...line, by: "owner" as const }, "By owner: not in the price"],
    ["others", { ...line, by: "others" as const }, "By others: not in the price"],
    ["no rates", { ...line, rates: null }, "No rates: not in the price"],
  ])("says why a line is not in the price (%s)", (_name, unpriced, label) => {
    expect(unfoldLine(unpriced, terms)).toEqual([{ label, formula: "", cents: 0 }]);
  });
});
