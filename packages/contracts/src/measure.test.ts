import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatInches, lengthWords, parseInches } from "./measure.ts";

describe("formatInches", () => {
  it.each([
    [150.5, `12' 6 1/2"`],
    [144, "12'"],
    [6.5, `6 1/2"`],
    [0.0625, `1/16"`],
    [12.75, `1' 3/4"`],
    [0, `0"`],
    [-0, `0"`],
    [-18.25, `−1' 6 1/4"`],
    [11.99, `1'`],
    [5.53, `5 1/2"`],
    [Number.NaN, ""],
    [Number.POSITIVE_INFINITY, ""],
  ])("%s is %s", (inches, text) => expect(formatInches(inches)).toBe(text));
  it("has words for people", () => {
    expect([150.5, 144, 3, 0].map(lengthWords)).toEqual(["12 ft 6 1/2 in", "12 ft", "3 in", "0 in"]);
  });
});

describe("parseInches", () => {
  it.each([
    [`12' 6 1/2"`, 150.5],
    ["12'6", 150],
    [`12'6"`, 150],
    ["12-6", 150],
    ["12 - 6", 150],
    [`12'-6 1/2"`, 150.5],
    ["12-6 1/2", 150.5],
    ["12.5'", 150],
    [".5'", 6],
    [`150"`, 150],
    ["150", 1800],
    ["12.5", 150],
    [`6 1/2"`, 6.5],
    [`6-1/2"`, 6.5],
    [`1/2"`, 0.5],
    ["12’ 6½”", 150.5],
    ["12′ 6″", 150],
    ["12 ft 6 in", 150],
    ["12ft 6in.", 150],
    ["12 feet", 144],
    ["7 inches", 7],
    ["½ in", 0.5],
    ["5''", 5],
    [`3' 1/2"`, 36.5],
    [`5.53"`, 5.5],
    ["  8'  ", 96],
    ["0", 0],
  ])("%s is %s in", (text, inches) => expect(parseInches(text)).toBe(inches));
  it.each([
    "",
    " ",
    "abc",
    "12'14",
    "-5",
    `6 1/0"`,
    `6 3/2"`,
    `6.5 1/2"`,
    "6 1/2",
    "12 6",
    "1e3",
    "'",
    `"`,
    "1'2'3",
    "٣",
  ])("refuses %s", (text) => expect(parseInches(text)).toBeNull());
});

it("reads back what it writes", () => {
  fc.assert(
    fc.property(fc.nat(16 * 6000), (sixteenths) => {
      const inches = sixteenths / 16;
      expect(parseInches(formatInches(inches))).toBe(inches);
      expect(parseInches(lengthWords(inches))).toBe(inches);
    }),
  );
});
it("never throws", () => {
  fc.assert(
    fc.property(fc.string({ unit: fc.constantFrom(..."0123456789 '\"/-.½ft in’".split("")) }), (text) => {
      const inches = parseInches(text);
      expect(inches === null || (inches >= 0 && Number.isInteger(inches * 16))).toBe(true);
    }),
  );
});
