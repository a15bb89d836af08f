import type { Action, Component, Unit } from "@ledgerboard/contracts";
import type { AssemblyFields } from "../store.ts";
import { inSaltOf } from "./materials.ts";

/** What one unit takes, in short: `"PT-54X6 2.1333 10%, SCREW-DECK 3.2"` is code, amount and waste of each material. */
interface Parts {
  materials?: string;
  /** `"carpenter 0.09, helper 0.02 +0.5"`: code, hours for each unit and, after the plus, once to set up. */
  labor: string;
  /** Cents a unit. */
  disposal?: number;
  equipment?: number;
  /** How much the hours vary, in per cent of them; more where nobody knows what is underneath. */
  varies?: number;
  note?: string;
}

const PLACEHOLDER = "Placeholder: replace its amounts, hours and costs with your company's own.";
const split = (text: string): string[] => (text === "" ? [] : text.split(/,\s*/));

function materialOf(text: string): AssemblyFields["recipe"]["materials"][number] {
  const [, code = "", perUnit = "", waste = "0"] = /^(\S+) ([\d.]+)(?: (\d+)%)?$/.exec(text) ?? [];
  if (code === "") throw new Error(`A material of the starting price book cannot be read: "${text}".`);
  return { code, inSalt: inSaltOf(code), perUnit, wasteBp: Number(waste) * 100 };
}

function laborOf(text: string): AssemblyFields["recipe"]["labor"][number] {
  const [, code = "", hoursPerUnit = "", setupHours = "0"] =
    /^(\S+) ([\d.]+)(?: \+([\d.]+))?$/.exec(text) ?? [];
  if (code === "") throw new Error(`Labor of the starting price book cannot be read: "${text}".`);
  return { code, hoursPerUnit, setupHours };
}

/** Writes assemblies of one component. Throws where the parts cannot be read. */
export const workOn =
  (component: Component) =>
  (code: string, action: Action, unit: Unit, description: string, parts: Parts): AssemblyFields => ({
    code,
    component,
    action,
    unit,
    description,
    recipe: {
      materials: split(parts.materials ?? "").map(materialOf),
      labor: split(parts.labor).map(laborOf),
      disposalUnitCents: String(parts.disposal ?? 0),
      equipmentUnitCents: String(parts.equipment ?? 0),
      laborCvBp: (parts.varies ?? 25) * 100,
    },
    note: parts.note ? `${parts.note} ${PLACEHOLDER}` : PLACEHOLDER,
    retired: false,
  });
