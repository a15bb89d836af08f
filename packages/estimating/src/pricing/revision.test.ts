import { describe, expect, it } from "vitest";
import { NOTHING } from "./line.ts";
import { flatRates, material, only } from "./rates.fixture.ts";
import type { LineRates, MaterialUse } from "./rates.ts";
import { type Charge, type PricingTerms, priceRevision, type RevisionLine } from "./revision.ts";

const terms: PricingTerms = {
  overheadBp: 1200,
  marginBp: 3500,
  materialTaxBp: 600,
  minimumChargeCents: 0,
  roundUpToCents: 0,
};
const free: PricingTerms = { ...terms, overheadBp: 0, marginBp: 0, materialTaxBp: 0 };
const figures = {
  materialUnitCents: "285",
  wasteBp: 1000,
  hoursPerUnit: "0.05",
  laborRateCode: "CARP",
  laborHourlyCents: 4000,
  laborBurdenBp: 3500,
};
const line = (
  quantity: string,
  change: Partial<typeof figures> = {},
  rates: Partial<LineRates> = {},
): RevisionLine => ({ quantity, by: "us", rates: flatRates({ ...figures, ...change }, rates) });

/** Material only, so that with free terms the price is the cents of the materials. */
const takes = (quantity: string, ...materials: MaterialUse[]): RevisionLine => ({
  quantity,
  by: "us",
  rates: only(...materials),
});
const dollar = (count: number) => takes(String(count), material("100"));
const kinds = (lines: RevisionLine[], with_: PricingTerms, charges: Charge[] = []) =>
  priceRevision({ lines, charges }, with_).adjustments.map((a) => [a.kind, a.price.priceCents]);

describe("priceRevision", () => {
  it("puts a price on every line, keeps the line's own fields, and sums rounded lines", () => {
    const lines = [
      { ...line("120"), id: "a" },
      { ...line("3.5", { materialUnitCents: "1999.5" }), id: "b" },
      { ...line("4"), by: "owner" as const, id: "c" },
    ];
    const priced = priceRevision({ lines }, terms);
    expect(priced.lines.map((l) => l.id)).toEqual(["a", "b", "c"]);
    // b, by hand: 3.5 x 1.1 x 1999.5 = 7698.075; tax 461.88; 0.175 h; labor 945; overhead 1092.6 from 9105; cost
    // 10198; price 15689.23.
    expect(priced.lines[1]?.price).toEqual({
      materialCents: 7698,
      taxCents: 462,
      hours: "0.175",
      laborCents: 945,
      disposalCents: 0,
      equipmentCents: 0,
      overheadCents: 1093,
      costCents: 10198,
      priceCents: 15689,
    });
    expect(priced.totals).toEqual({
      materialCents: 45318,
      taxCents: 2719,
      hours: "6.175",
      laborCents: 33345,
      disposalCents: 0,
      equipmentCents: 0,
      overheadCents: 9766,
      costCents: 91148,
      priceCents: 140227,
    });
  });

  it("rounds per line, never on the sum: three lines of half a cent are three cents", () => {
    const half = line("0.5", { materialUnitCents: "1", wasteBp: 0, hoursPerUnit: "0" });
    expect(priceRevision({ lines: [half, half, half] }, free).totals.priceCents).toBe(3);
  });

  it("an empty revision costs nothing", () => {
    expect(priceRevision({ lines: [] }, terms)).toEqual({
      terms,
      lines: [],
      charges: [],
      adjustments: [],
      alternates: [],
      purchases: [],
      totals: NOTHING,
    });
  });

  it.each([
    ["margin", { marginBp: 9500 }],
    ["minimum below nothing", { minimumChargeCents: -1 }],
    ["minimum with a fraction of a cent", { minimumChargeCents: 0.5 }],
    ["minimum no field can hold", { minimumChargeCents: 1_000_000_001 }],
    ["rounding step below nothing", { roundUpToCents: -5 }],
    ["rounding step with a fraction of a cent", { roundUpToCents: 2.5 }],
  ])("refuses a bad %s even when no line is priced", (_name, bad) => {
    expect(() => priceRevision({ lines: [] }, { ...terms, ...bad })).toThrow(RangeError);
  });
});

