import type { PriceBook, PriceBookItem } from "@ledgerboard/contracts/price-book";
import { ACTIONS, type Action, type Component } from "@ledgerboard/contracts/vocabulary";
import type { LineRates } from "@ledgerboard/estimating";
import { lineRates } from "../typed-price.ts";
import type { Edit } from "./edit.ts";

type Work = { component: Component; action: Action };

/** The items one may choose for this work. */
export const itemsFor = (book: PriceBook | undefined, { component, action }: Work): PriceBookItem[] =>
  (book?.items ?? []).filter(
    (item) => !item.retired && item.component === component && item.action === action,
  );

/** The rates an item is priced with today; null when the book has no such item or no such labor rate. */
export function ratesOf(book: PriceBook | undefined, code: string): LineRates | null {
  const item = book?.items.find((one) => one.code === code);
  const labor = book?.laborRates.find((one) => one.code === item?.laborRateCode);
  return item && labor ? lineRates(item, labor) : null;
}

/** What can be done to a component at a price, in the trade's order; keep is always among it. */
export function actionsFor(book: PriceBook | undefined, component: Component): Action[] {
  const priced = new Set(
    (book?.items ?? []).flatMap((item) => (!item.retired && item.component === component ? item.action : [])),
  );
  return ACTIONS.filter((action) => action === "keep" || priced.has(action));
}

/**
 * What else changes when a line turns to other work: the item (of the same unit where there is one), its unit, and
 * the quantity, which says nothing any more where it would be counted in another unit.
 */
export function turnTo(
  book: PriceBook | undefined,
  edit: Pick<Edit, "unit" | "quantity">,
  work: Work,
): Pick<Edit, "component" | "action" | "itemCode" | "unit" | "quantity"> {
  const items = work.action === "keep" ? [] : itemsFor(book, work);
  const item = items.find((one) => one.unit === edit.unit) ?? items[0];
  const unit = item?.unit ?? edit.unit;
  return { ...work, itemCode: item?.code ?? null, unit, quantity: unit === edit.unit ? edit.quantity : null };
}
