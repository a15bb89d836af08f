import type { PriceBook } from "@ledgerboard/contracts/price-book";
import {
  type LinePrice,
  type PriceableLine,
  type PricingTerms,
  priceLine,
  type RecipeBook,
} from "@ledgerboard/estimating";

/** What recipes are resolved against, of a price book as the API shows it. */
export const recipeBookOf = (book: Pick<PriceBook, "materials" | "laborRates">): RecipeBook => ({
  materials: book.materials.map(({ code, name, unit, section, packs, wholePacks }) => ({
    code,
    name,
    unit,
    section,
    packs: packs.map(({ size, price }) => ({ size, cents: price.cents })),
    wholePacks,
  })),
  laborRates: book.laborRates.map(({ code, hourly, burdenBp }) => ({
    code,
    hourlyCents: hourly.cents,
    burdenBp,
  })),
});

/** The price of what somebody is typing, or null where it is beyond reason. */
export function priceOf(
  line: PriceableLine,
  terms: Omit<PricingTerms, "minimumChargeCents" | "roundUpToCents">,
): LinePrice | null {
  try {
    return priceLine(line, terms);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
