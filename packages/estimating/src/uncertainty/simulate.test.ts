import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { EstimateInputError } from "../input-error.ts";
import type { LineRates } from "../pricing/rates.ts";
import { type Charge, priceRevision, type RevisionLine } from "../pricing/revision.ts";
import { chanceOfLoss, priceAtChanceOfLoss, simulateCost } from "./index.ts";
import { allowance, line, mixed, priced, rates, run, terms } from "./simulate.fixture.ts";

/** Costs of a unit of `line` by hand: material 1.1 x 300 x 1.06, 25 besides, labor 0.1 x 5000 x 1.3; overhead on all. */
const OTHER = (349.8 + 25) * 1.12;
const LABOR = 650 * 1.12;
const CV2 = 0.16;

describe("closed forms, by hand", () => {
  it("of one line: its cost, and the square of cv x labor with overhead", () => {
    const { exact } = run([line("100")]);
    // 114777.6 before the amounts are rounded on the way; 114778 as priced.
    expect(100 * (OTHER + LABOR)).toBeCloseTo(114777.6, 6);
    expect(exact.meanCents).toBeCloseTo(114778, 6);
    expect(exact.varianceCents2).toBeCloseTo(CV2 * (100 * LABOR) ** 2, -1);
  });

  it("of two lines, apart and wholly tied", () => {
    const one = CV2 * (100 * LABOR) ** 2;
    const two = [line("100"), line("100")];
    expect(run(two, { laborCorrelationBp: 0 }).exact.varianceCents2 / one).toBeCloseTo(2, 9);
    expect(run(two, { laborCorrelationBp: 10_000 }).exact.varianceCents2 / one).toBeCloseTo(4, 9);
    // Covariance of lognormal factors: exp(rho s^2) - 1 = (1 + cv^2)^rho - 1.
    const tied = 2 + (2 * (1.16 ** 0.3 - 1)) / 0.16;
    expect(run(two).exact.varianceCents2 / one).toBeCloseTo(tied, 9);
  });

  it("of an allowance whose labor does not vary: chance x triangular", () => {
    const sure = rates({ laborCvBp: 0 });
    const { exact } = run([line("20", { rates: sure, allowance: allowance() })]);
    // Published moments of the triangular distribution (5, 20, 60): mean 85 / 3, variance (25+3600+400-300-100-1200) / 18.
    const [mean, square] = [85 / 3, 2425 / 18 + (85 / 3) ** 2];
    const unit = OTHER + LABOR;
    expect(exact.meanCents).toBeCloseTo(0.4 * mean * unit, 6);
    expect(exact.varianceCents2 / unit ** 2).toBeCloseTo(0.4 * square - (0.4 * mean) ** 2, 8);
  });

  it("of work charged only if found: a known amount above the cap, at the agreed price", () => {
    const found = allowance({ lowQuantity: "50", highQuantity: "50", charge: "if_found" });
    const result = run([line("50", { allowance: found })]);
    const agreed = priced([line("50", { allowance: found })]).lines[0]?.agreed?.unitPriceCents ?? Number.NaN;
    expect(result.exact.meanCents).toBeCloseTo(0.4 * (50 * (OTHER + LABOR) - 30 * agreed), 6);
    expect(result.paidForFoundWorkCents).toBe(Math.round(0.4 * 30 * agreed));
  });
});