describe("minimum charge and rounding", () => {
  const packed = takes("1", material("0", { packs: [{ size: "7", cents: 700 }], wholePacks: true }));
  it.each([
    ["fills up to the minimum", [dollar(3)], { minimumChargeCents: 500 }, [["minimum_charge", 200]]],
    ["the minimum exactly is enough", [dollar(5)], { minimumChargeCents: 500 }, []],
    ["rounds up to the step", [dollar(3)], { roundUpToCents: 250 }, [["rounding", 200]]],
    ["a whole multiple stays", [dollar(5)], { roundUpToCents: 250 }, []],
    [
      "a cent over goes up a whole step",
      [takes("501", material("1"))],
      { roundUpToCents: 250 },
      [["rounding", 249]],
    ],
    ["a step of one cent is none", [takes("501", material("1"))], { roundUpToCents: 1 }, []],
    [
      "the minimum is rounded up too",
      [dollar(3)],
      { minimumChargeCents: 1050, roundUpToCents: 500 },
      [
        ["minimum_charge", 750],
        ["rounding", 450],
      ],
    ],
    [
      "whole packs first, then the minimum, then rounding",
      [packed],
      { minimumChargeCents: 720, roundUpToCents: 50 },
      [
        ["whole_packs", 600],
        ["minimum_charge", 20],
        ["rounding", 30],
      ],
    ],
    ["whole packs count toward the minimum", [packed], { minimumChargeCents: 700 }, [["whole_packs", 600]]],
    ["nothing to charge stays nothing", [dollar(0)], { minimumChargeCents: 500, roundUpToCents: 250 }, []],
    [
      "only an extra to charge stays nothing",
      [{ ...dollar(9), alternate: "Stain" }],
      { minimumChargeCents: 500, roundUpToCents: 250 },
      [],
    ],
  ])("%s", (_name, lines, change, expected) => {
    expect(kinds(lines, { ...free, ...change })).toEqual(expected);
    const before = lines.some((l) => l.alternate) ? 0 : priceRevision({ lines }, free).totals.priceCents;
    const added = expected
      .filter(([kind]) => kind !== "whole_packs")
      .reduce((sum, [, c]) => sum + Number(c), 0);
    expect(priceRevision({ lines }, { ...free, ...change }).totals.priceCents).toBe(before + added);
  });

  it("adds no cost, so that both are all margin", () => {
    const priced = priceRevision(
      { lines: [dollar(3)] },
      { ...free, minimumChargeCents: 1050, roundUpToCents: 500 },
    );
    expect(priced.adjustments).toEqual([
      { kind: "minimum_charge", price: { ...NOTHING, priceCents: 750 }, beforeCents: 300 },
      { kind: "rounding", price: { ...NOTHING, priceCents: 450 }, beforeCents: 1050 },
    ]);
    expect(priced.totals).toMatchObject({ costCents: 300, priceCents: 1500 });
  });

  it("charges count toward the minimum, and alone bring it about", () => {
    const permit: Charge = { kind: "permit", words: "Permit", costCents: 120_00, atCost: true };
    const minimum = { ...free, minimumChargeCents: 150_00 };
    expect(kinds([dollar(40)], minimum, [permit])).toEqual([]);
    expect(kinds([], minimum, [permit])).toEqual([["minimum_charge", 30_00]]);
  });
});

describe("charges", () => {
  const charge = (change: Partial<Charge> = {}): Charge => ({
    kind: "permit",
    words: "Town permit",
    costCents: 150_00,
    atCost: true,
    ...change,
  });

  it("passes one on at cost and the other with overhead and margin", () => {
    const { charges, totals } = priceRevision(
      { lines: [], charges: [charge(), charge({ kind: "travel", words: "Ferry", atCost: false })] },
      terms,
    );
    // By hand: 12% of 15000 = 1800; 16800 / 0.65 = 25846.15. Nothing is taxed.
    const ferry = {
      ...NOTHING,
      equipmentCents: 15000,
      overheadCents: 1800,
      costCents: 16800,
      priceCents: 25846,
    };
    expect(charges).toEqual([
      {
        ...charge(),
        price: { ...NOTHING, equipmentCents: 15000, costCents: 15000, priceCents: 15000 },
      },
      { ...charge({ kind: "travel", words: "Ferry", atCost: false }), price: ferry },
    ]);
    expect(totals).toMatchObject({ costCents: 31800, priceCents: 40846, taxCents: 0 });
  });

  it.each([
    ["negative", -1],
    ["with a fraction of a cent", 0.5],
    ["more than any field can hold", 1_000_000_001],
  ])("refuses one that is %s", (_name, costCents) => {
    for (const atCost of [true, false])
      expect(() => priceRevision({ lines: [], charges: [charge({ costCents, atCost })] }, terms)).toThrow(
        RangeError,
      );
  });
});
