import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { describe, expect, it } from "vitest";
import { changesOf, departs, type Edit, problemOf, toEdit, workWords } from "./edit.ts";
import { scopeLine } from "./line.fixture.ts";

const line: ScopeLine = scopeLine({ action: "replace", quantity: "26", reason: null });

describe("changesOf", () => {
  it("sends only what differs, with an emptied reason as none", () => {
    const saved = scopeLine({ reasonCode: "miscount", reason: "counted again" });
    expect(changesOf({ ...toEdit(saved), quantity: "22", reason: "  " }, saved)).toEqual({
      quantity: "22",
      reason: null,
    });
  });
  it("finds no change where only blanks differ", () => {
    expect(changesOf({ ...toEdit(line), reason: " ", description: "  " }, line)).toEqual({});
  });
});

describe("an allowance", () => {
  const allowance = {
    chanceBp: 2000,
    lowQuantity: "2",
    highQuantity: "30",
    capQuantity: "30",
    charge: "if_found" as const,
  };
  const unseen: Edit = { ...toEdit(line), evidence: "concealed", allowance };
  it("is saved whole with concealed work, and goes with other evidence", () => {
    expect(changesOf(unseen, line)).toEqual({ evidence: "concealed", allowance });
    const stored = scopeLine({ evidence: "concealed", allowance });
    expect(changesOf({ ...toEdit(stored), evidence: "counted" }, stored)).toEqual({
      evidence: "counted",
      allowance: null,
    });
  });
  it("is asked for until it is complete, and departs from what had none", () => {
    const begun = { ...unseen, allowance: { ...allowance, chanceBp: null } };
    expect(problemOf(begun, false, null)).toMatch(/how likely/);
    expect(problemOf({ ...begun, evidence: "counted" }, false, null)).toBeNull();
    expect(departs(unseen, line)).toBe(true);
  });
});

describe("an optional extra", () => {
  it("is one name however it is spaced, and none when it is emptied", () => {
    const stored = scopeLine({ alternate: "Staining" });
    expect(changesOf({ ...toEdit(stored), alternate: " Staining " }, stored)).toEqual({});
    expect(changesOf({ ...toEdit(stored), alternate: " " }, stored)).toEqual({ alternate: null });
    expect(departs({ ...toEdit(stored), alternate: "" }, stored)).toBe(true);
  });
});

describe("problemOf", () => {
  it("asks for the quantity first", () => {
    expect(problemOf({ ...toEdit(line), quantity: null }, true, line)).toBe("enter how much");
    expect(problemOf({ ...toEdit(line), quantity: "0" }, false, null)).toMatch(/more than nothing/);
  });
  it("asks why only in a review, and only where the work departs", () => {
    const other = { ...toEdit(line), quantity: "22" };
    expect(problemOf(other, false, null)).toBeNull();
    expect(problemOf(other, true, line)).toBe("choose why it differs");
    expect(problemOf({ ...other, reasonCode: "miscount", reason: "ab" }, true, line)).toMatch(/few words/);
    expect(problemOf({ ...other, reasonCode: "miscount", reason: "abc" }, true, line)).toBeNull();
    expect(problemOf({ ...toEdit(line), evidence: "counted" }, true, line)).toBeNull();
  });
  it("asks why for every line that is new in the review", () => {
    expect(problemOf(toEdit(line), true, null)).toBe("choose why it differs");
  });
});

describe("departs", () => {
  it("is about work, quantity and who does it, not about how it is known or worded", () => {
    const edit = toEdit(line);
    expect(departs({ ...edit, evidence: "measured", description: "other words" }, line)).toBe(false);
    expect(departs({ ...edit, by: "owner" }, line)).toBe(true);
    expect(departs({ ...edit, action: "sister" }, line)).toBe(true);
    expect(departs({ ...edit, assemblyCode: null }, line)).toBe(true);
  });
});

describe("workWords", () => {
  it("reads like a scope line", () => {
    expect(workWords(line)).toBe("replace 26");
    expect(workWords({ action: "replace", quantity: "1214.5", unit: "sqft", by: "owner" })).toBe(
      "replace 1,214.5 sq ft, by owner",
    );
  });
});