describe("draws against closed forms", () => {
  it.each([
    ["one line", [line("100")], 3000],
    ["lines apart", mixed, 0],
    ["lines tied", mixed, 3000],
    ["lines wholly tied", mixed, 10_000],
    ["an allowance inside the price", [line("20", { allowance: allowance() })], 3000],
    ["work charged only if found", [line("20", { allowance: allowance({ charge: "if_found" }) })], 3000],
  ])("%s: mean within 4 of its standard errors, deviation within 3%%", (_name, lines, laborCorrelationBp) => {
    const { exact, meanCents, standardDeviationCents, draws } = run(lines, { laborCorrelationBp });
    const deviation = Math.sqrt(exact.varianceCents2);
    expect(Math.abs(meanCents - exact.meanCents)).toBeLessThan((4 * deviation) / Math.sqrt(draws) + 1);
    // The standard error of a deviation is sqrt((kurtosis - 1) / 4n) of it: 0.7% at 100,000 draws for a kurtosis of 20.
    expect(Math.abs(standardDeviationCents / deviation - 1)).toBeLessThan(0.03);
  });

  it("quantiles of one line are those of its lognormal distribution", () => {
    const result = run([line("100")]);
    const s = Math.sqrt(Math.log(1.16));
    // z of 10%, 50% and 90% of the standard normal distribution, from its tables: -1.2816, 0, 1.2816.
    for (const [cents, z] of [
      [result.p10Cents, -1.2816],
      [result.p50Cents, 0],
      [result.p90Cents, 1.2816],
    ] as const) {
      const exact = 100 * (OTHER + LABOR * Math.exp(s * z - (s * s) / 2));
      // Standard error of the quantile sqrt(p(1-p)/n) / density is below 0.3% of the labor; five of them.
      expect(Math.abs(cents - exact)).toBeLessThan(0.015 * 100 * LABOR);
    }
    const hours = Object.values(result.hours).map(Number);
    expect(hours[0]).toBeCloseTo(10, 1);
    expect(hours[2]).toBeCloseTo(10 / Math.sqrt(1.16), 1);
  });

  it("means of random revisions lie within 6 standard errors", () => {
    const some = fc.record({
      quantity: fc.integer({ min: 1, max: 200 }).map(String),
      cv: fc.nat(6000),
      chanceBp: fc.option(fc.nat(10_000)),
      charge: fc.constantFrom("included" as const, "if_found" as const),
    });
    fc.assert(
      fc.property(
        fc.array(some, { minLength: 1, maxLength: 8 }),
        fc.nat(10_000),
        fc.nat(),
        (drawn, rho, seed) => {
          const lines = drawn.map(({ quantity, cv, chanceBp, charge }) =>
            line(quantity, {
              rates: rates({ laborCvBp: cv }),
              allowance:
                chanceBp === null
                  ? null
                  : allowance({ chanceBp, charge, lowQuantity: "1", highQuantity: "300", capQuantity: "90" }),
            }),
          );
          const result = run(lines, { draws: 2000, seed, laborCorrelationBp: rho });
          const error = Math.sqrt(result.exact.varianceCents2 / 2000);
          expect(Math.abs(result.meanCents - result.exact.meanCents)).toBeLessThanOrEqual(6 * error + 1);
          expect(result.p10Cents).toBeLessThanOrEqual(result.p50Cents);
          expect(result.p50Cents).toBeLessThanOrEqual(result.p90Cents);
        },
      ),
      { numRuns: 60, seed: 1 },
    );
  });
});

describe("what counts", () => {
  it("the mean of lines of known quantity, charges and whole packs is their priced cost", () => {
    const packed = rates({
      materials: [
        {
          ...(rates().materials[0] as LineRates["materials"][number]),
          wholePacks: true,
          packs: [{ size: "64", cents: 9000 }],
        },
      ],
    });
    const charges: Charge[] = [{ kind: "permit", words: "Permit", costCents: 12_000, atCost: true }];
    const revision = priced([line("90", { rates: packed }), line("10")], charges);
    const { exact } = simulateCost(revision, { draws: 100, seed: 1 });
    expect(revision.adjustments.map((a) => a.kind)).toEqual(["whole_packs"]);
    expect(exact.meanCents).toBeCloseTo(revision.totals.costCents, 6);
  });

  it("optional extras, the owner's lines and lines without rates do not", () => {
    const left = [
      line("50", { alternate: "Stain" }),
      line("50", { alternate: "Stain", allowance: allowance({ charge: "if_found" }) }),
      line("50", { by: "owner" }),
      line("50", { rates: null }),
    ];
    expect(run(left, { draws: 100 })).toMatchObject({ meanCents: 0, p90Cents: 0, hours: { p90: "0" } });
  });

  it("nothing found takes no set-up", () => {
    const setup = rates({
      labor: [{ ...(rates().labor[0] as LineRates["labor"][number]), setupHours: "3" }],
    });
    const none = allowance({ lowQuantity: "0", highQuantity: "0", chanceBp: 10_000 });
    expect(run([line("0", { rates: setup, allowance: none })], { draws: 100 }).exact.meanCents).toBe(0);
  });
});

