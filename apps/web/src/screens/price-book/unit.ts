import type { PriceBook } from "@ledgerboard/contracts/price-book";
import type { PriceableLine, PricingTerms } from "@ledgerboard/estimating";
import { scaled, unscaled } from "../../ui/numbers.ts";
import { type ItemRates, type LaborOf, lineRates, priceOf } from "../typed-price.ts";

/** Cents a unit as dollars to read or edit: "285.5" -> "2.855", "420" -> "4.20". Fractions of a cent are kept. */
export function editUnitCost(cents: string): string {
  const text = unscaled(scaled(cents, 4) ?? 0, 6);
  const [whole = "0", fraction = ""] = text.split(".");
  return `${whole}.${fraction.padEnd(2, "0")}`;
}

/** Dollars a unit as typed to decimal cents: "2.855" -> "285.5". Null when it is no such amount. */
export function parseUnitCost(text: string): string | null {
  const millionths = scaled(text, 6);
  return millionths === null ? null : unscaled(millionths, 4);
}

/** One unit of an item as a line of an estimate. */
export const oneUnit = (item: ItemRates, labor: LaborOf): PriceableLine => ({
  quantity: "1",
  by: "us",
  rates: lineRates(item, labor),
});

/** Unit prices of a whole book at other terms, by item. */
export function unitPrices(book: PriceBook, terms: PricingTerms): ReadonlyMap<string, number | null> {
  const labor = new Map(book.laborRates.map((rate) => [rate.code, rate]));
  return new Map(
    book.items.map((item) => {
      const rate = labor.get(item.laborRateCode);
      return [item.id, rate ? (priceOf(oneUnit(item, rate), terms)?.priceCents ?? null) : null];
    }),
  );
}
