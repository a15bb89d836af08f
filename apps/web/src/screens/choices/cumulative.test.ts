import { lifeCycleCost } from "@ledgerboard/estimating";
import { describe, expect, it } from "vitest";
import { breakEvenWords, cumulative, type Life, ticks } from "./cumulative.ts";

const usd = (cents: number) => ({ cents, currency: "USD" as const });

function life(name: string, nowCents: number, upkeepCents: number, breakEvenYear: number | null): Life {
  const cost = lifeCycleCost({
    initialCents: nowCents,
    recurring: [{ words: "Refinishing", costCents: upkeepCents, everyYears: 2, firstYear: 2 }],
    years: 10,
    discountBp: 300,
  });
  return {
    name,
    now: usd(cost.nowCents),
    presentValue: usd(cost.presentValueCents),
    undiscounted: usd(cost.overYearsCents),
    perYear: usd(cost.annualEquivalentCents),
    flows: cost.flows.map((f) => ({
      year: f.year,
      words: f.words,
      cost: usd(f.costCents),
      present: usd(f.presentCents),
    })),
    breakEvenYear,
  };
}

const wood = life("Treated", 100_000, 30_000, null);
const composite = life("Composite", 180_000, 2_000, 8);

describe("cost over the years", () => {
  it("ends at the sums the service gives", () => {
    for (const choice of [wood, composite]) {
      expect(cumulative(choice, 10, "paid").at(-1)).toBe(choice.undiscounted.cents);
      expect(cumulative(choice, 10, "present").at(-1)).toBe(choice.presentValue.cents);
      expect(cumulative(choice, 10, "paid")[0]).toBe(choice.now.cents);
    }
    expect(cumulative(wood, 10, "paid")[3]).toBe(130_000);
  });

  it("says when the dearer start is made up for", () => {
    const all = [wood, composite];
    expect(breakEvenWords(wood, all, 10)).toBe("Costs least now.");
    expect(breakEvenWords(composite, all, 10)).toBe(
      "$800 more now; made up for by the end of year 8, in today's worth.",
    );
    expect(breakEvenWords({ ...composite, breakEvenYear: null }, all, 25)).toContain(
      "not made up for within 25 years",
    );
  });

  it("marks round sums that hold all of it", () => {
    expect(ticks(0, 930_000)).toEqual([0, 500_000, 1_000_000]);
    const marks = ticks(-20_000, 410_000);
    expect(marks[0]).toBeLessThanOrEqual(-20_000);
    expect(marks.at(-1)).toBeGreaterThanOrEqual(410_000);
    expect(ticks(0, 0)).toHaveLength(1);
  });
});
