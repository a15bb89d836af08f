import type { TenantDb } from "@ledgerboard/database";
import { ENCLOSURE_WORK, FINISH_WORK } from "./starter/enclosure.ts";
import { BEAM_WORK, JOIST_WORK, RIM_AND_BAND_WORK } from "./starter/framing.ts";
import { BALUSTER_AND_GATE_WORK, GUARD_POST_AND_CAP_WORK, RAIL_WORK } from "./starter/guards.ts";
import { FASTENER_WORK, FLASHING_WORK, HANGER_WORK } from "./starter/hardware.ts";
import { STARTER_MATERIALS } from "./starter/materials.ts";
import { LEDGER_WORK, POST_AND_FOOTING_WORK } from "./starter/supports.ts";
import { DECKING_WORK, STAIR_WORK } from "./starter/walking-surface.ts";
import { insertAssemblies, insertMaterials, insertRates, type RateFields } from "./store.ts";

/**
 * A starting price book. Every cost, hour, rate and share in it is a placeholder of a likely size, set down so that a
 * new company can try the service at once and then replace it with its own. Common practice, no source.
 *
 * A smallest charge and a round price are for a company to decide, not to inherit: both start at none.
 */
const TERMS = {
  name: "Starting price book: placeholders, replace every figure with your own",
  overheadBp: 1500,
  marginBp: 3000,
  materialTaxBp: 600,
  minimumChargeCents: 0,
  roundUpToCents: 0,
  laborCorrelationBp: 3000,
};

const RATES: readonly RateFields[] = [
  { code: "lead-carpenter", name: "Lead carpenter", hourlyCents: 4200, burdenBp: 3200 },
  { code: "carpenter", name: "Carpenter", hourlyCents: 3400, burdenBp: 3200 },
  { code: "helper", name: "Helper", hourlyCents: 2200, burdenBp: 3000 },
  { code: "finisher", name: "Finisher", hourlyCents: 3000, burdenBp: 3000 },
];

const ASSEMBLIES = [
  ...DECKING_WORK,
  ...JOIST_WORK,
  ...RIM_AND_BAND_WORK,
  ...BEAM_WORK,
  ...POST_AND_FOOTING_WORK,
  ...LEDGER_WORK,
  ...HANGER_WORK,
  ...FLASHING_WORK,
  ...FASTENER_WORK,
  ...GUARD_POST_AND_CAP_WORK,
  ...RAIL_WORK,
  ...BALUSTER_AND_GATE_WORK,
  ...STAIR_WORK,
  ...ENCLOSURE_WORK,
  ...FINISH_WORK,
];

/**
 * Gives a new company a price book to begin with, in effect from `today`, and answers its id. Every figure in it is
 * a placeholder, as its name says. Throws where a book already starts on that day.
 */
export async function starterPriceBook(db: TenantDb, today: string): Promise<string> {
  const [book] = await db.sql<{ id: string }>`
    INSERT INTO price_books (company_id, name, effective_from, overhead_bp, margin_bp, material_tax_bp,
                             minimum_charge_cents, round_up_to_cents, labor_correlation_bp)
    VALUES (${db.companyId}, ${TERMS.name}, ${today}, ${TERMS.overheadBp}, ${TERMS.marginBp}, ${TERMS.materialTaxBp},
            ${TERMS.minimumChargeCents}, ${TERMS.roundUpToCents}, ${TERMS.laborCorrelationBp})
    RETURNING id`;
  if (!book) throw new Error("The starting price book was not inserted.");
  await insertRates(db, book.id, RATES);
  await insertMaterials(db, book.id, STARTER_MATERIALS);
  await insertAssemblies(db, book.id, ASSEMBLIES);
  await db.audit({
    action: "price_book.started",
    entity: "price_book",
    entityId: book.id,
    words: "A starting price book was laid out. Replace its prices and hours with your own.",
  });
  return book.id;
}
