import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { EstimateInputError } from "../input-error.ts";
import { type LifeCycle, lifeCycleCost } from "./index.ts";

const yearly = (costCents: number) => [{ words: "Upkeep", costCents, everyYears: 1, firstYear: 1 }];
const present = (change: Partial<LifeCycle>) =>
  lifeCycleCost({ initialCents: 0, years: 20, discountBp: 300, ...change }).presentValueCents;

/**
 * Source: NIST Handbook 135, 1995 edition, worked example of two HVAC designs over 20 years at 3%, with the handbook's
 * factors of three places: single present value 0.701 (12 years) and 0.554 (20 years), uniform present value 14.88.
 * From memory; energy costs are left out, as they use price indices. Amounts in dollars.
 */
describe("the handbook's worked example", () => {
  it.each([
    ["conventional", 103_000, 12_000, 8_412, 3_500, 1_939, 7_000, 104_160],
    ["energy-saving", 110_000, 12_500, 8_763, 3_700, 2_050, 8_000, 119_040],
  ])("%s design", (_name, initial, fan, fanPresent, residual, residualPresent, upkeep, upkeepPresent) => {
    const cost = lifeCycleCost({
      initialCents: initial * 100,
      once: [{ words: "Fan", costCents: fan * 100, year: 12 }],
      residualCents: residual * 100,
      recurring: yearly(upkeep * 100),
      years: 20,
      discountBp: 300,
    });
    const dollars = (words: string) =>
      cost.flows.reduce((sum, flow) => sum + (flow.words === words ? flow.presentCents : 0), 0) / 100;
    // The handbook's factors are good to half of their last place.
    expect(Math.abs(dollars("Fan") - fanPresent)).toBeLessThan(0.0005 * fan + 1);
    expect(Math.abs(dollars("Worth left at the end") + residualPresent)).toBeLessThan(0.0005 * residual + 1);
    expect(Math.abs(dollars("Upkeep") - upkeepPresent)).toBeLessThan(0.005 * upkeep + 1);
    expect(cost.nowCents).toBe(initial * 100);
  });
});

/** Source: the factors' closed forms, NIST Handbook 135 (from memory). */
describe("closed forms", () => {
  const horizons = [
    [100, 10],
    [300, 25],
    [700, 40],
    [3000, 100],
  ] as const;

  it.each(horizons)("single and uniform present value at %i bp over %i years", (discountBp, years) => {
    const d = discountBp / 10_000;
    const once = [{ words: "Once", costCents: 1_000_000, year: years }];
    expect(present({ once, discountBp, years })).toBe(Math.round(1_000_000 / (1 + d) ** years));
    const uniform = (1_000_000 * ((1 + d) ** years - 1)) / (d * (1 + d) ** years);
    // Each year is rounded to the cent by itself.
    expect(
      Math.abs(present({ recurring: yearly(1_000_000), discountBp, years }) - uniform),
    ).toBeLessThanOrEqual(years / 2);
  });

  it.each(horizons)("every third year is a geometric sum, at %i bp over %i years", (discountBp, years) => {
    const step = (1 + discountBp / 10_000) ** 3;
    const times = Math.floor(years / 3);
    const exact = (500_000 * (1 - step ** -times)) / (step - 1);
    const recurring = [{ words: "Stain", costCents: 500_000, everyYears: 3, firstYear: 3 }];
    expect(Math.abs(present({ recurring, discountBp, years }) - exact)).toBeLessThanOrEqual(times / 2);
  });

  it.each(horizons)(
    "capital recovery spreads now over the years, at %i bp over %i years",
    (discountBp, years) => {
      const d = discountBp / 10_000;
      const { annualEquivalentCents } = lifeCycleCost({ initialCents: 1_000_000, years, discountBp });
      const exact = (1_000_000 * d * (1 + d) ** years) / ((1 + d) ** years - 1);
      expect(Math.abs(annualEquivalentCents - exact)).toBeLessThanOrEqual(0.5001);
    },
  );

  it("without a rate, present value is the plain sum and the yearly share a plain part", () => {
    const cost = lifeCycleCost({ initialCents: 1000, recurring: yearly(10), years: 20, discountBp: 0 });
    expect(cost).toMatchObject({ presentValueCents: 1200, overYearsCents: 1200, annualEquivalentCents: 60 });
  });
});

