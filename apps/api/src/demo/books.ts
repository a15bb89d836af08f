import { addDays, sayDate } from "@ledgerboard/contracts/dates";
import type { TenantDb } from "@ledgerboard/database";
import { type PricingTerms, resolveRecipe } from "@ledgerboard/estimating";
import {
  type BookContents,
  findBook,
  type MaterialRow,
  type RateRow,
  readContents,
  toRecipeBook,
} from "../features/price-book/queries.ts";
import { starterPriceBook } from "../features/price-book/starter.ts";
import { insertMaterials, insertRates } from "../features/price-book/store.ts";
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

/** How long ago the book was written that is still to come. */
const WRITTEN_AHEAD_DAYS = 12;

const share = (cents: number, percent: number): number => Math.round((cents * percent) / 100);

function adjusted({ materials, laborRates }: BookContents, { percent, dearer = {} }: Edition): Prices {
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
  const id = await starterPriceBook(db, begins(first, today));
  const starting = await readContents(db, await findBook(db, today, id));
  const { overheadBp, marginBp, materialTaxBp } = company.price;
  const terms: PricingTerms = {
    overheadBp,
    marginBp,
    materialTaxBp,
    minimumChargeCents: MINIMUM_CHARGE_CENTS,
    roundUpToCents: ROUND_UP_TO_CENTS,
  };
  await reprice(db, { id, name: nameOf(company, first, today), terms }, adjusted(starting, first));
  const laidOut = [{ id, edition: first }];
  for (const edition of later) {
    laidOut.push({ id: await copyBook(db, company, { edition, terms, starting }, today), edition });
  }
  return laidOut
    .filter(({ edition }) => edition.daysAgo !== null)
    .map((one) => toBook({ ...one, terms, starting }, today));
}

const MONTH = new Intl.DateTimeFormat("en-US", { month: "long", year: "numeric", timeZone: "UTC" });

/** "Heron Point Carpentry, October 2026". */
const nameOf = ({ name }: Company, edition: Edition, today: string): string =>
  `${name}, ${MONTH.format(new Date(`${begins(edition, today)}T00:00:00Z`))}`;

interface Prices {
  materials: MaterialRow[];
  laborRates: RateRow[];
}

/** Gives the starting book a company's own terms and prices. */
async function reprice(
  db: TenantDb,
  book: { id: string; name: string; terms: PricingTerms },
  { materials, laborRates }: Prices,
): Promise<void> {
  const { companyId } = db;
  const { terms } = book;
  await db.sql`
    UPDATE price_books SET name = ${book.name}, overhead_bp = ${terms.overheadBp}, margin_bp = ${terms.marginBp},
           material_tax_bp = ${terms.materialTaxBp}, minimum_charge_cents = ${terms.minimumChargeCents},
           round_up_to_cents = ${terms.roundUpToCents}, created_at = effective_from
    WHERE company_id = ${companyId} AND id = ${book.id}`;
  await db.sql`
    UPDATE materials m SET packs = p.packs
    FROM jsonb_to_recordset(${JSON.stringify(materials)}::jsonb) AS p (code text, packs jsonb)
    WHERE m.company_id = ${companyId} AND m.price_book_id = ${book.id} AND m.code = p.code`;
  await db.sql`
    UPDATE labor_rates r SET hourly_cents = p."hourlyCents"
    FROM jsonb_to_recordset(${JSON.stringify(laborRates)}::jsonb) AS p (code text, "hourlyCents" integer)
    WHERE r.company_id = ${companyId} AND r.price_book_id = ${book.id} AND r.code = p.code`;
}

interface Plan {
  edition: Edition;
  terms: PricingTerms;
  starting: BookContents;
}

/** Starts another book with the same assemblies at an edition's prices; answers its id. */
async function copyBook(
  db: TenantDb,
  company: Company,
  { edition, terms, starting }: Plan,
  today: string,
): Promise<string> {
  const from = begins(edition, today);
  const name = nameOf(company, edition, today);
  const [book] = await db.sql<{ id: string }>`
    INSERT INTO price_books (company_id, name, effective_from, overhead_bp, margin_bp, material_tax_bp, minimum_charge_cents,
                             round_up_to_cents, labor_correlation_bp, created_at)
    VALUES (${db.companyId}, ${name}, ${from}, ${terms.overheadBp}, ${terms.marginBp}, ${terms.materialTaxBp},
            ${terms.minimumChargeCents}, ${terms.roundUpToCents}, ${starting.terms.laborCorrelationBp},
            ${[from, addDays(today, -WRITTEN_AHEAD_DAYS)].sort()[0]})
    RETURNING id`;
  if (!book) throw new Error(`${name} was not stored.`);
  const { materials, laborRates } = adjusted(starting, edition);
  await insertRates(db, book.id, laborRates);
  await insertMaterials(db, book.id, materials);
  await db.sql`
    INSERT INTO assemblies (company_id, price_book_id, code, component, action, description, unit, recipe, note)
    SELECT company_id, ${book.id}, code, component, action, description, unit, recipe, note FROM assemblies
    WHERE company_id = ${db.companyId} AND price_book_id = ${starting.terms.id}`;
  await db.audit({
    action: "price_book.started",
    entity: "price_book",
    entityId: book.id,
    words: `Price book ${name} started; it takes effect on ${sayDate(from)}.`,
  });
  return book.id;
}

function toBook({ id, edition, terms, starting }: Plan & { id: string }, today: string): Book {
  const book = toRecipeBook(adjusted(starting, edition));
  const resolved = (salt: boolean): ReadonlyMap<string, BookAssembly> =>
    new Map(
      starting.assemblies.map(({ code, component, action, unit, recipe }) => [
        code,
        { component, action, unit, rates: resolveRecipe(recipe, book, { salt }) },
      ]),
    );
  return {
    ...terms,
    id,
    effectiveFrom: begins(edition, today),
    laborCorrelationBp: starting.terms.laborCorrelationBp,
    assemblies: { ordinary: resolved(false), salt: resolved(true) },
  };
}
