import type { LaborRate, PriceBookItem } from "@ledgerboard/contracts/price-book";
import {
  type LinePrice,
  type LineRates,
  type PriceableLine,
  type PricingTerms,
  priceLine,
} from "@ledgerboard/estimating";

export type ItemRates = Pick<PriceBookItem, "materialUnitCents" | "wasteBp" | "hoursPerUnit">;
export type LaborOf = Pick<LaborRate, "code" | "hourly" | "burdenBp">;

/** The rates a line takes from an item of the price book and its labor rate. */
export const lineRates = (item: ItemRates, labor: LaborOf): LineRates => ({
  materialUnitCents: item.materialUnitCents,
  wasteBp: item.wasteBp,
  hoursPerUnit: item.hoursPerUnit,
  laborRateCode: labor.code,
  laborHourlyCents: labor.hourly.cents,
  laborBurdenBp: labor.burdenBp,
});

/** The price of what somebody is typing, or null where it is beyond reason. */
export function priceOf(line: PriceableLine, terms: PricingTerms): LinePrice | null {
  try {
    return priceLine(line, terms);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
