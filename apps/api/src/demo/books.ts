import { addDays, sayDate } from "@ledgerboard/contracts/dates";
import type { TenantDb } from "@ledgerboard/database";
import { resolveRecipe } from "@ledgerboard/estimating";
import {
  type BookContents,
  findBook,
  listBooks,
  type MaterialRow,
  readContents,
  toRecipeBook,
} from "../features/price-book/queries.ts";
import { starterPriceBook } from "../features/price-book/starter.ts";
import { insertAssemblies, insertMaterials, insertRates } from "../features/price-book/store.ts";
import type { Book, BookAssembly } from "./world.ts";

/** The history reaches two years back; the first price book and the company are a little older. */
export const OPENED_DAYS_AGO = 810;

/** A price book as it differs from the starting one. */
export interface Edition {
  /** Days since it took effect; null for the one that takes effect on the next first of January. */
  daysAgo: number | null;
  /** Of the starting prices. Lumber is what is cut to length. */
  percent: { lumber: number; other: number; labor: number };
  /** Of that again, for sections that begin so. */
  dearer?: Record<string, number>;
}

interface Company {
  name: string;
  price: { overheadBp: number; marginBp: number; materialTaxBp: number };
  books: readonly Edition[];
}

/** What both companies ask at least, and the step their prices are rounded up to. */
const MINIMUM_CHARGE_CENTS = 45_000;
const ROUND_UP_TO_CENTS = 500;

const share = (cents: number, percent: number): number => Math.round((cents * percent) / 100);

function adjusted({ materials, laborRates }: BookContents, { percent, dearer = {} }: Edition) {
  const priced = (material: MaterialRow): MaterialRow => {
    const { section, packs } = material;
    const rise = Object.entries(dearer).find(([start]) => section?.startsWith(start))?.[1] ?? 100;
    const own = section === null ? percent.other : (percent.lumber * rise) / 100;
    return { ...material, packs: packs.map(({ size, cents }) => ({ size, cents: share(cents, own) })) };
  };
  return {
    materials: materials.map(priced),
    laborRates: laborRates.map((rate) => ({ ...rate, hourlyCents: share(rate.hourlyCents, percent.labor) })),
  };
}

/** The day an edition takes effect, seen from today. */
const begins = ({ daysAgo }: Edition, today: string): string =>
  daysAgo === null ? `${Number(today.slice(0, 4)) + 1}-01-01` : addDays(today, -daysAgo);

/** Lays out a company's price books and answers those that have begun, oldest first. */
export async function layOutBooks(db: TenantDb, company: Company, today: string): Promise<Book[]> {
  const [first, ...later] = company.books;
  if (!first) throw new Error(`${company.name} has no price book.`);
  const { companyId } = db;
  const firstId = await starterPriceBook(db, begins(first, today));
  const starting = await readContents(db, await findBook(db, today, firstId));
  const { overheadBp, marginBp, materialTaxBp } = company.price;
  await db.sql`
    UPDATE price_books SET name = ${nameOf(company, first, today)}, overhead_bp = ${overheadBp}, margin_bp = ${marginBp},
           material_tax_bp = ${materialTaxBp}, minimum_charge_cents = ${MINIMUM_CHARGE_CENTS},
           round_up_to_cents = ${ROUND_UP_TO_CENTS}
    WHERE company_id = ${companyId} AND id = ${firstId}`;
  await reprice(db, firstId, adjusted(starting, first));
  for (const edition of later) await copyBook(db, company, edition, starting, today);
  const books: Book[] = [];
  for (const terms of (await listBooks(db, today)).reverse()) {
    if (terms.standing !== "to_come") books.push(toBook(await readContents(db, terms)));
  }
  return books;
}

const nameOf = ({ name }: Company, edition: Edition, today: string): string =>
  `${name}, prices from ${begins(edition, today)}`;

async function reprice(
  db: TenantDb,
  bookId: string,
  { materials, laborRates }: ReturnType<typeof adjusted>,
): Promise<void> {
  const { companyId } = db;
  await db.sql`
    UPDATE materials m SET packs = p.packs
    FROM jsonb_to_recordset(${JSON.stringify(materials)}::jsonb) AS p (code text, packs jsonb)
    WHERE m.company_id = ${companyId} AND m.price_book_id = ${bookId} AND m.code = p.code`;
  await db.sql`
    UPDATE labor_rates r SET hourly_cents = p."hourlyCents"
    FROM jsonb_to_recordset(${JSON.stringify(laborRates)}::jsonb) AS p (code text, "hourlyCents" integer)
    WHERE r.company_id = ${companyId} AND r.price_book_id = ${bookId} AND r.code = p.code`;
}

async function copyBook(
  db: TenantDb,
  company: Company,
  edition: Edition,
  starting: BookContents,
  today: string,
): Promise<void> {
  const from = begins(edition, today);
  const name = nameOf(company, edition, today);
  const { overheadBp, marginBp, materialTaxBp } = company.price;
  const [book] = await db.sql<{ id: string }>`
    INSERT INTO price_books (company_id, name, effective_from, overhead_bp, margin_bp, material_tax_bp, minimum_charge_cents,
                             round_up_to_cents, labor_correlation_bp)
    VALUES (${db.companyId}, ${name}, ${from}, ${overheadBp}, ${marginBp}, ${materialTaxBp}, ${MINIMUM_CHARGE_CENTS},
            ${ROUND_UP_TO_CENTS}, ${starting.terms.laborCorrelationBp})
    RETURNING id`;
  if (!book) throw new Error(`${name} was not stored.`);
  const { materials, laborRates } = adjusted(starting, edition);
  await insertRates(db, book.id, laborRates);
  await insertMaterials(db, book.id, materials);
  await insertAssemblies(db, book.id, starting.assemblies);
  await db.audit({
    action: "price_book.started",
    entity: "price_book",
    entityId: book.id,
    words: `Price book ${name} started; it takes effect on ${sayDate(from)}.`,
  });
}

function toBook(contents: BookContents): Book {
  const book = toRecipeBook(contents);
  const resolved = (salt: boolean): ReadonlyMap<string, BookAssembly> =>
    new Map(
      contents.assemblies.map(({ code, component, action, unit, recipe }) => [
        code,
        { component, action, unit, rates: resolveRecipe(recipe, book, { salt }) },
      ]),
    );
  return { ...contents.terms, assemblies: { ordinary: resolved(false), salt: resolved(true) } };
}
