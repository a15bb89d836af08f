import type { priceBook as contract, Input } from "@ledgerboard/contracts";
import type { LaborRate, PriceBook, PriceBookItem } from "@ledgerboard/contracts/price-book";
import type { TenantDb } from "@ledgerboard/database";
import { invalid, notFound } from "../../problem.ts";
import { checkVersion, given } from "../versions.ts";
import { bookInEffect, readBook } from "./queries.ts";

type Body<E> = Input<E>["body"];

/** Takes the book in effect in hand: until this transaction ends nobody else changes it or anything in it. */
async function takeBook(db: TenantDb, today: string): Promise<PriceBook> {
  const { id } = await bookInEffect(db, today);
  await db.sql`SELECT id FROM price_books WHERE company_id = ${db.companyId} AND id = ${id} FOR UPDATE`;
  return readBook(db, today);
}

/** Reads the book back after a change; one that prices an item beyond all reason is refused, naming the field. */
async function readBack(db: TenantDb, today: string, field: string): Promise<PriceBook> {
  try {
    return await readBook(db, today);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw invalid(field, "One unit of an item would come to more than $10,000,000; check costs and hours.");
  }
}

function checkSomething(body: object): void {
  if (Object.keys(given(body)).length === 0) throw invalid("body", "Say what to change.");
}

function checkLaborRate(book: PriceBook, code: string): void {
  if (book.laborRates.some((rate) => rate.code === code)) return;
  const known = book.laborRates.map((rate) => rate.code).join(", ");
  throw invalid("body.laborRateCode", `There is no such labor rate; choose one of ${known}.`);
}

function pick<T extends { id: string }>(rows: T[], id: string, what: string): T {
  const row = rows.find((r) => r.id === id);
  if (!row) throw notFound(what);
  return row;
}

const TERMS = { name: "name", overheadBp: "overhead", marginBp: "margin", materialTaxBp: "material tax" };

export async function updatePriceBook(
  db: TenantDb,
  today: string,
  version: number,
  body: Body<typeof contract.updatePriceBook>,
): Promise<PriceBook> {
  checkSomething(body);
  const stored = await takeBook(db, today);
  await checkVersion(stored.version, version, () => stored);
  const next = { ...stored, ...given(body) };
  await db.sql`
    UPDATE price_books SET name = ${next.name}, overhead_bp = ${next.overheadBp}, margin_bp = ${next.marginBp},
           material_tax_bp = ${next.materialTaxBp}
    WHERE company_id = ${db.companyId} AND id = ${stored.id}`;
  const fields = Object.entries(TERMS).flatMap(([key, words]) => (key in given(body) ? [words] : []));
  const { items: _items, laborRates: _rates, ...before } = stored;
  await db.audit({
    action: "price_book.changed",
    entity: "price_book",
    entityId: stored.id,
    words: `Price book: ${fields.join(", ")} changed.`,
    changes: { before, after: given(body) },
  });
  return readBack(db, today, "body.marginBp");
}

export async function addItem(
  db: TenantDb,
  today: string,
  body: Body<typeof contract.addPriceBookItem>,
): Promise<PriceBookItem> {
  const book = await takeBook(db, today);
  checkLaborRate(book, body.laborRateCode);
  const [row] = await db.sql<{ id: string }>`
    INSERT INTO price_book_items (company_id, price_book_id, code, component, action, description, unit,
                                  material_unit_cents, waste_bp, hours_per_unit, labor_rate_code)
    VALUES (${db.companyId}, ${book.id}, ${body.code}, ${body.component}, ${body.action}, ${body.description}, ${body.unit},
            ${body.materialUnitCents}, ${body.wasteBp}, ${body.hoursPerUnit}, ${body.laborRateCode})
    RETURNING id`;
  const item = pick(
    (await readBack(db, today, "body.materialUnitCents")).items,
    row?.id ?? "",
    "price book item",
  );
  await db.audit({
    action: "price_book.item_added",
    entity: "price_book_item",
    entityId: item.id,
    words: `Price book: ${item.code} added.`,
    changes: { after: item },
  });
  return item;
}

export async function updateItem(
  db: TenantDb,
  today: string,
  itemId: string,
  version: number,
  body: Body<typeof contract.updatePriceBookItem>,
): Promise<PriceBookItem> {
  checkSomething(body);
  const book = await takeBook(db, today);
  const stored = pick(book.items, itemId, "price book item");
  await checkVersion(stored.version, version, () => stored);
  const next = { ...stored, ...given(body) };
  checkLaborRate(book, next.laborRateCode);
  await db.sql`
    UPDATE price_book_items SET component = ${next.component}, action = ${next.action}, description = ${next.description},
           unit = ${next.unit}, material_unit_cents = ${next.materialUnitCents}, waste_bp = ${next.wasteBp},
           hours_per_unit = ${next.hoursPerUnit}, labor_rate_code = ${next.laborRateCode},
           retired_at = CASE WHEN ${next.retired} THEN coalesce(retired_at, now()) END
    WHERE company_id = ${db.companyId} AND id = ${itemId}`;
  const item = pick((await readBack(db, today, "body.materialUnitCents")).items, itemId, "price book item");
  const what = stored.retired === item.retired ? "changed" : item.retired ? "retired" : "brought back";
  await db.audit({
    action: "price_book.item_changed",
    entity: "price_book_item",
    entityId: itemId,
    words: `Price book: ${item.code} ${what}.`,
    changes: { before: stored, after: item },
  });
  return item;
}

export async function addLaborRate(
  db: TenantDb,
  today: string,
  body: Body<typeof contract.addLaborRate>,
): Promise<LaborRate> {
  const book = await takeBook(db, today);
  const [row] = await db.sql<{ id: string }>`
    INSERT INTO labor_rates (company_id, price_book_id, code, name, hourly_cents, burden_bp)
    VALUES (${db.companyId}, ${book.id}, ${body.code}, ${body.name}, ${body.hourly.cents}, ${body.burdenBp})
    RETURNING id`;
  const rate = pick((await readBook(db, today)).laborRates, row?.id ?? "", "labor rate");
  await db.audit({
    action: "price_book.rate_added",
    entity: "labor_rate",
    entityId: rate.id,
    words: `Price book: labor rate ${rate.code} added.`,
    changes: { after: rate },
  });
  return rate;
}

export async function updateLaborRate(
  db: TenantDb,
  today: string,
  rateId: string,
  version: number,
  body: Body<typeof contract.updateLaborRate>,
): Promise<LaborRate> {
  checkSomething(body);
  const stored = pick((await takeBook(db, today)).laborRates, rateId, "labor rate");
  await checkVersion(stored.version, version, () => stored);
  const next = { ...stored, ...given(body) };
  await db.sql`
    UPDATE labor_rates SET name = ${next.name}, hourly_cents = ${next.hourly.cents}, burden_bp = ${next.burdenBp}
    WHERE company_id = ${db.companyId} AND id = ${rateId}`;
  const rate = pick((await readBack(db, today, "body.hourly")).laborRates, rateId, "labor rate");
  await db.audit({
    action: "price_book.rate_changed",
    entity: "labor_rate",
    entityId: rateId,
    words: `Price book: labor rate ${rate.code} changed.`,
    changes: { before: stored, after: rate },
  });
  return rate;
}
