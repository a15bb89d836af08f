import type { priceBook as contract, Input } from "@ledgerboard/contracts";
import { ratio, toDecimal } from "@ledgerboard/contracts/money";
import type { Assembly, Recipe } from "@ledgerboard/contracts/price-book";
import type { TenantDb } from "@ledgerboard/database";
import { type FieldError, Problem } from "../../problem.ts";
import { checkVersion, given } from "../versions.ts";
import { type AssemblyRow, type BookContents, readContents, toAssembly, toRecipeBook } from "./queries.ts";
import { insertAssemblies, writeAssembly } from "./store.ts";
import {
  checkPrices,
  checkSomething,
  list,
  pick,
  takeBook,
  takeBookOf,
  WHAT,
  whatChanged,
  withRow,
} from "./taking.ts";

type Body<E> = Input<E>["body"];

/** A recipe as it is stored: numbers without idle zeros. */
export function storedRecipe(recipe: Recipe): Recipe {
  const plain = (decimal: string) => toDecimal(ratio(decimal));
  return {
    materials: recipe.materials.map((m) => ({ ...m, perUnit: plain(m.perUnit) })),
    labor: recipe.labor.map(({ code, hoursPerUnit, setupHours }) => ({
      code,
      hoursPerUnit: plain(hoursPerUnit),
      setupHours: plain(setupHours),
    })),
    disposalUnitCents: plain(recipe.disposalUnitCents),
    equipmentUnitCents: plain(recipe.equipmentUnitCents),
    laborCvBp: recipe.laborCvBp,
  };
}

/**
 * What a recipe names that the book does not have, or has retired, or that it names twice; paths are those of the
 * recipe, such as `materials.0.code`. A retired assembly may keep retired materials.
 */
export function recipeFaults(
  { recipe, retired }: Pick<AssemblyRow, "recipe" | "retired">,
  book: Pick<BookContents, "materials" | "laborRates">,
): FieldError[] {
  const faults: FieldError[] = [];
  const materials = new Map(book.materials.map((m) => [m.code, m]));
  const rates = book.laborRates.map((r) => r.code);
  const twice = (codes: string[], i: number) => codes.indexOf(codes[i] ?? "") < i;
  const check = (path: string, code: string) => {
    const material = materials.get(code);
    if (!material)
      faults.push({
        path,
        message: `The price book has no material ${code}; choose another or add it first.`,
      });
    else if (material.retired && !retired)
      faults.push({ path, message: `${code} is retired; bring it back or choose another.` });
  };
  recipe.materials.forEach(({ code, inSalt }, i) => {
    const codes = recipe.materials.map((m) => m.code);
    if (twice(codes, i))
      faults.push({ path: `materials.${i}.code`, message: `${code} is there twice; add the two up.` });
    else check(`materials.${i}.code`, code);
    if (inSalt !== null) check(`materials.${i}.inSalt`, inSalt);
  });
  recipe.labor.forEach(({ code }, i) => {
    const path = `labor.${i}.code`;
    const codes = recipe.labor.map((l) => l.code);
    if (twice(codes, i)) faults.push({ path, message: `${code} is there twice; add the two up.` });
    else if (!rates.includes(code))
      faults.push({
        path,
        message: `There is no labor rate ${code}; ${rates.length > 0 ? `choose one of ${list(rates)}` : "add it first"}.`,
      });
  });
  return faults;
}

/** Refuses a recipe that the book cannot make. */
function checkRecipe(assembly: Pick<AssemblyRow, "recipe" | "retired">, book: BookContents): void {
  const faults = recipeFaults(assembly, book);
  if (faults.length === 0) return;
  throw new Problem("invalid-input", "Some fields need another look.", {
    errors: faults.map(({ path, message }) => ({ path: `body.recipe.${path}`, message })),
  });
}

const shown = (row: AssemblyRow, contents: BookContents): Assembly =>
  toAssembly(row, toRecipeBook(contents), contents.terms);

async function readBack(db: TenantDb, book: BookContents, id: string): Promise<Assembly> {
  const contents = await readContents(db, book.terms);
  return shown(pick(contents.assemblies, id, WHAT.assemblies), contents);
}

export async function addAssembly(
  db: TenantDb,
  today: string,
  bookId: string,
  body: Body<typeof contract.addAssembly>,
): Promise<Assembly> {
  const contents = await takeBook(db, today, bookId);
  const fields = { ...body, recipe: storedRecipe(body.recipe), retired: false };
  checkRecipe(fields, contents);
  checkPrices({ ...contents, assemblies: [{ ...fields, id: "", version: 1 }] }, "body.recipe");
  const [id = ""] = await insertAssemblies(db, bookId, [fields]);
  const added = await readBack(db, contents, id);
  await db.audit({
    action: "price_book.assembly_added",
    entity: "assembly",
    entityId: id,
    words: `Price book: ${added.code} added.`,
    changes: { after: added },
  });
  return added;
}

export async function updateAssembly(
  db: TenantDb,
  today: string,
  id: string,
  version: number,
  body: Body<typeof contract.updateAssembly>,
): Promise<Assembly> {
  checkSomething(body);
  const contents = await takeBookOf(db, today, "assemblies", id);
  const stored = pick(contents.assemblies, id, WHAT.assemblies);
  await checkVersion(stored.version, version, () => shown(stored, contents));
  const { recipe, ...rest } = body;
  const next: AssemblyRow = { ...stored, ...given(rest), ...(recipe && { recipe: storedRecipe(recipe) }) };
  checkRecipe(next, contents);
  checkPrices({ ...contents, assemblies: withRow(contents.assemblies, next) }, "body.recipe");
  await writeAssembly(db, id, next);
  const after = await readBack(db, contents, id);
  await db.audit({
    action: "price_book.assembly_changed",
    entity: "assembly",
    entityId: id,
    words: `Price book: ${after.code} ${whatChanged(stored, after)}.`,
    changes: { before: shown(stored, contents), after },
  });
  return after;
}
