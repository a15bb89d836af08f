import type { PriceBook } from "@ledgerboard/contracts/price-book";

const usd = (cents: number) => ({ cents, currency: "USD" as const });

/** A small book with round figures. */
export const BOOK: PriceBook = {
  id: "b",
  name: "Test book",
  effectiveFrom: "2026-01-05",
  standing: "in_effect",
  overheadBp: 1000,
  marginBp: 3000,
  materialTaxBp: 600,
  minimumCharge: usd(50_000),
  roundUpTo: usd(1000),
  laborCorrelationBp: 3000,
  laborRates: [
    { id: "r", code: "carpenter", name: "Carpenter", hourly: usd(3000), burdenBp: 3000, version: 1 },
  ],
  materials: [
    {
      id: "m1",
      code: "BOARD",
      name: "Board",
      unit: "lf",
      section: "5/4x6",
      packs: [{ size: "8", price: usd(800) }],
      wholePacks: true,
      retired: false,
      version: 1,
    },
    {
      id: "m2",
      code: "BOARD-SALT",
      name: "Board for salt",
      unit: "lf",
      section: "5/4x6",
      packs: [{ size: "8", price: usd(1600) }],
      wholePacks: true,
      retired: false,
      version: 1,
    },
  ],
  assemblies: [
    {
      id: "a",
      code: "DECKING-REPLACE",
      component: "decking",
      action: "replace",
      description: "Replace boards",
      unit: "lf",
      recipe: {
        materials: [{ code: "BOARD", inSalt: "BOARD-SALT", perUnit: "1", wasteBp: 1000 }],
        labor: [{ code: "carpenter", hoursPerUnit: "0.05", setupHours: "0" }],
        disposalUnitCents: "0",
        equipmentUnitCents: "0",
        laborCvBp: 2500,
      },
      note: "Placeholder.",
      unitPrice: usd(488),
      retired: false,
      version: 1,
    },
  ],
  version: 1,
};
