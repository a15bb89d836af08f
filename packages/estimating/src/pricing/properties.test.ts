import { ACTIONS, COMPONENTS, DOERS, EVIDENCE, UNITS } from "@ledgerboard/contracts/vocabulary";
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type ComparableLine,
  compareRevisions,
  type LinePrice,
  type LineRates,
  type MaterialityPolicy,
  marginFromMarkup,
  markupFromMargin,
  type PricingTerms,
  priceLine,
  priceRevision,
  unfoldLine,
} from "./index.ts";

// Outside check: decimal.js (https://mikemcl.github.io/decimal.js/) redoes the arithmetic with its own rounding.
const Exact = Decimal.clone({ precision: 100, rounding: Decimal.ROUND_HALF_UP });

const decimal = (maxUnits: number, places: number) =>
  fc.nat(maxUnits * 10 ** places).map((n) => new Exact(n).div(10 ** places).toFixed());
const quantity = decimal(200, 4);
const terms: fc.Arbitrary<PricingTerms> = fc.record({
  overheadBp: fc.nat(4000),
  marginBp: fc.nat(9000),
  materialTaxBp: fc.nat(1200),
});
const rates: fc.Arbitrary<LineRates> = fc.record({
  materialUnitCents: decimal(20_000, 2),
  wasteBp: fc.nat(3000),
  hoursPerUnit: decimal(5, 4),
  laborRateCode: fc.constantFrom("CARP", "LEAD"),
  laborHourlyCents: fc.nat(9000),
  laborBurdenBp: fc.nat(6000),
});
const line = (lineageId: string): fc.Arbitrary<ComparableLine> =>
  fc.record({
    id: fc.uuid(),
    lineageId: fc.constant(lineageId),
    zoneId: fc.constantFrom("z1", "z2"),
    zoneName: fc.constant("Lower deck"),
    component: fc.constantFrom(...COMPONENTS),
    action: fc.constantFrom(...ACTIONS),
    itemCode: fc.constantFrom(null, "A", "B"),
    unit: fc.constantFrom(...UNITS),
    evidence: fc.constantFrom(...EVIDENCE),
    reasonCode: fc.constant(null),
    reason: fc.constant(null),
    quantity,
    by: fc.oneof({ weight: 4, arbitrary: fc.constant("us" as const) }, fc.constantFrom(...DOERS)),
    rates: fc.oneof({ weight: 5, arbitrary: rates }, fc.constant(null)),
  });

/** What may become of one line: gone, new, left alone, changed in some fields, or rewritten altogether. */
const pair = (lineageId: string): fc.Arbitrary<[ComparableLine | null, ComparableLine | null]> =>
  fc.oneof(
    line(lineageId).map((l): [ComparableLine, null] => [l, null]),
    line(lineageId).map((l): [null, ComparableLine] => [null, l]),
    line(lineageId).map((l): [ComparableLine, ComparableLine] => [l, { ...l, id: `${l.id}-copy` }]),
    fc
      .tuple(line(lineageId), quantity, rates, fc.constantFrom(...EVIDENCE))
      .map(([l, q, r, evidence]): [ComparableLine, ComparableLine] => [
        l,
        { ...l, quantity: q, rates: r, evidence },
      ]),
    fc.tuple(line(lineageId), line(lineageId)).map(([a, b]): [ComparableLine, ComparableLine] => [a, b]),
  );
const present = (lines: (ComparableLine | null)[]) => lines.filter((l) => l !== null);
const revisions = fc
  .nat(12)
  .chain((n) => fc.tuple(...Array.from({ length: n }, (_, i) => pair(`line-${i}`))))
  .map((pairs) => ({ before: present(pairs.map((p) => p[0])), after: present(pairs.map((p) => p[1])) }));
const policy: fc.Arbitrary<MaterialityPolicy> = fc.record({
  amountCents: fc.nat(1_000_000),
  percentBp: fc.nat(5000),
  hours: fc.option(decimal(100, 2)),
  structuralAction: fc.boolean(),
});
const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0);

