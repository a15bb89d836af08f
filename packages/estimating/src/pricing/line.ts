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
import { type LineRates, materialNeeded, unitCents } from "./rates.ts";

/** Terms of a price book that apply to every line. bp = basis points (hundredths of a percent), whole, not negative. */
export interface LineTerms {
  /** Share of direct cost (material, tax, labor, disposal, equipment) added for overhead. */
  overheadBp: number;
  /** Share of the PRICE that is left above cost, 0 to 9000. Not markup, which is a share of the cost. */
  marginBp: number;
  /** Sales tax on material. */
  materialTaxBp: number;
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
  disposalCents: number;
  equipmentCents: number;
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
  disposalCents: 0,
  equipmentCents: 0,
  overheadCents: 0,
  costCents: 0,
  priceCents: 0,
};

/** A quantity or rate as an exact ratio. Throws RangeError when it is negative or malformed. */
export function amount(what: string, value: string | number): Ratio {
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

export function checkTerms(terms: LineTerms): void {
  share("Overhead", terms.overheadBp);
  share("Material tax", terms.materialTaxBp);
  checkMargin(terms.marginBp);
}

/** The rates a line is priced with, or null when it stays out of the price: done by owner or others, or without rates. */
export const chargedRates = (line: PriceableLine): LineRates | null => (line.by === "us" ? line.rates : null);

/** Cents of each material of a line, in the order of its rates; a material without a price counts nothing. */
export function materialCents(quantity: Ratio, rates: LineRates): number[] {
  return rates.materials.map((use) => {
    amount("Amount of material per unit", use.perUnit);
    share("Waste", use.wasteBp);
    const each = unitCents(use.packs);
    return each ? toCents(multiply(materialNeeded(quantity, use), each)) : 0;
  });
}

/** Hours (to four places) and cents of each labor rate of a line, in the order of its rates. */
export function laborOf(quantity: Ratio, rates: LineRates): { hours: Ratio; cents: number }[] {
  return rates.labor.map((use) => {
    const perUnit = multiply(quantity, amount("Hours per unit", use.hoursPerUnit));
    const setup = quantity.num === 0n ? ratio(0) : amount("Hours to set up", use.setupHours);
    const hours = toFourPlaces(add(perUnit, setup));
    const withBurden = add(ONE, share("Labor burden", use.burdenBp));
    return { hours, cents: toCents(multiply(hours, amount("Hourly rate", use.hourlyCents), withBurden)) };
  });
}

const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0);

/** Direct costs with tax on material, overhead and margin on top, each rounded once. */
export function priceOfCosts(
  direct: Pick<LinePrice, "materialCents" | "laborCents" | "disposalCents" | "equipmentCents" | "hours">,
  terms: LineTerms,
): LinePrice {
  const taxCents = toCents(multiply(ratio(direct.materialCents), basisPoints(terms.materialTaxBp)));
  const directCents =
    direct.materialCents + taxCents + direct.laborCents + direct.disposalCents + direct.equipmentCents;
  const overheadCents = toCents(multiply(ratio(directCents), basisPoints(terms.overheadBp)));
  const costCents = directCents + overheadCents;
  return {
    ...NOTHING,
    ...direct,
    taxCents,
    overheadCents,
    costCents,
    priceCents: priceAtMargin(costCents, terms.marginBp),
  };
}

/**
 * priceLine without its upper limits, for figures that are never stored: a new quantity at an old rate may be absurd
 * where both real prices are sound, and that must not stop a comparison.
 */
export function priceUnbounded(line: PriceableLine, terms: LineTerms): LinePrice {
  checkTerms(terms);
  const quantity = amount("Quantity", line.quantity);
  const rates = chargedRates(line);
  if (!rates) return { ...NOTHING };
  const labor = laborOf(quantity, rates);
  const direct = {
    materialCents: sum(materialCents(quantity, rates)),
    hours: toDecimal(add(...labor.map((l) => l.hours))),
    laborCents: sum(labor.map((l) => l.cents)),
    disposalCents: toCents(multiply(quantity, amount("Disposal", rates.disposalUnitCents))),
    equipmentCents: toCents(multiply(quantity, amount("Equipment", rates.equipmentUnitCents))),
  };
  return priceOfCosts(direct, terms);
}

/**
 * Prices one line. Each amount is rounded half-up to the cent once, and the next step starts from the rounded one, so
 * that the parts shown add up to the price shown:
 * material = quantity x amount per unit x (1 + waste) x unit cost at the cheapest pack, for each material;
 * tax = material x tax; hours = quantity x hours per unit + hours to set up, to four places, for each labor rate;
 * labor = hours x hourly rate x (1 + burden); disposal and equipment = quantity x cost per unit;
 * overhead = (all of these) x overhead; cost = these and overhead; price = cost / (1 - margin).
 *
 * Lines by owner or others, and lines without rates, price to zero. Throws RangeError for negative or malformed
 * quantities, rates or terms, a margin outside 0 to 9000, a price above MAX_CENTS or more than 1,000,000 hours.
 */
export function priceLine(line: PriceableLine, terms: LineTerms): LinePrice {
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

const CENTS = [
  "materialCents",
  "taxCents",
  "laborCents",
  "disposalCents",
  "equipmentCents",
  "overheadCents",
  "costCents",
  "priceCents",
] as const satisfies readonly (keyof LinePrice)[];

/** Sum of prices part by part: the sum of rounded lines, never rounded again. */
export function totalPrice(prices: readonly LinePrice[]): LinePrice {
  const total = { ...NOTHING, hours: sumHours(prices.map((p) => p.hours)) };
  for (const price of prices) for (const part of CENTS) total[part] += price[part];
  return total;
}
