import { describe, expect, it } from "vitest";
import type { EstimateInputError } from "../input-error.ts";
import { compareChoices, LIFE_CYCLE_DEFAULTS, LIVES, type MaterialChoice } from "./index.ts";

const treated: MaterialChoice = {
  name: "Treated wood",
  unitCents: "1500",
  upkeep: [{ words: "Stain", unitCents: "200", everyYears: 2, firstYear: 1 }],
  service: null,
};
const composite: MaterialChoice = {
  name: "Composite",
  unitCents: "2300",
  upkeep: [{ words: "Wash", unitCents: "20.5", everyYears: 1, firstYear: 1 }],
  service: null,
};
const compare = (choices: MaterialChoice[], years = 25, discountBp = 0, quantity = "100") =>
  compareChoices({ choices, quantity, years, discountBp });

describe("compareChoices", () => {
  it("ranks by present value and finds the year the dearer choice has caught up", () => {
    // Without a rate, after year y: treated 150000 + 20000 x ceil(y / 2); composite 230000 + 2050 y. Year 9 is the first
    // with 250000 against 248450; year 8 has 230000 against 246400.
    const [first, second] = compare([treated, composite]);
    expect(first).toMatchObject({ name: "Composite", rank: 1, nowCents: 230_000, breakEvenYear: 9 });
    expect(first?.presentValueCents).toBe(230_000 + 25 * 2050);
    expect(second).toMatchObject({ name: "Treated wood", rank: 2, breakEvenYear: null });
    expect(second?.presentValueCents).toBe(150_000 + 13 * 20_000);
  });

  it("counts later money less at a higher rate: the year moves out, then there is none", () => {
    const yearAt = (bp: number) => compare([treated, composite], 25, bp).find((c) => c.name === "Composite");
    // Geometric sums at 5%: to year 13 refinishing comes to 101401 and washing to 19257, more than 80000 apart; to year
    // 12 to 90794 and 18170, which is not.
    expect(yearAt(500)?.breakEvenYear).toBe(13);
    expect(yearAt(3000)?.breakEvenYear).toBeNull();
    expect(compare([treated, composite], 25, 3000)[0]?.name).toBe("Treated wood");
  });

  it("has none within too short a horizon", () => {
    expect(compare([treated, composite], 8).map((c) => c.breakEvenYear)).toEqual([null, null]);
  });

  it("replaces what wears out and credits what is left of the last one", () => {
    const worn = { ...treated, upkeep: [], service: { years: 10, replaceUnitCents: "1800" } };
    const [cost] = compare([worn]);
    // Replaced at the end of years 10 and 20; of the last, 5 of 10 years are left at 25.
    expect(cost?.flows.map((f) => [f.year, f.costCents])).toEqual([
      [0, 150_000],
      [10, 180_000],
      [20, 180_000],
      [25, -90_000],
    ]);
    // It ends with the horizon: nothing is replaced and nothing is left.
    expect(compare([worn], 10)[0]?.flows.map((f) => f.year)).toEqual([0]);
    // It outlasts the horizon: 3 of 10 years are left of the first one.
    expect(compare([worn], 7)[0]?.flows.at(-1)).toMatchObject({ year: 7, costCents: -45_000 });
  });

  it("gives equal choices one rank, in the order given", () => {
    const twin = { ...treated, name: "Its twin" };
    expect(compare([composite, twin, treated], 1).map((c) => [c.name, c.rank])).toEqual([
      ["Its twin", 1],
      ["Treated wood", 1],
      ["Composite", 3],
    ]);
  });

  it("names every faulty field", () => {
    const faulty: MaterialChoice = {
      name: "Faulty",
      unitCents: "-1",
      upkeep: [{ words: "Stain", unitCents: "x", everyYears: 0, firstYear: 1.5 }],
      service: { years: 0, replaceUnitCents: "" },
    };
    const fields = (act: () => unknown) => {
      try {
        act();
      } catch (error) {
        return (error as EstimateInputError).findings.map((f) => f.field);
      }
      return [];
    };
    expect(fields(() => compare([treated, faulty], 25, -1, "many"))).toEqual([
      "discountBp",
      "quantity",
      "choices[1].unitCents",
      "choices[1].upkeep[0].unitCents",
      "choices[1].upkeep[0].everyYears",
      "choices[1].upkeep[0].firstYear",
      "choices[1].service.years",
      "choices[1].service.replaceUnitCents",
    ]);
    expect(fields(() => compare([]))).toEqual(["choices"]);
    expect(fields(() => compare([treated, composite], 25, 300, "999999999999"))).toEqual([
      "choices[0]",
      "choices[1]",
    ]);
  });
});

it("the shipped lives and defaults are ones the method takes", () => {
  expect(compare([treated], LIFE_CYCLE_DEFAULTS.years, LIFE_CYCLE_DEFAULTS.discountBp)).toHaveLength(1);
  for (const life of Object.values(LIVES).flat()) {
    expect(life.source).not.toBe("");
    expect(life.years.low).toBeGreaterThanOrEqual(1);
    expect(life.years.high).toBeGreaterThanOrEqual(life.years.low);
  }
});
