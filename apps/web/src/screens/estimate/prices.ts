import type { Revision, ScopeLine } from "@ledgerboard/contracts/estimates";
import type { PriceBook } from "@ledgerboard/contracts/price-book";
import type { LinePrice, LineRates, PriceableLine } from "@ledgerboard/estimating";
import { priceOf } from "../typed-price.ts";
import { ratesOf } from "./book.ts";
import type { Draft } from "./desk.ts";
import { type Edit, isOtherWork } from "./edit.ts";

/** A line with its price as it will be once saved; `price` is null while it has no quantity or is beyond reason. */
export interface Priced {
  line: PriceableLine;
  price: LinePrice | null;
}

/** The same rule the service has: a line keeps its rates until its work changes or the price is said to have moved. */
function ratesFor(book: PriceBook | undefined, line: ScopeLine, edit: Edit): LineRates | null {
  if (edit.itemCode === null) return null;
  const moved = edit.reasonCode === "price_moved" && line.reasonCode !== "price_moved";
  if (!moved && !isOtherWork(edit, line)) return line.rates;
  return ratesOf(book, edit.itemCode);
}

const fromService = ({ price: p }: ScopeLine): LinePrice => ({
  materialCents: p.material.cents,
  taxCents: p.tax.cents,
  hours: p.hours,
  laborCents: p.labor.cents,
  overheadCents: p.overhead.cents,
  costCents: p.cost.cents,
  priceCents: p.price.cents,
});

/** Prices any typed line at the revision's terms. */
export function priceTyped(
  quantity: string | null,
  by: ScopeLine["by"],
  rates: LineRates | null,
  terms: Revision["terms"],
): Priced {
  const line = { quantity: quantity ?? "0", by, rates };
  return { line, price: quantity === null ? null : priceOf(line, terms) };
}

/** Prices of lines as they are being typed; remembered for as long as book and terms stay the same. */
export function pricer(book: PriceBook | undefined, terms: Revision["terms"]) {
  const known = new WeakMap<ScopeLine | Draft, Priced>();
  return (line: ScopeLine, draft: Draft | undefined): Priced => {
    const key = draft ?? line;
    let priced = known.get(key);
    if (!priced) {
      priced = draft
        ? priceTyped(draft.edit.quantity, draft.edit.by, ratesFor(book, line, draft.edit), terms)
        : { line, price: fromService(line) };
      known.set(key, priced);
    }
    return priced;
  };
}
