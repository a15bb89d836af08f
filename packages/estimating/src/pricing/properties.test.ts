import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { charges, Exact, line, quantity, sum, terms, total } from "./arbitraries.fixture.ts";
import { type LinePrice, NOTHING, priceLine } from "./line.ts";
import { marginFromMarkup, markupFromMargin } from "./margin.ts";
import { material, only } from "./rates.fixture.ts";
import { type PricingTerms, priceRevision, type RevisionLine, standingOf } from "./revision.ts";

const lines = fc.array(line("x"), { maxLength: 10 });
describe("sums", () => {
  it("totals equal base lines, charges and adjustments, in every part", () => {
    fc.assert(
      fc.property(lines, charges, terms, (lines, charges, terms) => {
        const priced = priceRevision({ lines, charges }, terms);
        const base = priced.lines.filter((l) => l.standing === "base");
        const parts = [...base, ...priced.charges, ...priced.adjustments].map((p) => p.price);
        for (const part of Object.keys(NOTHING) as (keyof LinePrice)[]) {
          const added = total(parts.map((p) => new Exact(p[part])));
          expect(added.toFixed(), part).toBe(new Exact(priced.totals[part]).toFixed());
        }
        for (const p of [...parts, priced.totals]) {
          expect(p.costCents).toBe(
            p.materialCents +
              p.taxCents +
              p.laborCents +
              p.disposalCents +
              p.equipmentCents +
              p.overheadCents,
          );
        }
        // Not of each part: what whole packs add also evens out the cents that rounding each line had added.
        expect(priced.totals.priceCents).toBeGreaterThanOrEqual(priced.totals.costCents);
        expect(priced.lines.map(({ price, standing, agreed, ...rest }) => rest)).toEqual(lines);
      }),
      { numRuns: 200 },
    );
  });

  it("extras equal their lines, and neither they nor what is charged only if found move the total", () => {
    fc.assert(
      fc.property(lines, charges, terms, (lines, charges, terms) => {
        const priced = priceRevision({ lines, charges }, terms);
        for (const { name, price } of priced.alternates) {
          const own = priced.lines.filter((l) => l.standing === "alternate" && l.alternate === name);
          expect(own.length).toBeGreaterThan(0);
          expect(price.priceCents).toBe(sum(own.map((l) => l.price.priceCents)));
        }
        const named = priced.lines.flatMap((l) => (l.standing === "alternate" ? [l.alternate] : []));
        expect(priced.alternates.map((a) => a.name)).toEqual([...new Set(named)]);
        const alone = lines.filter((l) => standingOf(l) === "base");
        const without = priceRevision({ lines: alone, charges }, terms);
        expect(without.totals).toEqual(priced.totals);
        expect(without.purchases).toEqual(priced.purchases);
        for (const l of priced.lines)
          if (l.standing !== "base" && l.standing !== "alternate") expect(l.price).toEqual(NOTHING);
      }),
      { numRuns: 200 },
    );
  });

  it("the price is a whole multiple of the step and never below the minimum, unless nothing is charged", () => {
    fc.assert(
      fc.property(lines, charges, terms, (lines, charges, terms) => {
        const { totals, adjustments } = priceRevision({ lines, charges }, terms);
        if (terms.roundUpToCents > 0) expect(totals.priceCents % terms.roundUpToCents).toBe(0);
        if (totals.priceCents > 0) expect(totals.priceCents).toBeGreaterThanOrEqual(terms.minimumChargeCents);
        const rounding = adjustments.find((a) => a.kind === "rounding");
        if (rounding) expect(rounding.price.priceCents).toBeLessThan(terms.roundUpToCents);
        if (totals.priceCents === 0) expect(adjustments).toEqual([]);
      }),
      { numRuns: 200 },
    );
  });
});

describe("more work never costs less", () => {
  const grow = (from: string, more: string) => new Exact(from).plus(more).toFixed();

  it("on a line, time to set up included", () => {
    fc.assert(
      fc.property(line("x"), quantity, terms, (line, more, terms) => {
        const small = priceLine(line, terms);
        const large = priceLine({ ...line, quantity: grow(line.quantity, more) }, terms);
        expect(large.priceCents).toBeGreaterThanOrEqual(small.priceCents);
        expect(large.costCents).toBeGreaterThanOrEqual(small.costCents);
        expect(new Exact(large.hours).gte(small.hours)).toBe(true);
        if (more === "0") expect(large).toEqual(small);
      }),
      { numRuns: 200 },
    );
  });

  const jobs = fc.tuple(fc.array(line("x"), { minLength: 1, maxLength: 5 }), fc.nat(4), quantity);
  const grown = (lines: readonly RevisionLine[], which: number, more: string) =>
    lines.map((l, i) => (i === which % lines.length ? { ...l, quantity: grow(l.quantity, more) } : l));
  const price = (lines: readonly RevisionLine[], terms: PricingTerms) =>
    priceRevision({ lines }, terms).totals.priceCents;

  it("the total of a job, whatever it buys in whole packs", () => {
    fc.assert(
      fc.property(jobs, terms, ([lines, which, more], terms) => {
        expect(price(grown(lines, which, more), terms)).toBeGreaterThanOrEqual(price(lines, terms));
      }),
      { numRuns: 400 },
    );
  });

  it("by hand: one nail more out of the same box costs the same", () => {
    // A box of 100 at $1 and 40% margin is 1.00 / 0.6 = $1.67 whether one nail is used or two.
    const nail = material("0", { packs: [{ size: "100", cents: 100 }], wholePacks: true });
    const nails = (quantity: string): RevisionLine[] => [{ quantity, by: "us", rates: only(nail) }];
    const terms = {
      overheadBp: 0,
      marginBp: 4000,
      materialTaxBp: 0,
      minimumChargeCents: 0,
      roundUpToCents: 0,
    };
    expect(["1", "2", "100"].map((n) => price(nails(n), terms))).toEqual([167, 167, 167]);
    expect(price(nails("101"), terms)).toBe(333);
  });
});

describe("margin", () => {
  it("what is left of the price is the margin, to the rounding of one cent", () => {
    fc.assert(
      fc.property(line("x"), terms, (line, terms) => {
        const { priceCents, costCents } = priceLine(line, terms);
        const left = new Exact(priceCents).times(10_000 - terms.marginBp).div(10_000);
        expect(left.minus(costCents).abs().lte(0.5)).toBe(true);
      }),
    );
  });

  it("survives the trip through markup", () => {
    fc.assert(
      fc.property(fc.nat(9000), (bp) => {
        expect(marginFromMarkup(markupFromMargin(bp))).toBe(bp);
      }),
    );
  });
});
