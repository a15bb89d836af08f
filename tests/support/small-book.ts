import { insertAssemblies, insertMaterials, insertRates } from "@ledgerboard/api/features/price-book/store";
import type { Action, Component, Unit } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";

/**
 * A price book of the tests' own, so that figures worked on paper do not move with the one a company starts from. Each
 * assembly takes one material sold singly and one labor rate. The figures are made up.
 */
const RATES = [
  { code: "carpenter", name: "Carpenter", hourlyCents: 3400, burdenBp: 3200 },
  { code: "lead-carpenter", name: "Lead carpenter", hourlyCents: 4200, burdenBp: 3200 },
  { code: "helper", name: "Helper", hourlyCents: 2200, burdenBp: 3000 },
];

type Row = [
  code: string,
  component: Component,
  action: Action,
  unit: Unit,
  materialCents: number,
  wasteBp: number,
  hoursPerUnit: string,
  rate: string,
];
const ROWS: readonly Row[] = [
  ["DECK-REPLACE", "decking", "replace", "sqft", 420, 1000, "0.09", "carpenter"],
  ["DECK-REPAIR", "decking", "repair", "lf", 260, 1000, "0.15", "carpenter"],
  ["DECK-FINISH", "decking", "finish", "sqft", 38, 500, "0.018", "helper"],
  ["JOIST-SISTER", "joist", "sister", "each", 2850, 500, "1.5", "carpenter"],
  ["JOIST-REPLACE", "joist", "replace", "each", 2700, 500, "2.2", "carpenter"],
  ["RIM-REPAIR", "rim_joist", "repair", "lf", 560, 1000, "0.5", "carpenter"],
  ["POST-REPAIR", "post", "repair", "each", 2600, 0, "1.4", "carpenter"],
  ["HANGER-REPLACE", "joist_hanger", "replace", "each", 420, 0, "0.4", "carpenter"],
  ["STRINGER-REPLACE", "stringer", "replace", "each", 4600, 500, "2.5", "lead-carpenter"],
  ["TREAD-REPLACE", "tread", "replace", "each", 1900, 1000, "0.5", "carpenter"],
  ["GATE-ADD", "gate", "add", "each", 9800, 500, "4", "carpenter"],
  ["RAIL-REPLACE", "rail", "replace", "lf", 2100, 500, "0.55", "carpenter"],
];
const nameOf = ([code]: Row): string => `Material of ${code}`;
/** Sold in boxes, bought whole for the job; no assembly of the book takes them. */
const BOXES = ["SCREW-DECK", "SCREW-DECK-SS"];

export const SMALL_TERMS = {
  overheadBp: 1500,
  marginBp: 3000,
  materialTaxBp: 600,
  minimumChargeCents: 0,
  roundUpToCents: 0,
  laborCorrelationBp: 3000,
};

/** Gives a company the tests' price book, in effect from a local day, and answers its id. */
export async function smallBook(
  db: TenantDb,
  from: string,
  change: Partial<typeof SMALL_TERMS> = {},
): Promise<string> {
  const t = { ...SMALL_TERMS, ...change };
  const [book] = await db.sql<{ id: string }>`
    INSERT INTO price_books (company_id, name, effective_from, overhead_bp, margin_bp, material_tax_bp,
                             minimum_charge_cents, round_up_to_cents, labor_correlation_bp)
    VALUES (${db.companyId}, ${`Small book of ${from}`}, ${from}, ${t.overheadBp}, ${t.marginBp}, ${t.materialTaxBp},
            ${t.minimumChargeCents}, ${t.roundUpToCents}, ${t.laborCorrelationBp})
    RETURNING id`;
  if (!book) throw new Error("The small price book was not stored.");
  await insertRates(db, book.id, RATES);
  await insertMaterials(
    db,
    book.id,
    [
      ...ROWS.map((row) => ({ code: `M-${row[0]}`, name: nameOf(row), size: "1", cents: row[4] })),
      ...BOXES.map((code) => ({ code, name: `Box of ${code}`, size: "350", cents: 3400 })),
    ].map(({ code, name, size, cents }) => ({
      code,
      name,
      unit: "each" as const,
      section: null,
      packs: [{ size, cents }],
      wholePacks: size !== "1",
      retired: false,
    })),
  );
  await insertAssemblies(
    db,
    book.id,
    ROWS.map(([code, component, action, unit, _cents, wasteBp, hoursPerUnit, rate]) => ({
      code,
      component,
      action,
      description: `${action} ${component}`,
      unit,
      recipe: {
        materials: [{ code: `M-${code}`, inSalt: null, perUnit: "1", wasteBp }],
        labor: [{ code: rate, hoursPerUnit, setupHours: "0" }],
        disposalUnitCents: "0",
        equipmentUnitCents: "0",
        laborCvBp: 2500,
      },
      note: "Made up for the tests.",
      retired: false,
    })),
  );
  return book.id;
}
