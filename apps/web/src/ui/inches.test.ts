import { formatInches } from "@ledgerboard/contracts/measure";
import { describe, expect, it } from "vitest";
import { readInches, writeInches } from "./inches.ts";

describe("a typed length", () => {
  it.each([
    ["12.5", "ft", 150],
    [`12' 6 1/2"`, "ft", 150.5],
    ["16", "in", 16],
    ["5 1/2", "in", 5.5],
    ["5½", "in", 5.5],
    ["3'", "in", 36],
    [`36"`, "ft", 36],
    ["3 ft 6 in", "in", 42],
  ] as const)("%s in a field of %s is %s inches", (text, unit, inches) => {
    expect(readInches(text, unit)).toBe(inches);
  });

  it.each(["", "  ", "-", "abc", `12' 14"`, "1 2 3"])("%s is no length", (text) => {
    expect(readInches(text, "ft", true)).toBeNull();
  });

  it("takes a minus only where places lie on both sides", () => {
    expect(readInches("-4", "ft")).toBeNull();
    expect(readInches("-4", "ft", true)).toBe(-48);
    expect(readInches(formatInches(-54.5), "ft", true)).toBe(-54.5);
  });

  it.each([
    [16, "in", `16"`],
    [16, "ft", `1' 4"`],
    [5.5, "in", `5 1/2"`],
    [0.125, "in", `1/8"`],
    [0, "in", `0"`],
    [42.9999, "in", `43"`],
    [150, "in", `12' 6"`],
    [-4.5, "in", `−4 1/2"`],
  ] as const)("%s is written in %s as %s", (inches, unit, text) => {
    expect(writeInches(inches, unit)).toBe(text);
  });

  it("reads what it writes, to the sixteenth", () => {
    for (const unit of ["in", "ft"] as const)
      for (let sixteenths = 0; sixteenths < 3000; sixteenths += 7)
        expect(readInches(writeInches(sixteenths / 16, unit), unit)).toBe(sixteenths / 16);
  });
});
