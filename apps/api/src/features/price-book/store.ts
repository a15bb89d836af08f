import type { Recipe } from "@ledgerboard/contracts/price-book";
import type { TenantDb } from "@ledgerboard/database";
import type { AssemblyRow, MaterialRow, RateRow } from "./queries.ts";

/** What is stored of each, apart from what the database gives. */
export type MaterialFields = Omit<MaterialRow, "id" | "version">;
export type RateFields = Omit<RateRow, "id" | "version">;
export type AssemblyFields = Omit<AssemblyRow, "id" | "version">;

/** Adds materials to a book in one statement and answers their ids. */
export async function insertMaterials(
  db: TenantDb,
  bookId: string,
  rows: readonly MaterialFields[],
): Promise<string[]> {
  const added = await db.sql<{ id: string }>`
    INSERT INTO materials (company_id, price_book_id, code, name, unit, section, packs, whole_packs, retired_at)
    SELECT ${db.companyId}, ${bookId}, m.code, m.name, m.unit, m.section, m.packs, m."wholePacks",
           CASE WHEN m.retired THEN now() END
    FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb)
      AS m (code text, name text, unit text, section text, packs jsonb, "wholePacks" boolean, retired boolean)
    RETURNING id`;
  return added.map(({ id }) => id);
}

export async function writeMaterial(db: TenantDb, id: string, m: MaterialFields): Promise<void> {
  await db.sql`
    UPDATE materials SET name = ${m.name}, unit = ${m.unit}, section = ${m.section},
           packs = ${JSON.stringify(m.packs)}::jsonb, whole_packs = ${m.wholePacks},
           retired_at = CASE WHEN ${m.retired} THEN coalesce(retired_at, now()) END
    WHERE company_id = ${db.companyId} AND id = ${id}`;
}

export async function insertRates(
  db: TenantDb,
  bookId: string,
  rows: readonly RateFields[],
): Promise<string[]> {
  const added = await db.sql<{ id: string }>`
    INSERT INTO labor_rates (company_id, price_book_id, code, name, hourly_cents, burden_bp)
    SELECT ${db.companyId}, ${bookId}, r.code, r.name, r."hourlyCents", r."burdenBp"
    FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb)
      AS r (code text, name text, "hourlyCents" integer, "burdenBp" integer)
    RETURNING id`;
  return added.map(({ id }) => id);
}

export async function writeRate(db: TenantDb, id: string, r: RateFields): Promise<void> {
  await db.sql`
    UPDATE labor_rates SET name = ${r.name}, hourly_cents = ${r.hourlyCents}, burden_bp = ${r.burdenBp}
    WHERE company_id = ${db.companyId} AND id = ${id}`;
}

export async function insertAssemblies(
  db: TenantDb,
  bookId: string,
  rows: readonly AssemblyFields[],
): Promise<string[]> {
  const added = await db.sql<{ id: string }>`
    INSERT INTO assemblies (company_id, price_book_id, code, component, action, description, unit, recipe, note, retired_at)
    SELECT ${db.companyId}, ${bookId}, a.code, a.component, a.action, a.description, a.unit, a.recipe, a.note,
           CASE WHEN a.retired THEN now() END
    FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb)
      AS a (code text, component text, action text, description text, unit text, recipe jsonb, note text, retired boolean)
    RETURNING id`;
  return added.map(({ id }) => id);
}

export async function writeAssembly(db: TenantDb, id: string, a: AssemblyFields): Promise<void> {
  await db.sql`
    UPDATE assemblies SET component = ${a.component}, action = ${a.action}, description = ${a.description},
           unit = ${a.unit}, recipe = ${JSON.stringify(a.recipe)}::jsonb, note = ${a.note},
           retired_at = CASE WHEN ${a.retired} THEN coalesce(retired_at, now()) END
    WHERE company_id = ${db.companyId} AND id = ${id}`;
}

/** Every code of a material a recipe takes, with its substitutes near salt. */
export const materialCodes = (recipe: Recipe): string[] =>
  recipe.materials.flatMap(({ code, inSalt }) => (inSalt === null ? [code] : [code, inSalt]));