describe("pricing", () => {
  it("totals equal the sums of the lines", () => {
    fc.assert(
      fc.property(fc.array(line("x"), { maxLength: 15 }), terms, (lines, terms) => {
        const { lines: priced, totals } = priceRevision({ lines }, terms);
        const of = (pick: (p: LinePrice) => number) => sum(priced.map((l) => pick(l.price)));
        expect({ ...totals, hours: 0 }).toEqual({
          materialCents: of((p) => p.materialCents),
          taxCents: of((p) => p.taxCents),
          hours: 0,
          laborCents: of((p) => p.laborCents),
          overheadCents: of((p) => p.overheadCents),
          costCents: of((p) => p.costCents),
          priceCents: of((p) => p.priceCents),
        });
        expect(totals.hours).toBe(priced.reduce((a, l) => a.plus(l.price.hours), new Exact(0)).toFixed());
        expect(totals.costCents).toBe(
          totals.materialCents + totals.taxCents + totals.laborCents + totals.overheadCents,
        );
        for (const l of priced) expect(l.price).toEqual(priceLine(l, terms));
      }),
    );
  });

  it("matches the same formulas in decimal.js", () => {
    fc.assert(
      fc.property(quantity, rates, terms, (quantity, rates, terms) => {
        const up = (bp: number) => new Exact(10_000 + bp).div(10_000);
        const cents = (d: Decimal) => d.toDecimalPlaces(0);
        const material = cents(new Exact(quantity).times(up(rates.wasteBp)).times(rates.materialUnitCents));
        const tax = cents(material.times(terms.materialTaxBp).div(10_000));
        const hours = new Exact(quantity).times(rates.hoursPerUnit).toDecimalPlaces(4);
        const labor = cents(hours.times(rates.laborHourlyCents).times(up(rates.laborBurdenBp)));
        const direct = material.plus(tax).plus(labor);
        const overhead = cents(direct.times(terms.overheadBp).div(10_000));
        const cost = direct.plus(overhead);
        expect(priceLine({ quantity, by: "us", rates }, terms)).toEqual({
          materialCents: material.toNumber(),
          taxCents: tax.toNumber(),
          hours: hours.toFixed(),
          laborCents: labor.toNumber(),
          overheadCents: overhead.toNumber(),
          costCents: cost.toNumber(),
          priceCents: cents(cost.times(10_000).div(10_000 - terms.marginBp)).toNumber(),
        });
      }),
      { numRuns: 500 },
    );
  });

  it("never falls when the quantity grows", () => {
    fc.assert(
      fc.property(line("x"), quantity, terms, (line, more, terms) => {
        const grown = new Exact(line.quantity).plus(more).toFixed();
        const small = priceLine(line, terms);
        const large = priceLine({ ...line, quantity: grown }, terms);
        expect(large.priceCents).toBeGreaterThanOrEqual(small.priceCents);
        expect(large.costCents).toBeGreaterThanOrEqual(small.costCents);
      }),
    );
  });

  it("keeps the margin: what is left of the price is the margin, to the rounding of one cent", () => {
    fc.assert(
      fc.property(line("x"), terms, (line, terms) => {
        const { priceCents, costCents } = priceLine(line, terms);
        const left = new Exact(priceCents).times(10_000 - terms.marginBp).div(10_000);
        expect(left.minus(costCents).abs().lte(0.5)).toBe(true);
      }),
    );
  });

  it("margin survives the trip through markup", () => {
    fc.assert(
      fc.property(fc.nat(9000), (bp) => {
        expect(marginFromMarkup(markupFromMargin(bp))).toBe(bp);
      }),
    );
  });
});

/** Redoes an unfolded formula with decimal.js: "a × b", "a ÷ b − c", hours first where they are shown. */
function redo(formula: string): Decimal {
  const value = (text: string) => new Exact(text.trim().replace(/[$,]|\sh$/g, ""));
  const product = (text: string) => text.split("×").reduce((a, t) => a.times(value(t)), new Exact(1));
  const [hours, labor] = formula.split(";");
  if (hours !== undefined && labor !== undefined) {
    const [steps = "", shown = ""] = hours.split("=");
    expect(product(steps.trim()).toDecimalPlaces(4).toFixed()).toBe(value(shown).toFixed());
    expect(labor.trim().startsWith(shown.trim())).toBe(true);
    return product(labor);
  }
  const [quotient = "", less = ""] = formula.split("−");
  const [over, under] = quotient.split("÷");
  if (over === undefined || under === undefined) return product(formula);
  return value(over).div(value(under)).toDecimalPlaces(2).minus(value(less));
}

