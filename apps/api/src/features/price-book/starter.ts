import type { TenantDb } from "@ledgerboard/database";
import { STARTER_ITEMS, STARTER_RATES, STARTER_TERMS } from "./starter-items.ts";

/**
 * Gives a new company a price book to begin with, in effect from `today`, and answers its id. Every figure in it is
 * a placeholder, as its name says. Throws where a book already starts on that day.
 */
export async function starterPriceBook(db: TenantDb, today: string): Promise<string> {
  const [book] = await db.sql<{ id: string }>`
    INSERT INTO price_books (company_id, name, effective_from, overhead_bp, margin_bp, material_tax_bp)
    VALUES (${db.companyId}, ${STARTER_TERMS.name}, ${today}, ${STARTER_TERMS.overheadBp}, ${STARTER_TERMS.marginBp},
            ${STARTER_TERMS.materialTaxBp})
    RETURNING id`;
  if (!book) throw new Error("The starting price book was not inserted.");
  await db.sql`
    INSERT INTO labor_rates (company_id, price_book_id, code, name, hourly_cents, burden_bp)
    SELECT ${db.companyId}, ${book.id}, r.code, r.name, r."hourlyCents", r."burdenBp"
    FROM jsonb_to_recordset(${JSON.stringify(STARTER_RATES)}::jsonb)
      AS r (code text, name text, "hourlyCents" integer, "burdenBp" integer)`;
  await db.sql`
    INSERT INTO price_book_items (company_id, price_book_id, code, component, action, description, unit,
                                  material_unit_cents, waste_bp, hours_per_unit, labor_rate_code)
    SELECT ${db.companyId}, ${book.id}, i.code, i.component, i.action, i.description, i.unit,
           i."materialUnitCents", i."wasteBp", i."hoursPerUnit", i."laborRateCode"
    FROM jsonb_to_recordset(${JSON.stringify(STARTER_ITEMS)}::jsonb)
      AS i (code text, component text, action text, description text, unit text, "materialUnitCents" numeric,
            "wasteBp" integer, "hoursPerUnit" numeric, "laborRateCode" text)`;
  await db.audit({
    action: "price_book.started",
    entity: "price_book",
    entityId: book.id,
    words: "A starting price book was laid out. Replace its prices and hours with your own.",
  });
  return book.id;
}
