import type { Assembly, LaborRate, Material, PriceBook } from "@ledgerboard/contracts/price-book";
import type { TenantDb } from "@ledgerboard/database";
import {
  type BookMaterial,
  type LineRates,
  type PricingTerms,
  priceLine,
  type RecipeBook,
  resolveRecipe,
} from "@ledgerboard/estimating";
import { notFound, Problem } from "../../problem.ts";
import { usd } from "../money.ts";

/** A price book without what is in it: its terms, as pricing takes them. */
export interface BookTerms extends PricingTerms {
  id: string;
  name: string;
  effectiveFrom: string;
  standing: PriceBook["standing"];
  /** How much the hours of one line say about those of another, for simulated costs. */
  laborCorrelationBp: number;
  createdAt: string;
  version: number;
}

export interface MaterialRow extends BookMaterial {
  id: string;
  unit: Material["unit"];
  retired: boolean;
  version: number;
}
export interface RateRow {
  id: string;
  code: string;
  name: string;
  hourlyCents: number;
  burdenBp: number;
  version: number;
}
export type AssemblyRow = Omit<Assembly, "unitPrice">;

/** Everything a price book holds, priced nowhere yet. */
export interface BookContents {
  terms: BookTerms;
  materials: MaterialRow[];
  laborRates: RateRow[];
  assemblies: AssemblyRow[];
}

/** Every price book, newest first, with how it stands today. */
export const listBooks = (db: TenantDb, today: string): Promise<BookTerms[]> => db.sql`
  SELECT id, name, effective_from AS "effectiveFrom", overhead_bp AS "overheadBp", margin_bp AS "marginBp",
         material_tax_bp AS "materialTaxBp", minimum_charge_cents AS "minimumChargeCents",
         round_up_to_cents AS "roundUpToCents", labor_correlation_bp AS "laborCorrelationBp",
         CASE WHEN effective_from > ${today}::date THEN 'to_come'
              WHEN effective_from = max(effective_from) FILTER (WHERE effective_from <= ${today}::date) OVER ()
              THEN 'in_effect' ELSE 'past' END AS standing,
         created_at AS "createdAt", version
  FROM price_books WHERE company_id = ${db.companyId} ORDER BY effective_from DESC`;

/** The book in effect on a day: the newest that has begun. Not found is a problem. */
export async function bookInEffect(db: TenantDb, today: string): Promise<BookTerms> {
  const book = (await listBooks(db, today)).find((b) => b.standing === "in_effect");
  if (!book) throw new Problem("not-found", "No price book is in effect today.");
  return book;
}

export async function findBook(db: TenantDb, today: string, bookId: string): Promise<BookTerms> {
  const book = (await listBooks(db, today)).find((b) => b.id === bookId);
  if (!book) throw notFound("price book");
  return book;
}

export const listMaterials = (db: TenantDb, bookId: string): Promise<MaterialRow[]> => db.sql`
  SELECT id, code, name, unit, section, packs, whole_packs AS "wholePacks", retired_at IS NOT NULL AS retired, version
  FROM materials WHERE company_id = ${db.companyId} AND price_book_id = ${bookId} ORDER BY code`;

export const listLaborRates = (db: TenantDb, bookId: string): Promise<RateRow[]> => db.sql`
  SELECT id, code, name, hourly_cents AS "hourlyCents", burden_bp AS "burdenBp", version
  FROM labor_rates WHERE company_id = ${db.companyId} AND price_book_id = ${bookId} ORDER BY code`;

/** Assemblies of a book in order of their codes; only the one with `code` when that is given. */
const assemblyRows = (
  db: TenantDb,
  bookId: string,
  code: string | null = null,
): Promise<AssemblyRow[]> => db.sql`
  SELECT id, code, component, action, description, unit, recipe, note, retired_at IS NOT NULL AS retired, version
  FROM assemblies
  WHERE company_id = ${db.companyId} AND price_book_id = ${bookId} AND (${code}::text IS NULL OR code = ${code})
  ORDER BY code`;

/** What recipes are resolved against. Materials carry only what a line keeps of them. */
async function recipeBook(db: TenantDb, bookId: string): Promise<RecipeBook> {
  const [materials, laborRates] = await Promise.all([listMaterials(db, bookId), listLaborRates(db, bookId)]);
  return toRecipeBook({ materials, laborRates });
}