describe("unfolding", () => {
  it("every row can be redone from its own text and the rows sum to the price", () => {
    fc.assert(
      fc.property(quantity, rates, terms, (quantity, rates, terms) => {
        const line = { quantity, by: "us" as const, rates };
        const rows = unfoldLine(line, terms);
        expect(sum(rows.map((r) => r.cents))).toBe(priceLine(line, terms).priceCents);
        for (const row of rows) {
          expect(redo(row.formula).toDecimalPlaces(2).times(100).toNumber()).toBe(row.cents);
        }
      }),
      { numRuns: 300 },
    );
  });

  it("rows sum to the price of any line", () => {
    fc.assert(
      fc.property(line("x"), terms, (line, terms) => {
        expect(sum(unfoldLine(line, terms).map((r) => r.cents))).toBe(priceLine(line, terms).priceCents);
      }),
    );
  });
});

describe("comparing", () => {
  it("the bridge adds up to the cent, and so does every line", () => {
    fc.assert(
      fc.property(revisions, terms, terms, policy, ({ before, after }, oldTerms, newTerms, policy) => {
        const result = compareRevisions(
          { lines: before, terms: oldTerms },
          { lines: after, terms: newTerms },
          policy,
        );
        const from = priceRevision({ lines: before }, oldTerms).totals;
        const to = priceRevision({ lines: after }, newTerms).totals;
        expect(result.bridge.fromCents).toBe(from.priceCents);
        expect(result.bridge.toCents).toBe(to.priceCents);
        expect(sum(result.bridge.steps.map((s) => s.cents))).toBe(to.priceCents - from.priceCents);
        expect(sum(result.changes.map((c) => c.deltaCents))).toBe(to.priceCents - from.priceCents);
        for (const change of result.changes) {
          expect(sum(change.steps.map((s) => s.cents))).toBe(change.deltaCents);
          expect(change.afterCents - change.beforeCents).toBe(change.deltaCents);
        }
        const deltas = result.changes.reduce((a, c) => a.plus(c.deltaHours), new Exact(0));
        expect(result.hours.delta).toBe(deltas.toFixed());
        expect(result.hours.delta).toBe(new Exact(to.hours).minus(from.hours).toFixed());
      }),
      { numRuns: 300 },
    );
  });

  it("loses and invents no line", () => {
    fc.assert(
      fc.property(revisions, terms, policy, ({ before, after }, terms, policy) => {
        const { changes } = compareRevisions({ lines: before, terms }, { lines: after, terms }, policy);
        expect(new Set(present(changes.map((c) => c.before)))).toEqual(new Set(before));
        expect(new Set(present(changes.map((c) => c.after)))).toEqual(new Set(after));
        expect(changes.filter((c) => c.before)).toHaveLength(before.length);
        expect(changes.filter((c) => c.after)).toHaveLength(after.length);
      }),
    );
  });

  it("a revision compared with itself has changed in nothing and is not material", () => {
    fc.assert(
      fc.property(revisions, terms, policy, ({ before: lines }, terms, policy) => {
        const copy = lines.map((l) => ({ ...l, rates: l.rates && { ...l.rates } }));
        const result = compareRevisions({ lines, terms }, { lines: copy, terms }, policy);
        expect(result.changes.every((c) => c.kind === "unchanged" && c.steps.length === 0)).toBe(true);
        expect(result.bridge.steps.every((s) => s.cents === 0)).toBe(true);
        expect(result.verdict.material).toBe(false);
        expect(result.hours.delta).toBe("0");
      }),
    );
  });

  it("the way back is the way there with its sign turned, in price and hours", () => {
    fc.assert(
      fc.property(revisions, terms, terms, policy, ({ before, after }, oldTerms, newTerms, policy) => {
        const there = compareRevisions(
          { lines: before, terms: oldTerms },
          { lines: after, terms: newTerms },
          policy,
        );
        const back = compareRevisions(
          { lines: after, terms: newTerms },
          { lines: before, terms: oldTerms },
          policy,
        );
        expect(back.bridge.toCents - back.bridge.fromCents).toBe(
          -(there.bridge.toCents - there.bridge.fromCents) + 0,
        );
        expect(new Exact(back.hours.delta).plus(there.hours.delta).toFixed()).toBe("0");
      }),
    );
  });
});
