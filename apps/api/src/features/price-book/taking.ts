import { sayDate } from "@ledgerboard/contracts/dates";
import type { TenantDb } from "@ledgerboard/database";
import { EstimateInputError } from "@ledgerboard/estimating";
import { illegalMove, invalid, notFound } from "../../problem.ts";
import { given } from "../versions.ts";
import { type BookContents, findBook, listBooks, readContents, toRecipeBook, unitCents } from "./queries.ts";

/**
 * Takes a price book in hand: until this transaction ends nobody else changes it or anything in it. A book that a
 * newer one has taken over from is refused: what was priced with it must stay explainable.
 */
export async function takeBook(db: TenantDb, today: string, bookId: string): Promise<BookContents> {
  await db.sql`SELECT id FROM price_books WHERE company_id = ${db.companyId} AND id = ${bookId} FOR UPDATE`;
  const terms = await findBook(db, today, bookId);
  if (terms.standing === "past") {
    const now = (await listBooks(db, today)).find((b) => b.standing === "in_effect");
    throw illegalMove(
      `This price book is past: ${now?.name ?? "another"} took its place on ${sayDate(now?.effectiveFrom ?? today)}. Change that one, or start a new one.`,
    );
  }
  return readContents(db, terms);
}

/** As takeBook, for the book that holds a material, an assembly or a labor rate. */
export async function takeBookOf(
  db: TenantDb,
  today: string,
  table: "materials" | "assemblies" | "labor_rates",
  id: string,
): Promise<BookContents> {
  const { companyId } = db;
  const [row] = await {
    materials: () =>
      db.sql<Owner>`SELECT price_book_id AS "bookId" FROM materials WHERE company_id = ${companyId} AND id = ${id}`,
    assemblies: () =>
      db.sql<Owner>`SELECT price_book_id AS "bookId" FROM assemblies WHERE company_id = ${companyId} AND id = ${id}`,
    labor_rates: () =>
      db.sql<Owner>`SELECT price_book_id AS "bookId" FROM labor_rates WHERE company_id = ${companyId} AND id = ${id}`,
  }[table]();
  if (!row) throw notFound(WHAT[table]);
  return takeBook(db, today, row.bookId);
}

interface Owner {
  bookId: string;
}
export const WHAT = { materials: "material", assemblies: "assembly", labor_rates: "labor rate" } as const;

export const TOO_DEAR = "One unit would come to more than $10,000,000; check costs, hours and shares.";

/** Codes of the assemblies of which one unit would be priced beyond all reason, near salt or away from it. */
export function tooDear(contents: BookContents): string[] {
  const book = toRecipeBook(contents);
  const priced = (row: BookContents["assemblies"][number], salt: boolean): boolean => {
    try {
      unitCents(row, book, contents.terms, { salt });
      return true;
    } catch (error) {
      // A code that is missing was let in by us; a price out of range is the writer's to put right.
      if (error instanceof RangeError && !(error instanceof EstimateInputError)) return false;
      throw error;
    }
  };
  return contents.assemblies
    .filter((row) => !(priced(row, false) && priced(row, true)))
    .map(({ code }) => code);
}

/** Refuses contents in which a unit of an assembly would be priced beyond all reason, naming the field at fault. */
export function checkPrices(contents: BookContents, field: string): void {
  const [code] = tooDear(contents);
  if (code) throw invalid(field, `${code}: ${TOO_DEAR}`);
}

export function checkSomething(body: object): void {
  if (Object.keys(given(body)).length === 0) throw invalid("body", "Say what to change.");
}

/** The row of that id, or a problem that says there is none. */
export function pick<T extends { id: string }>(rows: readonly T[], id: string, what: string): T {
  const row = rows.find((r) => r.id === id);
  if (!row) throw notFound(what);
  return row;
}

/** The same rows with one in place of that of its id. */
export const withRow = <T extends { id: string }>(rows: readonly T[], row: T): T[] =>
  rows.map((r) => (r.id === row.id ? row : r));

/** What became of a row that can be retired. */
export const whatChanged = (before: { retired: boolean }, after: { retired: boolean }): string =>
  before.retired === after.retired ? "changed" : after.retired ? "retired" : "brought back";

/** "A", "A and B", "A, B and C"; past ten, how many more there are. */
export function list(codes: readonly string[]): string {
  const shown = codes.length > 10 ? [...codes.slice(0, 10), `${codes.length - 10} more`] : codes;
  return shown.length < 2 ? shown.join("") : `${shown.slice(0, -1).join(", ")} and ${shown.at(-1)}`;
}
