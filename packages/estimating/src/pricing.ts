import {
  add,
  basisPoints,
  MAX_CENTS,
  multiply,
  type Ratio,
  ratio,
  roundHalfUp,
  toCents,
  toDecimal,
} from "@ledgerboard/contracts/money";
import type { Doer } from "@ledgerboard/contracts/vocabulary";
import { checkMargin, priceAtMargin } from "./margin.ts";

/** Terms of a price book that apply to every line. bp = basis points (hundredths of a percent), whole, not negative. */
export interface PricingTerms {
  /** Share of direct cost (material, tax, labor) added for overhead. */
  overheadBp: number;
  /** Share of the PRICE that is left above cost, 0 to 9000. Not markup, which is a share of the cost. */
  marginBp: number;
  /** Sales tax on material. */
  materialTaxBp: number;
}

/** Rates a line was priced with; copied onto the line so that it can be re-priced and unfolded later. */
export interface LineRates {
  /** Decimal cents per unit of quantity, such as "285.5". */
  materialUnitCents: string;
  /** Material bought beyond the quantity, as a share of it. */
  wasteBp: number;
  /** Decimal hours of labor per unit of quantity. */
  hoursPerUnit: string;
  laborRateCode: string;
  /** Cents per hour before burden. */
  laborHourlyCents: number;
  /** Payroll taxes, insurance and the like, as a share of the hourly rate. */
  laborBurdenBp: number;
}

/** What of a scope line decides its price. Quantity is decimal text, not negative. */
export interface PriceableLine {
  quantity: string;
  by: Doer;
  rates: LineRates | null;
}

/** A price and its parts: money in whole cents, hours as decimal text with up to four places. */
export interface LinePrice {
  materialCents: number;
  taxCents: number;
  hours: string;
  laborCents: number;
  overheadCents: number;
  costCents: number;
  priceCents: number;
}

/** Hours of one line past which a quantity or rate must be a slip. Common practice, no source. */
const MAX_LINE_HOURS = 1_000_000n;
const ONE = ratio(1);
export const NOTHING: LinePrice = {
  materialCents: 0,
  taxCents: 0,
  hours: "0",
  laborCents: 0,
  overheadCents: 0,
  costCents: 0,
  priceCents: 0,
};

function amount(what: string, value: string | number) {
  const exact = ratio(value);
  if (exact.num < 0n) throw new RangeError(`${what} may not be negative; got ${value}.`);
  return exact;
}

/** A share in basis points as an exact ratio. Throws RangeError when it is negative or not whole. */
function share(what: string, bp: number) {
  if (!Number.isInteger(bp) || bp < 0) {
    throw new RangeError(`${what} must be a whole number of basis points, not negative; got ${bp}.`);
  }
  return basisPoints(bp);
}

function toFourPlaces(value: Ratio): Ratio {
  return { num: roundHalfUp(multiply(value, ratio(10_000))), den: 10_000n };
}

function checkTerms(terms: PricingTerms): void {
  share("Overhead", terms.overheadBp);
  share("Material tax", terms.materialTaxBp);
  checkMargin(terms.marginBp);
}

/** The rates a line is priced with, or null when it stays out of the price: done by owner or others, or without rates. */
export const chargedRates = (line: PriceableLine): LineRates | null => (line.by === "us" ? line.rates : null);

/**
 * priceLine without its upper limits, for figures that are never stored: a new quantity at an old rate may be absurd
 * where both real prices are sound, and that must not stop a comparison.
 */
export function priceUnbounded(line: PriceableLine, terms: PricingTerms): LinePrice {
  checkTerms(terms);
  const quantity = amount("Quantity", line.quantity);
  const rates = chargedRates(line);
  if (!rates) return { ...NOTHING };

  const withWaste = add(ONE, share("Waste", rates.wasteBp));
  const materialCents = toCents(multiply(quantity, withWaste, amount("Unit cost", rates.materialUnitCents)));
  const taxCents = toCents(multiply(ratio(materialCents), basisPoints(terms.materialTaxBp)));

  const hours = toFourPlaces(multiply(quantity, amount("Hours per unit", rates.hoursPerUnit)));
  const withBurden = add(ONE, share("Labor burden", rates.laborBurdenBp));
  const laborCents = toCents(multiply(hours, amount("Hourly rate", rates.laborHourlyCents), withBurden));

  const directCents = materialCents + taxCents + laborCents;
  const overheadCents = toCents(multiply(ratio(directCents), basisPoints(terms.overheadBp)));
  const costCents = directCents + overheadCents;
  return {
    materialCents,
    taxCents,
    hours: toDecimal(hours),
    laborCents,
    overheadCents,
    costCents,
    priceCents: priceAtMargin(costCents, terms.marginBp),
  };
}

/**
 * Prices one line. Each amount is rounded half-up to the cent once, and the next step starts from the rounded one, so
 * that the parts shown add up to the price shown:
 * material = quantity x (1 + waste) x unit cost; tax = material x tax; hours = quantity x hours per unit, to four
 * places; labor = hours x hourly rate x (1 + burden); overhead = (material + tax + labor) x overhead;
 * cost = all of these; price = cost / (1 - margin).
 *
 * Lines by owner or others, and lines without rates, price to zero. Throws RangeError for negative or malformed
 * quantities, rates or terms, a margin outside 0 to 9000, a price above MAX_CENTS or more than 1,000,000 hours.
 */
export function priceLine(line: PriceableLine, terms: PricingTerms): LinePrice {
  const price = priceUnbounded(line, terms);
  if (price.priceCents > MAX_CENTS) {
    throw new RangeError("A line is priced above $10,000,000; check its quantity, unit cost and hours.");
  }
  const hours = ratio(price.hours);
  if (hours.num > MAX_LINE_HOURS * hours.den) {
    throw new RangeError("A line takes over 1,000,000 hours; check its quantity and hours per unit.");
  }
  return price;
}

/** Exact sum of hours as decimal text; each must have at most four places, as priceLine gives them. */
export function sumHours(hours: Iterable<string>): string {
  let tenThousandths = 0n;
  for (const text of hours) {
    const { num, den } = ratio(text);
    tenThousandths += (num * 10_000n) / den;
  }
  return toDecimal({ num: tenThousandths, den: 10_000n }, 4);
}

/** Sum of prices part by part: the sum of rounded lines, never rounded again. */
export function totalPrice(prices: readonly LinePrice[]): LinePrice {
  const total = { ...NOTHING, hours: sumHours(prices.map((p) => p.hours)) };
  for (const price of prices) {
    total.materialCents += price.materialCents;
    total.taxCents += price.taxCents;
    total.laborCents += price.laborCents;
    total.overheadCents += price.overheadCents;
    total.costCents += price.costCents;
    total.priceCents += price.priceCents;
  }
  return total;
}

/**
 * Prices every line of a revision. The lines come back in order with their own fields and their `price`; totals are
 * sums of the rounded lines. Throws RangeError as priceLine does, for bad terms also when there are no lines.
 */
export function priceRevision<L extends PriceableLine>(
  revision: { lines: readonly L[] },
  terms: PricingTerms,
): { lines: (L & { price: LinePrice })[]; totals: LinePrice } {
  checkTerms(terms);
  const lines = revision.lines.map((line) => ({ ...line, price: priceLine(line, terms) }));
  return { lines, totals: totalPrice(lines.map((line) => line.price)) };
}
