import { describe, expect, it } from "vitest";
import {
  type AllowanceEdit,
  allowanceFaults,
  contradictions,
  expectedOf,
  noAllowance,
  sameTyped,
  wholeAllowance,
  withMost,
} from "./allowance.ts";
import { allowanceWords } from "./told.ts";

const typed: AllowanceEdit = {
  chanceBp: 2000,
  lowQuantity: "2",
  highQuantity: "12",
  capQuantity: "12",
  charge: "if_found",
};

describe("an allowance as it is typed", () => {
  it("counts once every part of it is there", () => {
    expect(wholeAllowance(noAllowance("included"))).toBeNull();
    expect(wholeAllowance({ ...typed, capQuantity: null })).toBeNull();
    expect(wholeAllowance(typed)).toEqual(typed);
  });
  it("asks for what is missing, and contradicts only what was typed", () => {
    const begun = { ...noAllowance("included"), chanceBp: 2000, lowQuantity: "9" };
    expect(Object.keys(allowanceFaults(begun, "4"))).toEqual(["highQuantity", "capQuantity"]);
    expect(contradictions(begun, "4")).toEqual({});
    expect(Object.keys(contradictions({ ...typed, lowQuantity: "9" }, "4"))).toEqual(["lowQuantity"]);
    expect(Object.keys(contradictions({ ...typed, highQuantity: "3" }, "4"))).toEqual(["highQuantity"]);
    expect(contradictions({ ...typed, highQuantity: "0", lowQuantity: "0" }, "0")).toHaveProperty(
      "highQuantity",
    );
    expect(contradictions(typed, "4")).toEqual({});
  });
  it("lets the cap follow the most until another cap is typed", () => {
    const begun = withMost(noAllowance("if_found"), "8");
    expect(begun.capQuantity).toBe("8");
    expect(withMost(begun, "80").capQuantity).toBe("80");
    expect(withMost({ ...begun, capQuantity: "5" }, "80").capQuantity).toBe("5");
  });
  it("expects chance times the mean of the three: 0.2 x (2 + 4 + 12) / 3", () => {
    expect(expectedOf(typed, "4")).toBe("1.2");
    expect(expectedOf(typed, null)).toBeNull();
  });
  it("is told in one breath", () => {
    expect(allowanceWords(typed, "lf")).toBe("20% chance of 2 to 12 ft, only if found, at most 12");
    expect(allowanceWords({ ...typed, charge: "included", highQuantity: null }, "lf")).toBe(
      "20% chance of 2 to …, in the price at its expected amount",
    );
  });
  it("is the stored one only in every part", () => {
    const stored = wholeAllowance(typed);
    expect(sameTyped(typed, stored)).toBe(true);
    expect(sameTyped({ ...typed, charge: "included" }, stored)).toBe(false);
    expect(sameTyped(null, stored)).toBe(false);
    expect(sameTyped(null, null)).toBe(true);
  });
});
