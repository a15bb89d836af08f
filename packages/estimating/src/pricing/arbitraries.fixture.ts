import { ACTIONS, COMPONENTS, DOERS, EVIDENCE, UNITS } from "@ledgerboard/contracts/vocabulary";
import { Decimal } from "decimal.js";
import fc from "fast-check";
import type { ComparableLine } from "../compare/differences.ts";
import type { Allowance } from "./allowance.ts";
import type { LaborUse, LineRates, MaterialUse, Pack } from "./rates.ts";
import type { Charge, PricingTerms } from "./revision.ts";

// Outside check: decimal.js (https://mikemcl.github.io/decimal.js/) redoes the arithmetic with its own rounding.
export const Exact = Decimal.clone({ precision: 100, rounding: Decimal.ROUND_HALF_UP });

export const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0);

export const total = (numbers: readonly Decimal[]) => numbers.reduce((a, b) => a.plus(b), new Exact(0));

export const decimal = (maxUnits: number, places: number) =>
  fc.nat(maxUnits * 10 ** places).map((n) => new Exact(n).div(10 ** places).toFixed());
export const quantity = decimal(200, 4);

const pack: fc.Arbitrary<Pack> = fc.record({
  size: fc.integer({ min: 100, max: 40_000 }).map((n) => new Exact(n).div(100).toFixed()),
  cents: fc.nat(5000),
});
type Sold = Pick<MaterialUse, "code" | "packs" | "wholePacks">;
const sold: fc.Arbitrary<Sold> = fc.record({
  code: fc.constantFrom("BOARD", "SCREW"),
  packs: fc.array(pack, { maxLength: 3 }),
  wholePacks: fc.boolean(),
});
/** Materials that several lines take, so that they share packs. */
const shared = fc.constantFrom<Sold[]>(
  { code: "NAIL", packs: [{ size: "350", cents: 1899 }], wholePacks: true },
  {
    code: "JOIST",
    packs: [
      { size: "8", cents: 1175 },
      { size: "12.5", cents: 1730 },
    ],
    wholePacks: true,
  },
  { code: "STAIN", packs: [{ size: "5", cents: 4999 }], wholePacks: false },
);
const materialUse: fc.Arbitrary<MaterialUse> = fc
  .tuple(fc.oneof(sold, shared), decimal(2, 4), fc.nat(3000))
  .map(([what, perUnit, wasteBp]) => ({
    ...what,
    name: `${what.code} by name`,
    unit: "each",
    section: null,
    perUnit,
    wasteBp,
  }));
const laborUse: fc.Arbitrary<LaborUse> = fc.record({
  code: fc.constantFrom("CARP", "LEAD"),
  hoursPerUnit: decimal(2, 4),
  setupHours: fc.oneof(fc.constant("0"), decimal(8, 2)),
  hourlyCents: fc.nat(9000),
  burdenBp: fc.nat(6000),
});
const perUnitCents = fc.oneof(fc.constant("0"), decimal(500, 3));
export const rates: fc.Arbitrary<LineRates> = fc.record({
  materials: fc.array(materialUse, { maxLength: 3 }),
  labor: fc.array(laborUse, { maxLength: 2 }),
  disposalUnitCents: perUnitCents,
  equipmentUnitCents: perUnitCents,
  laborCvBp: fc.nat(6000),
});

export const terms: fc.Arbitrary<PricingTerms> = fc.record({
  overheadBp: fc.nat(4000),
  marginBp: fc.nat(9000),
  materialTaxBp: fc.nat(1200),
  minimumChargeCents: fc.oneof(fc.constant(0), fc.nat(2_000_000)),
  roundUpToCents: fc.oneof(fc.constantFrom(0, 1, 500, 2500), fc.nat(5000)),
});

const charge: fc.Arbitrary<Charge> = fc.record({
  kind: fc.constantFrom("permit" as const, "travel" as const, "equipment" as const, "other" as const),
  words: fc.constantFrom("Permit", "Ferry"),
  costCents: fc.nat(100_000),
  atCost: fc.boolean(),
});
export const charges = fc.array(charge, { maxLength: 3 });

/** What is known of concealed work whose likeliest amount is `likely`. */
export const allowanceOf = (likely: string): fc.Arbitrary<Allowance> =>
  fc.record({
    chanceBp: fc.nat(10_000),
    lowQuantity: fc.nat(100).map((share) => new Exact(likely).times(share).div(100).toFixed(4)),
    highQuantity: decimal(50, 2).map((more) => new Exact(likely).plus(more).toFixed()),
    capQuantity: fc.integer({ min: 1, max: 100 }).map(String),
    charge: fc.constantFrom("included" as const, "if_found" as const),
  });

export const line = (lineageId: string): fc.Arbitrary<ComparableLine> =>
  fc
    .record({
      id: fc.uuid(),
      lineageId: fc.constant(lineageId),
      zoneId: fc.constantFrom("z1", "z2"),
      zoneName: fc.constant("Lower deck"),
      component: fc.constantFrom(...COMPONENTS),
      action: fc.constantFrom(...ACTIONS),
      assemblyCode: fc.constantFrom(null, "A", "B"),
      unit: fc.constantFrom(...UNITS),
      evidence: fc.constantFrom(...EVIDENCE),
      reasonCode: fc.constant(null),
      reason: fc.constant(null),
      quantity,
      by: fc.oneof({ weight: 4, arbitrary: fc.constant("us" as const) }, fc.constantFrom(...DOERS)),
      rates: fc.oneof({ weight: 5, arbitrary: rates }, fc.constant(null)),
      alternate: fc.oneof({ weight: 4, arbitrary: fc.constant(null) }, fc.constantFrom("Stain", "Lattice")),
    })
    .chain((one) =>
      fc
        .oneof({ weight: 3, arbitrary: fc.constant(null) }, allowanceOf(one.quantity))
        .map((allowance) => ({ ...one, allowance })),
    );
