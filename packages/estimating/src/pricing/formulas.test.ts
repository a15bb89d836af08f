import type { Decimal } from "decimal.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectedQuantity } from "./allowance.ts";
import { allowanceOf, charges, Exact, quantity, rates, sum, terms, total } from "./arbitraries.fixture.ts";
import { type LinePrice, type LineTerms, NOTHING, priceLine } from "./line.ts";
import { material } from "./rates.fixture.ts";
import type { LineRates } from "./rates.ts";
import { priceRevision } from "./revision.ts";

const up = (bp: number) => new Exact(10_000 + bp).div(10_000);
const cents = (d: Decimal) => d.toDecimalPlaces(0);

/** Overhead and margin on direct costs, in decimal.js. */
function onTop(direct: Decimal, { overheadBp, marginBp }: LineTerms) {
  const overhead = cents(direct.times(overheadBp).div(10_000));
  const cost = direct.plus(overhead);
  return {
    overheadCents: overhead.toNumber(),
    costCents: cost.toNumber(),
    priceCents: cents(cost.times(10_000).div(10_000 - marginBp)).toNumber(),
  };
}

const needed = (quantity: string, { perUnit, wasteBp }: LineRates["materials"][number]) =>
  new Exact(quantity).times(perUnit).times(up(wasteBp));

/** The formulas of priceLine, in decimal.js. */
function redone(quantity: string, rates: LineRates, terms: LineTerms): LinePrice {
  const each = rates.materials.map((use) => {
    const units = use.packs.map(({ size, cents }) => new Exact(cents).div(size));
    return units.length > 0 ? cents(needed(quantity, use).times(Exact.min(...units))) : new Exact(0);
  });
  const material = total(each);
  const tax = cents(material.times(terms.materialTaxBp).div(10_000));
  const labor = rates.labor.map((use) => {
    const setup = new Exact(quantity).isZero() ? "0" : use.setupHours;
    const hours = new Exact(quantity).times(use.hoursPerUnit).plus(setup).toDecimalPlaces(4);
    return { hours, cents: cents(hours.times(use.hourlyCents).times(up(use.burdenBp))) };
  });
  const laborCents = total(labor.map((l) => l.cents));
  const disposal = cents(new Exact(quantity).times(rates.disposalUnitCents));
  const equipment = cents(new Exact(quantity).times(rates.equipmentUnitCents));
  return {
    materialCents: material.toNumber(),
    taxCents: tax.toNumber(),
    hours: total(labor.map((l) => l.hours)).toFixed(),
    laborCents: laborCents.toNumber(),
    disposalCents: disposal.toNumber(),
    equipmentCents: equipment.toNumber(),
    ...onTop(total([material, tax, laborCents, disposal, equipment]), terms),
  };
}

describe("the same formulas in decimal.js", () => {
  it("for a line", () => {
    fc.assert(
      fc.property(quantity, rates, terms, (quantity, rates, terms) => {
        expect(priceLine({ quantity, by: "us", rates }, terms)).toEqual(redone(quantity, rates, terms));
      }),
      { numRuns: 400 },
    );
  });

  it("for an allowance inside the price and its agreed unit price", () => {
    const known = quantity.chain((q) => fc.tuple(fc.constant(q), allowanceOf(q)));
    fc.assert(
      fc.property(known, rates, terms, ([quantity, allowance], rates, terms) => {
        const { lowQuantity, highQuantity, chanceBp, capQuantity } = allowance;
        const mean = new Exact(lowQuantity).plus(quantity).plus(highQuantity).times(chanceBp).div(30_000);
        const expected = mean.toDecimalPlaces(4).toFixed();
        expect(expectedQuantity(quantity, allowance)).toBe(expected);
        const line = { quantity, by: "us" as const, rates, allowance };
        const [priced] = priceRevision({ lines: [line] }, terms).lines;
        const price = allowance.charge === "included" ? redone(expected, rates, terms) : NOTHING;
        expect(priced?.price).toEqual(price);
        if (new Exact(quantity).isZero()) {
          expect(priced?.agreed).toBeNull();
          return;
        }
        const unit = cents(new Exact(redone(quantity, rates, terms).priceCents).div(quantity));
        expect(priced?.agreed).toEqual({
          unitPriceCents: unit.toNumber(),
          capQuantity,
          capCents: cents(unit.times(capQuantity)).toNumber(),
        });
      }),
    );
  });

  it("for a whole job with whole packs of one size, charges, minimum and rounding", () => {
    const nail = (perUnit: string, wasteBp: number): LineRates => ({
      materials: [
        material("0", { packs: [{ size: "350", cents: 1899 }], wholePacks: true, perUnit, wasteBp }),
      ],
      labor: [],
      disposalUnitCents: "0",
      equipmentUnitCents: "0",
      laborCvBp: 0,
    });
    const nailed = fc.record({
      quantity,
      by: fc.constant("us" as const),
      rates: fc.tuple(fc.constantFrom("0.5", "7", "12.25"), fc.nat(3000)).map((args) => nail(...args)),
    });
    const some = fc.array(nailed, { maxLength: 5 });
    fc.assert(
      fc.property(some, charges, terms, (lines, charges, terms) => {
        const prices = lines.map((l) => redone(l.quantity, l.rates, terms));
        const need = total(lines.flatMap((l) => l.rates.materials.map((use) => needed(l.quantity, use))));
        const used = sum(prices.map((p) => p.materialCents));
        const leftover = Exact.max(0, need.div(350).ceil().times(1899).minus(used));
        // Everything is priced once more from its sum, whole packs included.
        const bought = leftover.plus(used);
        const taxed = bought.plus(cents(bought.times(terms.materialTaxBp).div(10_000)));
        let price =
          sum(
            charges.map((c) => (c.atCost ? c.costCents : onTop(new Exact(c.costCents), terms).priceCents)),
          ) + onTop(taxed, terms).priceCents;
        if (price > 0) {
          price = Math.max(price, terms.minimumChargeCents);
          const step = Math.max(1, terms.roundUpToCents);
          price = Math.ceil(price / step) * step;
        }
        expect(priceRevision({ lines, charges }, terms).totals.priceCents).toBe(price);
      }),
      { numRuns: 200 },
    );
  });
});
