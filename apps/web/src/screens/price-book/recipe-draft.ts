import type { PriceBook, Recipe } from "@ledgerboard/contracts/price-book";
import type { InputFinding } from "@ledgerboard/estimating";
import { quantity } from "../../ui/format.ts";
import { editUnitCost, parseUnitCost } from "./unit-cost.ts";

/** A material of a recipe as it is being typed. `key` tells rows apart while they move; "" is not chosen. */
export interface MaterialDraft {
  key: string;
  code: string;
  inSalt: string;
  perUnit: string | null;
  wasteBp: number | null;
}
export interface LaborDraft {
  key: string;
  code: string;
  hoursPerUnit: string | null;
  setupHours: string | null;
}
export interface RecipeDraft {
  materials: MaterialDraft[];
  labor: LaborDraft[];
  /** Dollars a unit, as text. */
  disposal: string;
  equipment: string;
  laborCvBp: number | null;
}

/** Words by field, the path as the request has it without "body.": "recipe.materials.0.perUnit". */
export type Faults = Record<string, string>;

export interface ReadRecipe {
  recipe: Recipe;
  faults: Faults;
  /** The rows on screen that the materials and labor of `recipe` come from: incomplete rows are left out. */
  at: { materials: number[]; labor: number[] };
}

const MOST_UNIT_CENTS = 5_000_000;

export const recipeDraft = (recipe: Recipe): RecipeDraft => ({
  materials: recipe.materials.map(({ code, inSalt, perUnit, wasteBp }, i) => ({
    key: `m${i}`,
    code,
    inSalt: inSalt ?? "",
    perUnit,
    wasteBp,
  })),
  labor: recipe.labor.map((use, i) => ({ key: `l${i}`, ...use })),
  disposal: editUnitCost(recipe.disposalUnitCents),
  equipment: editUnitCost(recipe.equipmentUnitCents),
  laborCvBp: recipe.laborCvBp,
});

const hoursFault = (hours: string | null): string | undefined =>
  hours === null ? "Hours like 0.25, 0 for none." : Number(hours) > 1000 ? "At most 1,000 hours." : undefined;

function codeFault(code: string, rows: readonly { code: string }[], at: number, none: string) {
  if (!code) return none;
  return rows.findIndex((row) => row.code === code) < at
    ? "Stands above already: add the two up there."
    : undefined;
}

function unitCost(text: string): { cents: string; fault?: string } {
  const cents = parseUnitCost(text);
  if (cents === null) return { cents: "0", fault: "An amount like 4.20, 0 for none." };
  return Number(cents) > MOST_UNIT_CENTS ? { cents, fault: "At most $50,000 a unit." } : { cents };
}

/** A recipe from what has been typed so far, with what is still wrong by field. Faulty rows are left out of it. */
export function readRecipe(draft: RecipeDraft): ReadRecipe {
  const faults: Faults = {};
  const fault = (path: string, words: string | undefined) => {
    if (words) faults[`recipe.${path}`] = words;
    return words !== undefined;
  };
  const at = { materials: [] as number[], labor: [] as number[] };
  const materials: Recipe["materials"] = [];
  for (const [i, { code, inSalt, perUnit, wasteBp }] of draft.materials.entries()) {
    const wrong = [
      fault(`materials.${i}.code`, codeFault(code, draft.materials, i, "Choose the material.")),
      fault(`materials.${i}.perUnit`, Number(perUnit) > 0 ? undefined : "More than 0."),
      fault(
        `materials.${i}.wasteBp`,
        wasteBp !== null && wasteBp <= 10_000 ? undefined : "Up to 100%, 0 for none.",
      ),
    ];
    if (wrong.includes(true) || perUnit === null || wasteBp === null) continue;
    materials.push({ code, inSalt: inSalt || null, perUnit, wasteBp });
    at.materials.push(i);
  }
  const labor: Recipe["labor"] = [];
  for (const [i, { code, hoursPerUnit, setupHours }] of draft.labor.entries()) {
    const wrong = [
      fault(`labor.${i}.code`, codeFault(code, draft.labor, i, "Choose who works it.")),
      fault(`labor.${i}.hoursPerUnit`, hoursFault(hoursPerUnit)),
      fault(`labor.${i}.setupHours`, hoursFault(setupHours)),
    ];
    if (wrong.includes(true) || hoursPerUnit === null || setupHours === null) continue;
    labor.push({ code, hoursPerUnit, setupHours });
    at.labor.push(i);
  }
  const [disposal, equipment] = [unitCost(draft.disposal), unitCost(draft.equipment)];
  fault("disposalUnitCents", disposal.fault);
  fault("equipmentUnitCents", equipment.fault);
  const { laborCvBp } = draft;
  const cvRight = laborCvBp !== null && laborCvBp <= 20_000;
  fault("laborCvBp", cvRight ? undefined : "Up to 200%, 0 for hours that never vary.");
  return {
    recipe: {
      materials,
      labor,
      disposalUnitCents: disposal.fault ? "0" : disposal.cents,
      equipmentUnitCents: equipment.fault ? "0" : equipment.cents,
      laborCvBp: cvRight ? laborCvBp : 0,
    },
    faults,
    at,
  };
}

/** Findings of the estimating package by the field on screen: "materials[0].inSalt" -> "recipe.materials.2.inSalt". */
export function faultsOf(findings: readonly InputFinding[], at: ReadRecipe["at"]): Faults {
  return Object.fromEntries(
    findings.map(({ field, words }) => {
      const [, list, index, name] = /^(materials|labor)\[(\d+)\]\.(\w+)$/.exec(field) ?? [];
      if (!list || !name) return [`recipe.${field}`, words];
      return [`recipe.${list}.${at[list as keyof typeof at][Number(index)]}.${name}`, words];
    }),
  );
}

type Names = Pick<PriceBook, "materials" | "laborRates">;

/** A material of a recipe in words, to stand beside another: "Deck board: 2.2 ft, 10% waste". */
export function materialWords({ code, inSalt, perUnit, wasteBp }: MaterialDraft, book: Names): string {
  const find = (wanted: string) => book.materials.find((one) => one.code === wanted);
  const name = (wanted: string) => find(wanted)?.name ?? wanted;
  const waste = wasteBp ? `, ${wasteBp / 100}% waste` : "";
  const amount = perUnit === null ? "?" : quantity(perUnit, find(code)?.unit);
  return `${name(code)}: ${amount}${waste}${inSalt ? `; near salt ${name(inSalt)}` : ""}`;
}

export function laborWords({ code, hoursPerUnit, setupHours }: LaborDraft, book: Names): string {
  const name = book.laborRates.find((one) => one.code === code)?.name ?? code;
  const setup = Number(setupHours) > 0 ? `, ${setupHours} h to set up` : "";
  return `${name}: ${hoursPerUnit ?? "?"} h${setup}`;
}
