import type { Allowance } from "../pricing/allowance.ts";
import type { LineRates } from "../pricing/rates.ts";
import { type Charge, priceRevision, type RevisionLine } from "../pricing/revision.ts";
import { type SimulationOptions, simulateCost } from "./index.ts";

export const terms = {
  overheadBp: 1200,
  marginBp: 3500,
  materialTaxBp: 600,
  minimumChargeCents: 0,
  roundUpToCents: 0,
};
export const priced = (lines: readonly RevisionLine[], charges: readonly Charge[] = []) => ({
  ...priceRevision({ lines, charges }, terms),
  terms,
});
export const rates = (change: Partial<LineRates> = {}): LineRates => ({
  materials: [
    {
      code: "BOARD",
      name: "Board",
      unit: "lf",
      section: null,
      perUnit: "1",
      wasteBp: 1000,
      wholePacks: false,
      packs: [{ size: "1", cents: 300 }],
    },
  ],
  labor: [{ code: "CARP", hoursPerUnit: "0.1", setupHours: "0", hourlyCents: 5000, burdenBp: 3000 }],
  disposalUnitCents: "20",
  equipmentUnitCents: "5",
  laborCvBp: 4000,
  ...change,
});
export const line = (quantity: string, change: Partial<RevisionLine> = {}): RevisionLine => ({
  quantity,
  by: "us",
  rates: rates(),
  ...change,
});
export const allowance = (change: Partial<Allowance> = {}): Allowance => ({
  chanceBp: 4000,
  lowQuantity: "5",
  highQuantity: "60",
  capQuantity: "30",
  charge: "included",
  ...change,
});
export const run = (lines: RevisionLine[], options: Partial<SimulationOptions> = {}) =>
  simulateCost(priced(lines), { draws: 100_000, seed: 1, ...options });

/** A scope of every kind of line. */
export const mixed: RevisionLine[] = [
  line("100"),
  line("40", { rates: rates({ laborCvBp: 8000 }) }),
  line("25", { rates: rates({ laborCvBp: 0 }) }),
  line("20", { allowance: allowance() }),
  line("20", { allowance: allowance({ charge: "if_found", chanceBp: 7000 }) }),
  line("30", {
    rates: rates({ labor: [{ ...(rates().labor[0] as LineRates["labor"][number]), setupHours: "3" }] }),
    allowance: allowance({ chanceBp: 10_000, lowQuantity: "0", charge: "if_found" }),
  }),
];