/** As recipeBook, of what was read already. */
export const toRecipeBook = ({
  materials,
  laborRates,
}: Pick<BookContents, "materials" | "laborRates">): RecipeBook => ({
  materials: materials.map(({ id: _id, retired: _retired, version: _version, ...material }) => material),
  laborRates,
});

/** An assembly with the rates a scope line copies from it. */
export interface ResolvedAssembly
  extends Pick<Assembly, "code" | "component" | "action" | "unit" | "description" | "retired"> {
  rates: LineRates;
}

const resolved = (row: AssemblyRow, book: RecipeBook, where: { salt: boolean }): ResolvedAssembly => {
  const { code, component, action, unit, description, retired, recipe } = row;
  return { code, component, action, unit, description, retired, rates: resolveRecipe(recipe, book, where) };
};

/** An assembly by its code, retired ones too, with the rates of the book; null when the book has none of that code. */
export async function findAssembly(
  db: TenantDb,
  bookId: string,
  code: string,
  where: { salt: boolean },
): Promise<ResolvedAssembly | null> {
  const [[row], book] = await Promise.all([assemblyRows(db, bookId, code), recipeBook(db, bookId)]);
  return row ? resolved(row, book, where) : null;
}

/** Every assembly of a book that is not retired, with the rates of the book, in order of their codes. */
export async function listAssemblies(
  db: TenantDb,
  bookId: string,
  where: { salt: boolean },
): Promise<ResolvedAssembly[]> {
  const [rows, book] = await Promise.all([assemblyRows(db, bookId), recipeBook(db, bookId)]);
  return rows.filter((row) => !row.retired).map((row) => resolved(row, book, where));
}

/** What a book with these terms holds. */
export async function readContents(db: TenantDb, terms: BookTerms): Promise<BookContents> {
  const [materials, laborRates, assemblies] = await Promise.all([
    listMaterials(db, terms.id),
    listLaborRates(db, terms.id),
    assemblyRows(db, terms.id),
  ]);
  return { terms, materials, laborRates, assemblies };
}

export const toMaterial = ({ packs, unit, ...material }: MaterialRow): Material => ({
  ...material,
  unit,
  packs: packs.map(({ size, cents }) => ({ size, price: usd(cents) })),
});

export const toLaborRate = ({ hourlyCents, ...rate }: RateRow): LaborRate => ({
  ...rate,
  hourly: usd(hourlyCents),
});

/** Price in cents of one unit of an assembly. Throws RangeError, as priceLine does, when it is beyond all reason. */
export const unitCents = (
  { recipe }: AssemblyRow,
  book: RecipeBook,
  terms: PricingTerms,
  where: { salt: boolean },
): number =>
  priceLine({ quantity: "1", by: "us", rates: resolveRecipe(recipe, book, where) }, terms).priceCents;

/** An assembly as the API shows it, with the price of one unit. Throws RangeError as unitCents does. */
export const toAssembly = (row: AssemblyRow, book: RecipeBook, terms: PricingTerms): Assembly => ({
  ...row,
  unitPrice: usd(unitCents(row, book, terms, { salt: false })),
});

/** A book as the API shows it. Throws RangeError, as priceLine does, when a unit would be priced beyond all reason. */
export function toBook(contents: BookContents): PriceBook {
  const { minimumChargeCents, roundUpToCents, createdAt: _created, ...shown } = contents.terms;
  const book = toRecipeBook(contents);
  return {
    ...shown,
    minimumCharge: usd(minimumChargeCents),
    roundUpTo: usd(roundUpToCents),
    laborRates: contents.laborRates.map(toLaborRate),
    materials: contents.materials.map(toMaterial),
    assemblies: contents.assemblies.map((row) => toAssembly(row, book, contents.terms)),
  };
}

/** The book in effect on a day, or the one asked for, with everything in it. */
export async function readBook(db: TenantDb, today: string, bookId?: string): Promise<PriceBook> {
  const terms = await (bookId ? findBook(db, today, bookId) : bookInEffect(db, today));
  return toBook(await readContents(db, terms));
}
