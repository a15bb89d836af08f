import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { chanceOfLoss, priceAtChanceOfLoss } from "./index.ts";
import { line, mixed, rates, run } from "./simulate.fixture.ts";

describe("chance of loss", () => {
  const result = run(mixed, { draws: 1000 });
  const price = fc.integer({ min: -100_000, max: 1_000_000 });

  it("never rises with the price", () => {
    fc.assert(
      fc.property(price, price, (a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        expect(chanceOfLoss(result, low)).toBeGreaterThanOrEqual(chanceOfLoss(result, high));
      }),
    );
  });

  it("is the share of draws that cost more", () => {
    fc.assert(
      fc.property(price, (cents) => {
        expect(chanceOfLoss(result, cents)).toBe(result.sortedCents.filter((c) => c > cents).length * 10);
      }),
    );
  });

  it("the price at a chance holds it, and a cent less does not", () => {
    fc.assert(
      fc.property(fc.nat(10_000), (chanceBp) => {
        const at = priceAtChanceOfLoss(result, chanceBp);
        expect(chanceOfLoss(result, at)).toBeLessThanOrEqual(chanceBp);
        if (at > 0) expect(chanceOfLoss(result, at - 1)).toBeGreaterThan(chanceBp);
      }),
    );
  });

  it("a job whose cost is sure loses below it and not at it", () => {
    const sure = run([line("100", { rates: rates({ laborCvBp: 0 }) })], { draws: 100 });
    const cost = sure.exact.meanCents;
    expect(cost).toBe(Math.round(cost));
    expect([chanceOfLoss(sure, cost), chanceOfLoss(sure, cost - 1)]).toEqual([0, 10_000]);
    expect([priceAtChanceOfLoss(sure, 0), priceAtChanceOfLoss(sure, 10_000)]).toEqual([cost, 0]);
    expect(sure.histogram).toEqual([{ fromCents: cost, toCents: cost + 1, count: 100 }]);
  });
});

it("the chart holds every draw in bars of one round width, side by side", () => {
  const { histogram, sortedCents } = run(mixed, { draws: 5000 });
  const width = (histogram[0]?.toCents ?? 0) - (histogram[0]?.fromCents ?? 0);
  expect(String(width)).toMatch(/^[125]0*$/);
  expect(histogram.length).toBeGreaterThan(10);
  expect(histogram.length).toBeLessThanOrEqual(31);
  for (const [i, { fromCents, toCents, count }] of histogram.entries()) {
    expect(toCents - fromCents).toBe(width);
    if (i > 0) expect(fromCents).toBe(histogram[i - 1]?.toCents);
    expect(count).toBe(sortedCents.filter((c) => c >= fromCents && c < toCents).length);
  }
  expect(histogram.reduce((sum, bin) => sum + bin.count, 0)).toBe(5000);
});
