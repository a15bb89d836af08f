import type { LaborRate, PriceBook, PriceBookItem } from "@ledgerboard/contracts/price-book";
import type { TenantDb } from "@ledgerboard/database";
import { type LineRates, type PricingTerms, priceLine } from "@ledgerboard/estimating";
import { Problem } from "../../problem.ts";
import { usd } from "../money.ts";

type BookRow = Omit<PriceBook, "items" | "laborRates">;
type ItemRow = Omit<PriceBookItem, "unitPrice"> & { laborHourlyCents: number; laborBurdenBp: number };

/** The book in effect on a day: the newest that has begun. Not found is a problem. */
export async function bookInEffect(db: TenantDb, today: string): Promise<BookRow> {
  const [row] = await db.sql<BookRow>`
    SELECT id, name, effective_from AS "effectiveFrom", overhead_bp AS "overheadBp", margin_bp AS "marginBp",
           material_tax_bp AS "materialTaxBp", version
    FROM price_books WHERE company_id = ${db.companyId} AND effective_from <= ${today}
    ORDER BY effective_from DESC LIMIT 1`;
  if (!row) throw new Problem("not-found", "No price book is in effect today.");
  return row;
}

/** What a scope line keeps of an item, so that it can be priced again after the book has moved on. */
const ratesOf = (item: ItemRow): LineRates => ({
  materialUnitCents: item.materialUnitCents,
  wasteBp: item.wasteBp,
  hoursPerUnit: item.hoursPerUnit,
  laborRateCode: item.laborRateCode,
  laborHourlyCents: item.laborHourlyCents,
  laborBurdenBp: item.laborBurdenBp,
});

function toItem(item: ItemRow, terms: PricingTerms): PriceBookItem {
  const { laborHourlyCents: _hourly, laborBurdenBp: _burden, ...shown } = item;
  const price = priceLine({ quantity: "1", by: "us", rates: ratesOf(item) }, terms);
  return { ...shown, unitPrice: usd(price.priceCents) };
}

/** Items of a book in order of their codes; only the one with `code` when that is given. */
const listItems = (db: TenantDb, bookId: string, code: string | null = null): Promise<ItemRow[]> => db.sql`
  SELECT i.id, i.code, i.component, i.action, i.description, i.unit,
         trim_scale(i.material_unit_cents)::text AS "materialUnitCents", i.waste_bp AS "wasteBp",
         trim_scale(i.hours_per_unit)::text AS "hoursPerUnit", i.labor_rate_code AS "laborRateCode",
         i.retired_at IS NOT NULL AS retired, i.version,
         r.hourly_cents AS "laborHourlyCents", r.burden_bp AS "laborBurdenBp"
  FROM price_book_items i
  JOIN labor_rates r ON r.company_id = i.company_id AND r.price_book_id = i.price_book_id AND r.code = i.labor_rate_code
  WHERE i.company_id = ${db.companyId} AND i.price_book_id = ${bookId} AND (${code}::text IS NULL OR i.code = ${code})
  ORDER BY i.code`;

async function listLaborRates(db: TenantDb, bookId: string): Promise<LaborRate[]> {
  const rows = await db.sql<Omit<LaborRate, "hourly"> & { hourlyCents: number }>`
    SELECT id, code, name, hourly_cents AS "hourlyCents", burden_bp AS "burdenBp", version
    FROM labor_rates WHERE company_id = ${db.companyId} AND price_book_id = ${bookId} ORDER BY code`;
  return rows.map(({ hourlyCents, ...rate }) => ({ ...rate, hourly: usd(hourlyCents) }));
}

/**
 * The book in effect on a day with everything in it. Throws RangeError, as priceLine does, when a unit of an item
 * would be priced beyond all reason.
 */
export async function readBook(db: TenantDb, today: string): Promise<PriceBook> {
  const book = await bookInEffect(db, today);
  const items = await listItems(db, book.id);
  return {
    ...book,
    laborRates: await listLaborRates(db, book.id),
    items: items.map((item) => toItem(item, book)),
  };
}

/** An item by its code, with the rates a scope line copies from it; null when the book has none of that code. */
export async function findItem(
  db: TenantDb,
  bookId: string,
  code: string,
): Promise<
  (Pick<ItemRow, "code" | "component" | "action" | "unit" | "retired"> & { rates: LineRates }) | null
> {
  const [item] = await listItems(db, bookId, code);
  return item ? { ...item, rates: ratesOf(item) } : null;
}
