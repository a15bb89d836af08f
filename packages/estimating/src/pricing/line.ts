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
import { amount, type LineRates, share, unitOfLabor, unitOfMaterial } from "./rates.ts";

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
export const materialCents = (quantity: Ratio, rates: LineRates): number[] =>
  rates.materials.map((use) => {
    const { cents } = unitOfMaterial(use);
    return cents ? toCents(multiply(quantity, cents)) : 0;
  });

/** Hours (to four places) and cents of each labor rate of a line, in the order of its rates. */
export const laborOf = (quantity: Ratio, rates: LineRates): { hours: Ratio; cents: number }[] =>
  rates.labor.map((use) => {
    const { hours: perUnit, setup, hourCents } = unitOfLabor(use);
    const hours = toFourPlaces(quantity.num === 0n ? ratio(0) : add(multiply(quantity, perUnit), setup));
    return { hours, cents: toCents(multiply(hours, hourCents)) };
  });

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
