import { describe, expect, it } from "vitest";
import { EstimateInputError } from "../input-error.ts";
import { type Recipe, type RecipeBook, resolveRecipe } from "./assembly.ts";
import type { BookMaterial } from "./rates.ts";

const inBook = (code: string, cents: number): BookMaterial => ({
  code,
  name: `${code} name`,
  unit: "each",
  section: null,
  packs: [{ size: "1", cents }],
  wholePacks: false,
});
const book: RecipeBook = {
  materials: [inBook("HANGER", 300), inBook("HANGER-SS", 1200), inBook("NAIL", 4)],
  laborRates: [
    { code: "CARP", hourlyCents: 4000, burdenBp: 3500 },
    { code: "HELP", hourlyCents: 2600, burdenBp: 3000 },
  ],
};
const recipe: Recipe = {
  materials: [
    { code: "HANGER", inSalt: "HANGER-SS", perUnit: "1", wasteBp: 0 },
    { code: "NAIL", inSalt: null, perUnit: "10", wasteBp: 500 },
  ],
  labor: [{ code: "CARP", hoursPerUnit: "0.25", setupHours: "0.5" }],
  disposalUnitCents: "12.5",
  equipmentUnitCents: "3",
  laborCvBp: 3000,
};
const findings = (change: Partial<Recipe>, salt: boolean, from: RecipeBook = book) => {
  try {
    resolveRecipe({ ...recipe, ...change }, from, { salt });
  } catch (error) {
    if (error instanceof EstimateInputError) return error.findings;
    throw error;
  }
  return [];
};

describe("resolveRecipe", () => {
  it("puts the book's prices into the recipe", () => {
    expect(resolveRecipe(recipe, book, { salt: false })).toEqual({
      materials: [
        { ...inBook("HANGER", 300), perUnit: "1", wasteBp: 0 },
        { ...inBook("NAIL", 4), perUnit: "10", wasteBp: 500 },
      ],
      labor: [{ code: "CARP", hoursPerUnit: "0.25", setupHours: "0.5", hourlyCents: 4000, burdenBp: 3500 }],
      disposalUnitCents: "12.5",
      equipmentUnitCents: "3",
      laborCvBp: 3000,
    });
  });

  it("near salt takes the substitute where there is one, and changes nothing else", () => {
    const dry = resolveRecipe(recipe, book, { salt: false });
    const salted = resolveRecipe(recipe, book, { salt: true });
    expect(salted).toEqual({
      ...dry,
      materials: [{ ...inBook("HANGER-SS", 1200), perUnit: "1", wasteBp: 0 }, dry.materials[1]],
    });
  });

  it("names every missing code at once, with its field", () => {
    const change = {
      materials: [
        { code: "HANGER", inSalt: null, perUnit: "1", wasteBp: 0 },
        { code: "BOLT", inSalt: null, perUnit: "1", wasteBp: 0 },
        { code: "GLUE", inSalt: null, perUnit: "1", wasteBp: 0 },
      ],
      labor: [
        { code: "CARP", hoursPerUnit: "1", setupHours: "0" },
        { code: "MASON", hoursPerUnit: "1", setupHours: "0" },
      ],
    };
    expect(findings(change, false)).toEqual([
      {
        field: "materials[1].code",
        words: "The price book has no material BOLT; choose another or add it first.",
      },
      {
        field: "materials[2].code",
        words: "The price book has no material GLUE; choose another or add it first.",
      },
      { field: "labor[1].code", words: "There is no labor rate MASON; choose one of CARP, HELP." },
    ]);
  });

  it("asks only for the material it would use", () => {
    const materials = [{ code: "HANGER", inSalt: "HANGER-X", perUnit: "1", wasteBp: 0 }];
    expect(findings({ materials }, false)).toEqual([]);
    expect(findings({ materials }, true).map((f) => f.field)).toEqual(["materials[0].inSalt"]);
    const dryMissing = [{ code: "NONE", inSalt: "HANGER-SS", perUnit: "1", wasteBp: 0 }];
    expect(findings({ materials: dryMissing }, true)).toEqual([]);
    expect(findings({ materials: dryMissing }, false).map((f) => f.field)).toEqual(["materials[0].code"]);
  });

  it("says what to do where the book has no labor rates at all", () => {
    expect(findings({}, false, { ...book, laborRates: [] })).toEqual([
      { field: "labor[0].code", words: "There is no labor rate CARP; add it to the price book first." },
    ]);
  });
});
