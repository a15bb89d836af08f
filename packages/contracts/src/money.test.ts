import { Decimal } from "decimal.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  add,
  basisPoints,
  divide,
  formatMoney,
  multiply,
  ratio,
  roundHalfUp,
  toCents,
  toDecimal,
} from "./money.ts";

// Outside check: decimal.js (https://mikemcl.github.io/decimal.js/), whose ROUND_HALF_UP rounds ties away from
// zero. Precision is far above the digits in use, so its quotients are exact enough to see every tie.
const Exact = Decimal.clone({
  precision: 120,
  rounding: Decimal.ROUND_HALF_UP,
  toExpNeg: -200,
  toExpPos: 200,
});

/** Decimal text the house accepts: up to 12 digits before the point, up to 6 after, either sign. */
const decimalText = fc
  .tuple(
    fc.boolean(),
    fc.bigInt({ min: 0n, max: 999_999_999_999n }),
    fc.option(fc.stringMatching(/^\d{1,6}$/), { nil: undefined }),
  )
  .map(([negative, whole, fraction]) => `${negative ? "-" : ""}${whole}${fraction ? `.${fraction}` : ""}`);

/** Values that lie exactly on a rounding tie at `places`. */
const tieText = (places: number) =>
  fc.bigInt({ min: -9_999_999n, max: 9_999_999n }).map((n) => {
    return new Exact(n.toString()).times(2).plus(1).div(2).div(new Exact(10).pow(places)).toFixed();
  });

describe("rounding against decimal.js ROUND_HALF_UP", () => {
  it("rounds any decimal to whole cents", () => {
    fc.assert(
      fc.property(fc.oneof(decimalText, tieText(0)), (text) => {
        expect(roundHalfUp(ratio(text)).toString()).toBe(new Exact(text).toFixed(0).replace(/^-0$/, "0"));
      }),
      { numRuns: 2000 },
    );
  });

  it("rounds any quotient of integers, ties and negatives included", () => {
    const numerator = fc.oneof(
      fc.bigInt({ min: -(10n ** 30n), max: 10n ** 30n }),
      fc.bigInt({ min: -50n, max: 50n }),
    );
    const denominator = fc.oneof(fc.bigInt({ min: 1n, max: 10n ** 12n }), fc.bigInt({ min: 1n, max: 20n }));
    fc.assert(
      fc.property(numerator, denominator, (num, den) => {
        const expected = new Exact(num.toString()).div(den.toString()).toFixed(0).replace(/^-0$/, "0");
        expect(roundHalfUp({ num, den }).toString()).toBe(expected);
      }),
      { numRuns: 2000 },
    );
  });

  it.each([0, 1, 2, 4])("writes decimal text with up to %d places", (places) => {
    fc.assert(
      fc.property(
        fc.oneof(
          decimalText,
          tieText(places).filter((t) => /^-?\d+(\.\d{1,6})?$/.test(t)),
        ),
        (text) => {
          // Trailing zeros and the sign of zero are spelling, not value.
          const expected = new Exact(new Exact(text).toFixed(places)).toFixed().replace(/^-0$/, "0");
          expect(toDecimal(ratio(text), places)).toBe(expected);
        },
      ),
      { numRuns: 1000 },
    );
  });

  it("prices quantity x unit cost x (1 + waste) / (1 - margin) to the same cent", () => {
    const quantity = fc
      .bigInt({ min: 0n, max: 99_999_999n })
      .map((n) => new Exact(n.toString()).div(10_000).toFixed());
    fc.assert(
      fc.property(
        quantity,
        fc.nat(1_000_000),
        fc.nat(5000),
        fc.nat(9000),
        (quantity, unitCents, wasteBp, marginBp) => {
          const ours = toCents(
            divide(
              multiply(ratio(quantity), ratio(unitCents), add(ratio(1), basisPoints(wasteBp))),
              add(ratio(1), basisPoints(-marginBp)),
            ),
          );
          const theirs = new Exact(quantity)
            .times(unitCents)
            .times(10_000 + wasteBp)
            .div(10_000 - marginBp);
          expect(ours.toString()).toBe(theirs.toFixed(0));
        },
      ),
      { numRuns: 1000 },
    );
  });
});

describe("ties by hand", () => {
  it.each([
    ["0.5", 1],
    ["1.5", 2],
    ["2.5", 3],
    ["-0.5", -1],
    ["-1.5", -2],
    ["-2.5", -3],
    ["0.499999", 0],
    ["-0.499999", 0],
  ])("%s cents is %d", (text, cents) => {
    expect(toCents(ratio(text))).toBe(cents);
  });
});

describe("refusals and printing", () => {
  it.each(["", " 1", "1e3", "1.", ".5", "1,000", "1.1234567", "NaN", "1234567890123"])(
    "refuses %j",
    (text) => {
      expect(() => ratio(text)).toThrow(RangeError);
    },
  );
  it("refuses floats, division by zero and amounts past the safe range", () => {
    expect(() => ratio(0.1)).toThrow(RangeError);
    expect(() => divide(ratio(1), ratio(0))).toThrow(RangeError);
    expect(() => toCents({ num: 2n ** 60n, den: 1n })).toThrow(RangeError);
  });
  it("divides by negatives with a positive denominator", () => {
    expect(divide(ratio(7), ratio("-2"))).toEqual({ num: -7n, den: 2n });
  });
  it.each([
    [125000, "$1,250"],
    [125050, "$1,250.50"],
    [-500, "−$5"],
    [0, "$0"],
  ])("%d cents prints as %s", (cents, text) => {
    expect(formatMoney(cents)).toBe(text);
  });
});
