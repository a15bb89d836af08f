import { describe, expect, it } from "vitest";
import { priceOf } from "../typed-price.ts";
import { editUnitCost, oneUnit, parseUnitCost } from "./unit.ts";

describe("unit costs", () => {
  it("keeps fractions of a cent both ways", () => {
    for (const [cents, dollars] of [
      ["285.5", "2.855"],
      ["420", "4.20"],
      ["0.0125", "0.000125"],
      ["0", "0.00"],
      ["5000000", "50000.00"],
    ] as const) {
      expect(editUnitCost(cents)).toBe(dollars);
      expect(parseUnitCost(dollars)).toBe(cents);
    }
  });
  it("takes what people type and refuses what is no amount", () => {
    expect(parseUnitCost("$1,250.5")).toBe("125050");
    expect(parseUnitCost("4,2")).toBeNull();
    expect(parseUnitCost("-1")).toBeNull();
    expect(parseUnitCost("")).toBeNull();
    expect(parseUnitCost("0.0000001")).toBeNull();
  });
});

describe("priceOf", () => {
  const labor = { code: "carpenter", hourly: { cents: 3000, currency: "USD" as const }, burdenBp: 3000 };
  const item = { materialUnitCents: "1000", wasteBp: 1000, hoursPerUnit: "0.5" };

  it("prices one unit, worked by hand: 11.00 + 0.66 + 19.50, 10 % over it, ÷ 0.7", () => {
    const price = priceOf(oneUnit(item, labor), { overheadBp: 1000, marginBp: 3000, materialTaxBp: 600 });
    expect(price).toMatchObject({ materialCents: 1100, taxCents: 66, laborCents: 1950, overheadCents: 312 });
    expect(price?.costCents).toBe(3428);
    expect(price?.priceCents).toBe(4897);
  });
  it("is null beyond ten million dollars", () => {
    const dear = { ...item, materialUnitCents: "5000000", wasteBp: 10000 };
    const rate = { ...labor, hourly: { cents: 100_000, currency: "USD" as const } };
    expect(
      priceOf(oneUnit({ ...dear, hoursPerUnit: "1000" }, rate), {
        overheadBp: 20_000,
        marginBp: 9000,
        materialTaxBp: 3000,
      }),
    ).toBeNull();
  });
});
