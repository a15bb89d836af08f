import type { priceBook as contract, Input } from "@ledgerboard/contracts";
import { sayDate } from "@ledgerboard/contracts/dates";
import type { PriceBook } from "@ledgerboard/contracts/price-book";
import type { TenantDb } from "@ledgerboard/database";
import { illegalMove, invalid, notFound } from "../../problem.ts";
import { checkVersion, given } from "../versions.ts";
import { findBook, listBooks, readBook, toBook } from "./queries.ts";
import { checkPrices, checkSomething, takeBook } from "./taking.ts";

type Body<E> = Input<E>["body"];

/** Copies the newest price book, with all that is in it, into one that takes effect on a later day; answers its id. */
export async function startPriceBook(
  db: TenantDb,
  today: string,
  { name, effectiveFrom }: Body<typeof contract.startPriceBook>,
): Promise<string> {
  const { companyId } = db;
  if (effectiveFrom <= today)
    throw invalid("body.effectiveFrom", "Choose a day after today; today's prices are already in use.");
  // Whoever starts or changes a book waits here, so that what is copied is whole and no day is taken twice.
  await db.sql`SELECT id FROM price_books WHERE company_id = ${companyId} ORDER BY id FOR UPDATE`;
  const books = await listBooks(db, today);
  const newest = books[0];
  if (!newest) throw notFound("price book");
  const same = books.find((b) => b.effectiveFrom === effectiveFrom);
  if (same)
    throw invalid(
      "body.effectiveFrom",
      `${same.name} takes effect on that day; choose another or change it.`,
    );
  const [book] = await db.sql<{ id: string }>`
    INSERT INTO price_books (company_id, name, effective_from, overhead_bp, margin_bp, material_tax_bp,
                             minimum_charge_cents, round_up_to_cents, labor_correlation_bp)
    VALUES (${companyId}, ${name}, ${effectiveFrom}, ${newest.overheadBp}, ${newest.marginBp}, ${newest.materialTaxBp},
            ${newest.minimumChargeCents}, ${newest.roundUpToCents}, ${newest.laborCorrelationBp})
    RETURNING id`;
  if (!book) throw new Error("The price book was not stored.");
  await Promise.all([
    db.sql`INSERT INTO materials (company_id, price_book_id, code, name, unit, section, packs, whole_packs, retired_at)
      SELECT company_id, ${book.id}, code, name, unit, section, packs, whole_packs, retired_at
      FROM materials WHERE company_id = ${companyId} AND price_book_id = ${newest.id}`,
    db.sql`INSERT INTO labor_rates (company_id, price_book_id, code, name, hourly_cents, burden_bp)
      SELECT company_id, ${book.id}, code, name, hourly_cents, burden_bp
      FROM labor_rates WHERE company_id = ${companyId} AND price_book_id = ${newest.id}`,
    db.sql`INSERT INTO assemblies (company_id, price_book_id, code, component, action, description, unit, recipe, note,
                                   retired_at)
      SELECT company_id, ${book.id}, code, component, action, description, unit, recipe, note, retired_at
      FROM assemblies WHERE company_id = ${companyId} AND price_book_id = ${newest.id}`,
  ]);
  await db.audit({
    action: "price_book.started",
    entity: "price_book",
    entityId: book.id,
    words: `Price book ${name} started from ${newest.name}; it takes effect on ${sayDate(effectiveFrom)}.`,
    changes: { from: newest.id },
  });
  return book.id;
}

/** Throws away a price book that has not taken effect and that no estimate was priced with. */
export async function discardPriceBook(db: TenantDb, today: string, bookId: string): Promise<void> {
  const { companyId } = db;
  await db.sql`SELECT id FROM price_books WHERE company_id = ${companyId} AND id = ${bookId} FOR UPDATE`;
  const book = await findBook(db, today, bookId);
  if (book.standing !== "to_come")
    throw illegalMove(
      "Only a price book that has not taken effect can be thrown away; this one has been priced with.",
    );
  const [used] = await db.sql`
    SELECT id FROM revisions WHERE company_id = ${companyId} AND price_book_id = ${bookId} LIMIT 1`;
  if (used) throw illegalMove("An estimate was priced with this price book, so it has to stay.");
  await Promise.all([
    db.sql`DELETE FROM assemblies WHERE company_id = ${companyId} AND price_book_id = ${bookId}`,
    db.sql`DELETE FROM materials WHERE company_id = ${companyId} AND price_book_id = ${bookId}`,
    db.sql`DELETE FROM labor_rates WHERE company_id = ${companyId} AND price_book_id = ${bookId}`,
  ]);
  await db.sql`DELETE FROM price_books WHERE company_id = ${companyId} AND id = ${bookId}`;
  await db.audit({
    action: "price_book.discarded",
    entity: "price_book",
    entityId: bookId,
    words: `Price book ${book.name}, which was to take effect on ${sayDate(book.effectiveFrom)}, was thrown away.`,
  });
}

const TERMS = {
  name: "name",
  overheadBp: "overhead",
  marginBp: "margin",
  materialTaxBp: "material tax",
  minimumCharge: "minimum charge",
  roundUpTo: "rounding",
  laborCorrelationBp: "how hours of lines go together",
};

export async function updatePriceBook(
  db: TenantDb,
  today: string,
  bookId: string,
  version: number,
  body: Body<typeof contract.updatePriceBook>,
): Promise<PriceBook> {
  checkSomething(body);
  const contents = await takeBook(db, today, bookId);
  const stored = contents.terms;
  await checkVersion(stored.version, version, () => toBook(contents));
  const { minimumCharge, roundUpTo, ...rest } = body;
  const next = {
    ...stored,
    ...given(rest),
    ...(minimumCharge && { minimumChargeCents: minimumCharge.cents }),
    ...(roundUpTo && { roundUpToCents: roundUpTo.cents }),
  };
  checkPrices({ ...contents, terms: next }, "body.marginBp");
  await db.sql`
    UPDATE price_books SET name = ${next.name}, overhead_bp = ${next.overheadBp}, margin_bp = ${next.marginBp},
           material_tax_bp = ${next.materialTaxBp}, minimum_charge_cents = ${next.minimumChargeCents},
           round_up_to_cents = ${next.roundUpToCents}, labor_correlation_bp = ${next.laborCorrelationBp}
    WHERE company_id = ${db.companyId} AND id = ${bookId}`;
  const fields = Object.entries(TERMS).flatMap(([key, words]) => (key in given(body) ? [words] : []));
  await db.audit({
    action: "price_book.changed",
    entity: "price_book",
    entityId: bookId,
    words: `Price book: ${fields.join(", ")} changed.`,
    changes: { before: stored, after: given(body) },
  });
  return readBook(db, today, bookId);
}