describe("repeatability", () => {
  it("the same seed gives the same result, another seed another", () => {
    const options = { draws: 1000, seed: 9 };
    expect(run(mixed, options)).toEqual(run(mixed, options));
    expect(run(mixed, options).sortedCents).not.toEqual(run(mixed, { ...options, seed: 10 }).sortedCents);
  });

  it("a change to one line leaves the draws of the others alone", () => {
    // With one line changed by a constant, every draw moves by that constant.
    const sure = rates({ laborCvBp: 0, labor: [] });
    const before = run([line("1", { rates: sure }), ...mixed], { draws: 1000 });
    const after = run([line("1001", { rates: sure }), ...mixed], { draws: 1000 });
    const moved = after.sortedCents.map((cents, i) => cents - (before.sortedCents[i] ?? 0));
    expect(Math.max(...moved) - Math.min(...moved)).toBeLessThan(0.001);
  });
});

describe("bad input names its field", () => {
  const fields = (act: () => unknown): string[] => {
    try {
      act();
    } catch (error) {
      return (error as EstimateInputError).findings.map((f) => f.field);
    }
    return [];
  };

  it.each([
    [{ draws: 99 }, ["draws"]],
    [{ draws: 1_000_001 }, ["draws"]],
    [{ draws: 100.5, seed: -1 }, ["draws", "seed"]],
    [{ seed: 2 ** 32 }, ["seed"]],
    [{ laborCorrelationBp: 10_001 }, ["laborCorrelationBp"]],
    [{ laborCorrelationBp: -1 }, ["laborCorrelationBp"]],
  ])("%j", (options, expected) => {
    expect(fields(() => run([line("1")], options))).toEqual(expected);
  });

  it.each<[string, RevisionLine, string[]]>([
    ["negative variation", line("1", { rates: rates({ laborCvBp: -1 }) }), ["lines[1].rates.laborCvBp"]],
    ["a slip in variation", line("1", { rates: rates({ laborCvBp: 30_001 }) }), ["lines[1].rates.laborCvBp"]],
    [
      "a chance above 100%",
      line("20", { allowance: allowance({ chanceBp: 10_001, charge: "if_found" }) }),
      ["lines[1].allowance.chanceBp"],
    ],
    ["least above likeliest", line("4", { allowance: allowance() }), ["lines[1].allowance.lowQuantity"]],
    [
      "amounts that are no numbers",
      line("20", { allowance: allowance({ lowQuantity: "-1", capQuantity: "much", charge: "if_found" }) }),
      ["lines[1].allowance.lowQuantity", "lines[1].allowance.capQuantity"],
    ],
  ])("%s", (_name, faulty, expected) => {
    const good = priced([line("1"), line("20", { allowance: allowance({ charge: "if_found" }) })]);
    const [first, second] = good.lines;
    if (!first || !second) throw new Error("Two lines were priced.");
    const standing = faulty.allowance?.charge === "if_found" ? ("if_found" as const) : ("base" as const);
    const lines = [first, { ...second, allowance: null, ...faulty, standing }];
    expect(fields(() => simulateCost({ ...good, lines }, { draws: 100, seed: 1 }))).toEqual(expected);
  });

  it("a price or chance that is none", () => {
    const result = run([line("1")], { draws: 100 });
    expect(fields(() => chanceOfLoss(result, Number.NaN))).toEqual(["priceCents"]);
    for (const chance of [-1, 10_001, 0.5])
      expect(fields(() => priceAtChanceOfLoss(result, chance))).toEqual(["chanceBp"]);
  });

  it("a revision without its terms", () => {
    const bare = priceRevision({ lines: [line("1")] }, terms) as ReturnType<typeof priced>;
    expect(
      fields(() => simulateCost({ ...bare, terms: undefined as never }, { draws: 100, seed: 1 })),
    ).toEqual(["terms"]);
  });
});
