import { describe, expect, it } from "vitest";
import {
  faultsOf,
  laborWords,
  materialWords,
  type RecipeDraft,
  readRecipe,
  recipeDraft,
} from "./recipe-draft.ts";

const RECIPE = {
  materials: [
    { code: "DECK", inSalt: null, perUnit: "2.2", wasteBp: 1000 },
    { code: "SCREW", inSalt: "SCREW-SS", perUnit: "7", wasteBp: 0 },
  ],
  labor: [{ code: "carpenter", hoursPerUnit: "0.05", setupHours: "0.5" }],
  disposalUnitCents: "12.5",
  equipmentUnitCents: "0",
  laborCvBp: 2500,
};
const changed = (change: (draft: RecipeDraft) => void) => {
  const draft = recipeDraft(RECIPE);
  change(draft);
  return readRecipe(draft);
};

describe("readRecipe", () => {
  it("gives back what is stored, without faults", () => {
    expect(readRecipe(recipeDraft(RECIPE))).toEqual({
      recipe: RECIPE,
      faults: {},
      at: { materials: [0, 1], labor: [0] },
    });
  });
  it("leaves a row out until it is whole, and says where each of the others stands", () => {
    const { recipe, faults, at } = changed((draft) => {
      draft.materials.unshift({ key: "new", code: "", inSalt: "", perUnit: null, wasteBp: 0 });
      draft.labor.push({ key: "new", code: "helper", hoursPerUnit: null, setupHours: "0" });
    });
    expect(recipe).toEqual(RECIPE);
    expect(at).toEqual({ materials: [1, 2], labor: [0] });
    expect(Object.keys(faults)).toEqual([
      "recipe.materials.0.code",
      "recipe.materials.0.perUnit",
      "recipe.labor.1.hoursPerUnit",
    ]);
  });
  it.each<[string, (draft: RecipeDraft) => void, string]>([
    ["no amount", (d) => Object.assign(d.materials[0] ?? {}, { perUnit: "0" }), "recipe.materials.0.perUnit"],
    [
      "waste over 100%",
      (d) => Object.assign(d.materials[1] ?? {}, { wasteBp: 10_001 }),
      "recipe.materials.1.wasteBp",
    ],
    [
      "a material twice",
      (d) => Object.assign(d.materials[1] ?? {}, { code: "DECK" }),
      "recipe.materials.1.code",
    ],
    [
      "too many hours",
      (d) => Object.assign(d.labor[0] ?? {}, { setupHours: "1001" }),
      "recipe.labor.0.setupHours",
    ],
    ["a cost that is no amount", (d) => Object.assign(d, { disposal: "a lot" }), "recipe.disposalUnitCents"],
    ["a cost above $50,000", (d) => Object.assign(d, { equipment: "50000.01" }), "recipe.equipmentUnitCents"],
    ["variation over 200%", (d) => Object.assign(d, { laborCvBp: 20_001 }), "recipe.laborCvBp"],
  ])("refuses %s at its field", (_name, change, field) => {
    expect(Object.keys(changed(change).faults)).toEqual([field]);
  });
});

describe("faultsOf", () => {
  it("turns the place in the recipe into the row on screen", () => {
    const at = { materials: [1, 4], labor: [2] };
    const findings = [
      { field: "materials[1].inSalt", words: "no SCREW-SS" },
      { field: "labor[0].code", words: "no helper" },
      { field: "laborCvBp", words: "odd" },
    ];
    expect(faultsOf(findings, at)).toEqual({
      "recipe.materials.4.inSalt": "no SCREW-SS",
      "recipe.labor.2.code": "no helper",
      "recipe.laborCvBp": "odd",
    });
  });
});

describe("what somebody else saved, in words", () => {
  const book = {
    materials: [{ code: "DECK", name: "Deck board", unit: "lf" }],
    laborRates: [{ code: "carpenter", name: "Carpenter" }],
  } as Parameters<typeof materialWords>[1];

  it("names materials and rates, and falls back on their codes", () => {
    const { materials, labor } = recipeDraft(RECIPE);
    expect(materials.map((row) => materialWords(row, book))).toEqual([
      "Deck board: 2.2 ft, 10% waste",
      "SCREW: 7; near salt SCREW-SS",
    ]);
    expect(labor.map((row) => laborWords(row, book))).toEqual(["Carpenter: 0.05 h, 0.5 h to set up"]);
  });
});
