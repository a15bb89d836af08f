import { EstimateInputError, type InputFinding } from "../input-error.ts";
import type { BookMaterial, LineRates, MaterialUse } from "./rates.ts";

/** The recipe of an assembly: what one unit of work takes, by the codes of the price book. */
export interface Recipe {
  materials: readonly {
    code: string;
    /** What takes its place where the property is exposed to salt; null where nothing needs to. */
    inSalt: string | null;
    perUnit: string;
    wasteBp: number;
  }[];
  labor: readonly { code: string; hoursPerUnit: string; setupHours: string }[];
  disposalUnitCents: string;
  equipmentUnitCents: string;
  laborCvBp: number;
}

/** What a recipe is resolved against. */
export interface RecipeBook {
  materials: readonly BookMaterial[];
  laborRates: readonly { code: string; hourlyCents: number; burdenBp: number }[];
}

/**
 * The recipe with the book's prices in it. Where `salt` is true, materials with a substitute for salt exposure are
 * replaced by it. Throws EstimateInputError naming each code that the book does not have.
 */
export function resolveRecipe(recipe: Recipe, book: RecipeBook, where: { salt: boolean }): LineRates {
  const findings: InputFinding[] = [];
  const materials = recipe.materials.flatMap(({ code, inSalt, perUnit, wasteBp }, i): MaterialUse[] => {
    const salted = where.salt && inSalt !== null;
    const wanted = salted ? inSalt : code;
    const material = book.materials.find((m) => m.code === wanted);
    if (material) return [{ ...material, perUnit, wasteBp }];
    findings.push({
      field: `materials[${i}].${salted ? "inSalt" : "code"}`,
      words: `The price book has no material ${wanted}; choose another or add it first.`,
    });
    return [];
  });
  const labor = recipe.labor.flatMap(({ code, hoursPerUnit, setupHours }, i) => {
    const rate = book.laborRates.find((r) => r.code === code);
    if (rate)
      return [{ code, hoursPerUnit, setupHours, hourlyCents: rate.hourlyCents, burdenBp: rate.burdenBp }];
    const known = book.laborRates.map((r) => r.code).join(", ");
    findings.push({
      field: `labor[${i}].code`,
      words: `There is no labor rate ${code}; ${known ? `choose one of ${known}` : "add it to the price book first"}.`,
    });
    return [];
  });
  if (findings.length > 0) throw new EstimateInputError(findings);
  const { disposalUnitCents, equipmentUnitCents, laborCvBp } = recipe;
  return { materials, labor, disposalUnitCents, equipmentUnitCents, laborCvBp };
}
