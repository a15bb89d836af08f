import type { Allowance } from "../pricing/allowance.ts";
import { flatRates } from "../pricing/rates.fixture.ts";
import type { LineRates } from "../pricing/rates.ts";
import type { PricingTerms } from "../pricing/revision.ts";
import { compareRevisions } from "./compare.ts";
import type { ComparableLine } from "./differences.ts";
import type { MaterialityPolicy } from "./materiality.ts";

/** No overhead, tax, margin or labor, so that a quantity of 1 at 100 cents is a price of 100 cents. */
export const plain: PricingTerms = {
  overheadBp: 0,
  marginBp: 0,
  materialTaxBp: 0,
  minimumChargeCents: 0,
  roundUpToCents: 0,
};
const figures = {
  wasteBp: 0,
  hoursPerUnit: "0",
  laborRateCode: "CARP",
  laborHourlyCents: 0,
  laborBurdenBp: 0,
};
export const rates = (unitCents: number, change: Partial<typeof figures> = {}): LineRates =>
  flatRates({ ...figures, materialUnitCents: String(unitCents), ...change });
export const line = (lineageId: string, change: Partial<ComparableLine> = {}): ComparableLine => ({
  id: `id-${lineageId}`,
  lineageId,
  zoneId: "z1",
  zoneName: "Lower deck",
  component: "decking",
  action: "replace",
  assemblyCode: "D1",
  unit: "sqft",
  evidence: "assumed",
  reasonCode: null,
  reason: null,
  quantity: "10",
  by: "us",
  rates: rates(100),
  ...change,
});
/** By hand: half of (1 + 10 + 31) / 3 = 7. */
export const rot = (change: Partial<Allowance> = {}): Allowance => ({
  chanceBp: 5000,
  lowQuantity: "1",
  highQuantity: "31",
  capQuantity: "10",
  charge: "included",
  ...change,
});
export const lenient: MaterialityPolicy = {
  amountCents: 0,
  percentBp: 0,
  hours: null,
  structuralAction: false,
};
const revision = (lines: ComparableLine[], terms = plain) => ({ lines, terms });
export const compare = (
  before: ComparableLine[],
  after: ComparableLine[],
  termsBefore: PricingTerms = plain,
  termsAfter: PricingTerms = termsBefore,
) => compareRevisions(revision(before, termsBefore), revision(after, termsAfter), lenient);
