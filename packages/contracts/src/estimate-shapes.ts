import { z } from "zod";
import { basisPoints, day, decimal, id, instant, line, money, quantity, version } from "./common.ts";
import {
  ACTIONS,
  BRIDGE_STEPS,
  CHARGE_KINDS,
  COMPONENTS,
  DOERS,
  EVIDENCE,
  MATERIAL_UNITS,
  REASONS,
  REVISION_KINDS,
  STANDINGS,
  UNITS,
} from "./vocabulary.ts";

const ratesPack = z.object({ size: z.string(), cents: z.int() });
export const lineRates = z.object({
  materials: z.array(
    z.object({
      code: z.string(),
      name: z.string(),
      unit: z.enum(MATERIAL_UNITS),
      section: z.string().nullable(),
      packs: z.array(ratesPack),
      wholePacks: z.boolean(),
      perUnit: z.string(),
      wasteBp: z.int(),
    }),
  ),
  labor: z.array(
    z.object({
      code: z.string(),
      hoursPerUnit: z.string(),
      setupHours: z.string(),
      hourlyCents: z.int(),
      burdenBp: z.int(),
    }),
  ),
  disposalUnitCents: z.string(),
  equipmentUnitCents: z.string(),
  laborCvBp: z.int(),
});
export const linePrice = z.object({
  material: money,
  tax: money,
  hours: z.string(),
  labor: money,
  disposal: money,
  equipment: money,
  overhead: money,
  cost: money,
  price: money,
});
/** What is known of concealed work; the line's quantity is the likeliest amount if there is any. */
export const allowance = z.object({
  chanceBp: z.int(),
  lowQuantity: z.string(),
  highQuantity: z.string(),
  capQuantity: z.string(),
  charge: z.enum(["included", "if_found"]),
});
export const allowanceIn = z.strictObject({
  chanceBp: basisPoints(10_000),
  lowQuantity: decimal,
  highQuantity: quantity,
  capQuantity: quantity,
  charge: z.enum(["included", "if_found"]),
});
export const scopeLine = z.object({
  id,
  /** The same across the revisions a line was copied through. */
  lineageId: id,
  zoneId: id,
  zoneName: z.string(),
  component: z.enum(COMPONENTS),
  action: z.enum(ACTIONS),
  assemblyCode: z.string().nullable(),
  description: z.string(),
  quantity: z.string(),
  unit: z.enum(UNITS),
  evidence: z.enum(EVIDENCE),
  by: z.enum(DOERS),
  /** Name of the optional extra the line belongs to; null for the base scope. */
  alternate: z.string().nullable(),
  allowance: allowance.nullable(),
  reasonCode: z.enum(REASONS).nullable(),
  reason: z.string().nullable(),
  reviewed: z.boolean(),
  rates: lineRates.nullable(),
  standing: z.enum(STANDINGS),
  /** What the line adds where it stands; nothing when it is charged only if found. */
  price: linePrice,
  /** For concealed work: the agreed unit price and its cap. */
  agreed: z.object({ unitPrice: money, capQuantity: z.string(), cap: money }).nullable(),
  version,
});
export type ScopeLine = z.infer<typeof scopeLine>;

export const terms = z.object({
  overheadBp: z.int(),
  marginBp: z.int(),
  materialTaxBp: z.int(),
  minimumChargeCents: z.int(),
  roundUpToCents: z.int(),
  laborCorrelationBp: z.int(),
});
export const chargeFields = { kind: z.enum(CHARGE_KINDS), words: line(120), atCost: z.boolean() };
export const charge = z.object({ ...chargeFields, words: z.string(), cost: money, price: linePrice });
export const purchase = z.object({
  code: z.string(),
  name: z.string(),
  unit: z.string(),
  section: z.string().nullable(),
  wholePacks: z.boolean(),
  needed: z.string(),
  used: money,
  packs: z.array(z.object({ size: z.string(), price: money, count: z.int() })),
  cost: money,
  leftover: money,
});
export const revision = z.object({
  id,
  jobId: id,
  number: z.int(),
  kind: z.enum(REVISION_KINDS),
  state: z.enum(["draft", "issued"]),
  basedOnId: id.nullable(),
  priceBookId: id,
  priceBookName: z.string(),
  priceBookFrom: day,
  /** The book in effect today where it is another than the revision's, or has other prices; else null. */
  newerPrices: z.object({ bookId: id, name: z.string(), effectiveFrom: day }).nullable(),
  terms,
  note: z.string(),
  author: z.string(),
  createdAt: instant,
  issuedAt: instant.nullable(),
  lines: z.array(scopeLine),
  charges: z.array(charge),
  adjustments: z.array(
    z.object({
      kind: z.enum(["whole_packs", "minimum_charge", "rounding"]),
      price: linePrice,
      before: money,
    }),
  ),
  alternates: z.array(z.object({ name: z.string(), price: linePrice })),
  purchases: z.array(purchase),
  totals: linePrice,
  /** Priced lines a site review has not touched yet, and their money. */
  unreviewed: z.object({ lines: z.int(), price: money }),
  version,
});
export type Revision = z.infer<typeof revision>;

export const lineChange = z.object({
  kind: z.enum(["unchanged", "quantity", "rate", "action", "allowance", "evidence", "added", "removed"]),
  before: scopeLine.nullable(),
  after: scopeLine.nullable(),
  delta: money,
  deltaHours: z.string(),
  structural: z.boolean(),
});
export const comparison = z.object({
  jobId: id,
  varianceId: id.nullable(),
  from: z.object({ id, number: z.int(), kind: z.enum(REVISION_KINDS), price: money, hours: z.string() }),
  to: z.object({ id, number: z.int(), kind: z.enum(REVISION_KINDS), price: money, hours: z.string() }),
  bridge: z.array(z.object({ step: z.enum(BRIDGE_STEPS), delta: money })),
  delta: money,
  deltaHours: z.string(),
  changes: z.array(lineChange),
  material: z.boolean(),
  rules: z.array(
    z.object({
      rule: z.string(),
      fired: z.boolean(),
      measured: z.string(),
      limit: z.string(),
      words: z.string(),
    }),
  ),
  waivedWhy: z.string().nullable(),
  /** Whether the material change still waits for the customer or the owner. */
  open: z.boolean(),
  policyFrom: day,
});
export type Comparison = z.infer<typeof comparison>;