it("lists the flows by year, what lies beyond the horizon left out", () => {
  const cost = lifeCycleCost({
    initialCents: 100_000,
    recurring: [
      { words: "Stain", costCents: 10_000, everyYears: 2, firstYear: 1 },
      { words: "Wash", costCents: 1_000, everyYears: 3, firstYear: 3 },
    ],
    once: [{ words: "New treads", costCents: 20_000, year: 6 }],
    residualCents: 5_000,
    years: 5,
    discountBp: 1000,
  });
  // 10% a year: 10000 / 1.1 = 9090.909, / 1.331 = 7513.148, / 1.61051 = 6209.213; 1000 / 1.331 = 751.315.
  expect(cost.flows).toEqual([
    { year: 0, words: "Now", costCents: 100_000, presentCents: 100_000 },
    { year: 1, words: "Stain", costCents: 10_000, presentCents: 9_091 },
    { year: 3, words: "Stain", costCents: 10_000, presentCents: 7_513 },
    { year: 3, words: "Wash", costCents: 1_000, presentCents: 751 },
    { year: 5, words: "Stain", costCents: 10_000, presentCents: 6_209 },
    { year: 5, words: "Worth left at the end", costCents: -5_000, presentCents: -3_105 },
  ]);
  expect(cost).toMatchObject({ presentValueCents: 120_459, nowCents: 100_000, overYearsCents: 126_000 });
});

it("totals are the sums of the flows, and a higher rate never costs more today", () => {
  const cents = fc.nat(10_000_000);
  const year = fc.integer({ min: 1, max: 100 });
  const life = fc.record({
    initialCents: cents,
    recurring: fc.array(
      fc.record({ words: fc.constant("Upkeep"), costCents: cents, everyYears: year, firstYear: year }),
      { maxLength: 4 },
    ),
    once: fc.array(fc.record({ words: fc.constant("Part"), costCents: cents, year }), { maxLength: 4 }),
    years: year,
    discountBp: fc.nat(2000),
  });
  fc.assert(
    fc.property(life, fc.nat(1000), (input, more) => {
      const cost = lifeCycleCost(input);
      expect(cost.presentValueCents).toBe(cost.flows.reduce((sum, f) => sum + f.presentCents, 0));
      expect(cost.overYearsCents).toBe(cost.flows.reduce((sum, f) => sum + f.costCents, 0));
      const dearer = lifeCycleCost({ ...input, discountBp: input.discountBp + more });
      expect(dearer.presentValueCents).toBeLessThanOrEqual(cost.presentValueCents);
    }),
  );
});

it.each<[string, Partial<LifeCycle>, string[]]>([
  ["no years", { years: 0 }, ["years"]],
  ["a part of a year", { years: 2.5, discountBp: -1 }, ["years", "discountBp"]],
  ["a rate above 30%", { discountBp: 3001 }, ["discountBp"]],
  ["parts of a cent", { initialCents: 0.5, residualCents: -1 }, ["initialCents", "residualCents"]],
  [
    "a standstill",
    { recurring: [{ words: "Stain", costCents: 1, everyYears: 0, firstYear: 0 }] },
    ["recurring[0].everyYears", "recurring[0].firstYear"],
  ],
  [
    "a cost below zero",
    { once: [{ words: "Part", costCents: -1, year: 101 }] },
    ["once[0].costCents", "once[0].year"],
  ],
])("refuses %s and names the field", (_name, change, fields) => {
  try {
    present(change);
    expect.unreachable();
  } catch (error) {
    expect((error as EstimateInputError).findings?.map((f) => f.field)).toEqual(fields);
  }
});
