import { add, basisPoints, divide, formatMoney, ratio, toDecimal } from "@ledgerboard/contracts/money";
import { costShare } from "./margin.ts";
import { percent } from "./percent.ts";
import { chargedRates, type PriceableLine, type PricingTerms, priceLine } from "./pricing.ts";

/** One step from quantity to price: what it is, the arithmetic in figures, and the cents it adds. */
export interface UnfoldedRow {
  label: string;
  formula: string;
  cents: number;
}

const asShare = (bp: number) => toDecimal(basisPoints(bp));
const oneAnd = (bp: number) => toDecimal(add(ratio(1), basisPoints(bp)));

/** Unit costs may carry fractions of a cent: "285.5" cents is "$2.855". */
function unitCost(cents: string): string {
  const exact = ratio(cents);
  if (exact.num % exact.den === 0n) return formatMoney(Number(exact.num / exact.den));
  return `$${toDecimal(divide(exact, ratio(100)), 8)}`;
}

/**
 * Every cent of a line's price as quantity x rate x rule, in figures a person can redo. The rows are always material,
 * tax, labor, overhead and margin, and sum to the price; a line outside the price has one row that says why.
 * Throws RangeError as priceLine does.
 */
export function unfoldLine(line: PriceableLine, terms: PricingTerms): UnfoldedRow[] {
  const price = priceLine(line, terms);
  const rates = chargedRates(line);
  if (!rates) {
    const why = line.by === "us" ? "No rates" : line.by === "owner" ? "By owner" : "By others";
    return [{ label: `${why}: not in the price`, formula: "", cents: 0 }];
  }
  const quantity = toDecimal(ratio(line.quantity), 6);
  const directCents = price.materialCents + price.taxCents + price.laborCents;
  const cost = formatMoney(price.costCents);
  return [
    {
      label: `Material with ${percent(rates.wasteBp)} waste`,
      formula: `${quantity} × ${oneAnd(rates.wasteBp)} × ${unitCost(rates.materialUnitCents)}`,
      cents: price.materialCents,
    },
    {
      label: `Sales tax on material, ${percent(terms.materialTaxBp)}`,
      formula: `${formatMoney(price.materialCents)} × ${asShare(terms.materialTaxBp)}`,
      cents: price.taxCents,
    },
    {
      label: `Labor at ${rates.laborRateCode} with ${percent(rates.laborBurdenBp)} burden`,
      formula:
        `${quantity} × ${toDecimal(ratio(rates.hoursPerUnit), 6)} h = ${price.hours} h; ` +
        `${price.hours} h × ${formatMoney(rates.laborHourlyCents)} × ${oneAnd(rates.laborBurdenBp)}`,
      cents: price.laborCents,
    },
    {
      label: `Overhead, ${percent(terms.overheadBp)} of material, tax and labor`,
      formula: `${formatMoney(directCents)} × ${asShare(terms.overheadBp)}`,
      cents: price.overheadCents,
    },
    {
      label: `Margin, ${percent(terms.marginBp)} of the price`,
      formula: `${cost} ÷ ${toDecimal(costShare(terms.marginBp))} − ${cost}`,
      cents: price.priceCents - price.costCents,
    },
  ];
}
