import type { LineRates, MaterialUse } from "./rates.ts";

/** One material and one labor rate in figures, which is all that most tests need. */
interface Flat {
  /** Decimal cents for one unit. */
  materialUnitCents: string;
  wasteBp: number;
  hoursPerUnit: string;
  laborRateCode: string;
  laborHourlyCents: number;
  laborBurdenBp: number;
}

/** A material sold by the unit; a cost with fractions of a cent becomes a pack of a hundred or of ten thousand. */
export function material(unitCents: string, change: Partial<MaterialUse> = {}): MaterialUse {
  const places = unitCents.split(".")[1]?.length ?? 0;
  const size = 10 ** places;
  return {
    code: "BOARD",
    name: "Board",
    unit: "each",
    section: null,
    perUnit: "1",
    wasteBp: 0,
    wholePacks: false,
    packs: [{ size: String(size), cents: Math.round(Number(unitCents) * size) }],
    ...change,
  };
}

export function flatRates(flat: Flat, change: Partial<LineRates> = {}): LineRates {
  return {
    materials: [material(flat.materialUnitCents, { wasteBp: flat.wasteBp })],
    labor: [
      {
        code: flat.laborRateCode,
        hoursPerUnit: flat.hoursPerUnit,
        setupHours: "0",
        hourlyCents: flat.laborHourlyCents,
        burdenBp: flat.laborBurdenBp,
      },
    ],
    disposalUnitCents: "0",
    equipmentUnitCents: "0",
    laborCvBp: 2500,
    ...change,
  };
}

/** Rates of materials alone: no labor, disposal or equipment. */
export const only = (...materials: MaterialUse[]): LineRates => ({
  materials,
  labor: [],
  disposalUnitCents: "0",
  equipmentUnitCents: "0",
  laborCvBp: 0,
});
