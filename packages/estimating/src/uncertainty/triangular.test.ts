import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Triangle, triangularMean, triangularQuantile } from "./triangular.ts";

const triangle: fc.Arbitrary<Triangle> = fc
  .tuple(fc.nat(1000), fc.nat(1000), fc.nat(1000))
  .map(([low, left, right]) => ({ low, likely: low + left, high: low + left + right }));

/** Source: "Triangular distribution", Wikipedia, https://en.wikipedia.org/wiki/Triangular_distribution (from memory). */
const mean = ({ low: a, likely: c, high: b }: Triangle) => (a + b + c) / 3;
const variance = ({ low: a, likely: c, high: b }: Triangle) =>
  (a * a + b * b + c * c - a * b - a * c - b * c) / 18;
const shareBelow = (x: number, { low: a, likely: c, high: b }: Triangle) =>
  x <= c && c > a ? (x - a) ** 2 / ((b - a) * (c - a)) : 1 - (b - x) ** 2 / ((b - a) * (b - c));

describe("moments", () => {
  it("agree with the published mean and variance, wherever the bend lies", () => {
    fc.assert(
      fc.property(triangle, fc.nat(4000), (t, bend) => {
        const first = triangularMean(t, bend, (q) => q);
        const spread = triangularMean(t, bend, (q) => (q - first) ** 2);
        expect(triangularMean(t, bend, () => 1)).toBeCloseTo(1, 9);
        expect(first).toBeCloseTo(mean(t), 6);
        expect(spread).toBeCloseTo(variance(t), 5);
      }),
    );
  });

  it("of a capped quantity agree with a fine sum of strips", () => {
    const t = { low: 2, likely: 5, high: 20 };
    const strips = 1_000_000;
    let sum = 0;
    for (let i = 0; i < strips; i++) sum += Math.min(triangularQuantile((i + 0.5) / strips, t), 8);
    expect(triangularMean(t, 8, (q) => Math.min(q, 8))).toBeCloseTo(sum / strips, 6);
  });

  /** Source: stdlib.io, documentation of the triangular distribution's variance: (4, 12, 5) about 3.167, (2, 8, 5) 1.5. */
  it.each([
    [4, 12, 5, 3.167],
    [2, 8, 5, 1.5],
  ])("variance of %i to %i about %i", (low, high, likely, expected) => {
    const t = { low, likely, high };
    const first = triangularMean(t, low, (q) => q);
    expect(triangularMean(t, low, (q) => (q - first) ** 2)).toBeCloseTo(expected, 3);
  });
});

it("quantile undoes the published share below", () => {
  fc.assert(
    fc.property(triangle, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (t, u) => {
      const q = triangularQuantile(u, t);
      expect(q).toBeGreaterThanOrEqual(t.low);
      expect(q).toBeLessThanOrEqual(t.high);
      if (t.high > t.low) expect(shareBelow(q, t)).toBeCloseTo(u, 6);
    }),
  );
});
