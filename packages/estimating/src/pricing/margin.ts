import {
  add,
  basisPoints,
  divide,
  multiply,
  type Ratio,
  ratio,
  roundHalfUp,
  toCents,
} from "@ledgerboard/contracts/money";

/** Largest margin a price may be built on, in basis points: 90%, ten times the cost. Beyond it lies a typing slip. */
export const MAX_MARGIN_BP = 9000;
const MAX_MARKUP_BP = 90_000;

const whole = (bp: number, max: number) => Number.isInteger(bp) && bp >= 0 && bp <= max;
const ONE = ratio(1);

/** Throws RangeError unless `marginBp` is a whole number of basis points from 0 to 9000. */
export function checkMargin(marginBp: number): void {
  if (!whole(marginBp, MAX_MARGIN_BP)) {
    throw new RangeError(
      `Margin must be from 0% to 90% of the price, in whole basis points; got ${marginBp}.`,
    );
  }
}

/** What share of the price is left for the cost at this margin: 1 - margin. */
export function costShare(marginBp: number): Ratio {
  checkMargin(marginBp);
  return add(ONE, basisPoints(-marginBp));
}

/**
 * The price in cents that leaves `marginBp` basis points of itself above `costCents`: cost / (1 - margin), half-up
 * to the cent. Margin is a share of the price; markup (a share of the cost) would be less money for the same number.
 * Throws RangeError for a cost that is negative or not whole cents, or a margin outside 0 to 9000.
 * Source: "Gross margin", Wikipedia, https://en.wikipedia.org/wiki/Gross_margin.
 */
export function priceAtMargin(costCents: number, marginBp: number): number {
  if (costCents < 0) throw new RangeError(`Cost may not be negative; got ${costCents} cents.`);
  return toCents(divide(ratio(costCents), costShare(marginBp)));
}

const toBasisPoints = (share: Ratio) => Number(roundHalfUp(multiply(share, ratio(10_000))));

/**
 * Margin (basis points of the price) that a markup (basis points of the cost, 0 to 90000) yields:
 * markup / (1 + markup), half-up to the basis point. Throws RangeError outside the range.
 * Source: "Gross margin", Wikipedia, https://en.wikipedia.org/wiki/Gross_margin.
 */
export function marginFromMarkup(markupBp: number): number {
  if (!whole(markupBp, MAX_MARKUP_BP)) {
    throw new RangeError(
      `Markup must be from 0% to 900% of the cost, in whole basis points; got ${markupBp}.`,
    );
  }
  return toBasisPoints(divide(basisPoints(markupBp), add(ONE, basisPoints(markupBp))));
}

/**
 * Markup (basis points of the cost) that yields a margin (basis points of the price, 0 to 9000):
 * margin / (1 - margin), half-up to the basis point. Throws RangeError outside the range.
 * Source: "Gross margin", Wikipedia, https://en.wikipedia.org/wiki/Gross_margin.
 */
export function markupFromMargin(marginBp: number): number {
  return toBasisPoints(divide(basisPoints(marginBp), costShare(marginBp)));
}
