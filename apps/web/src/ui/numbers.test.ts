import fc from "fast-check";
import { expect, it } from "vitest";
import { editDollars, editPercent, parseDecimal, parseDollars, parsePercent } from "./numbers.ts";

it.each([
  ["1250", 125000],
  ["$1,250.50", 125050],
  ["0.1", 10],
  [".05", 5],
  ["12.", 1200],
  ["1,234,567.89", 123456789],
  ["0", 0],
])("reads %s as %i cents", (text, cents) => expect(parseDollars(text)).toBe(cents));

it.each(["", " ", ".", "1,25", "12,50", "1.234", "-5", "1e3", "twelve", "1,250,00"])(
  "does not take %j for an amount",
  (text) => expect(parseDollars(text)).toBeNull(),
);

it("gives back every amount and percentage it shows", () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 1_000_000_000 }), (n) => {
      expect(parseDollars(editDollars(n))).toBe(n);
      expect(parsePercent(editPercent(n))).toBe(n);
    }),
  );
});

it.each([
  ["12.50", "12.5"],
  ["1,200", "1200"],
  ["007", "7"],
  ["0.0000", "0"],
  ["3.1415", "3.1415"],
])("keeps %s as the decimal %s", (text, decimal) => expect(parseDecimal(text)).toBe(decimal));

it("refuses more decimals than are stored", () => expect(parseDecimal("3.14159")).toBeNull());
