import { describe, expect, it } from "vitest";
import { editUnitCost, parseUnitCost, perUnit } from "./unit-cost.ts";

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
  it("says what a unit costs in a pack, to a hundredth of a cent, half up", () => {
    expect(perUnit("350", 1899)).toBe("0.0543");
    expect(perUnit("8", 1098)).toBe("1.3725");
    expect(perUnit("1", 420)).toBe("4.20");
    expect(perUnit("0.5", 100)).toBe("2.00");
    expect(perUnit("20000", 1)).toBe("0.00");
  });
});
