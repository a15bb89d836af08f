import type { ScopeLine } from "@ledgerboard/contracts/estimates";

const usd = (cents: number) => ({ cents, currency: "USD" as const });

/** An invented scope line, for tests. */
export const scopeLine = (change: Partial<ScopeLine> = {}): ScopeLine => ({
  id: "line-1",
  lineageId: "lineage-1",
  zoneId: "zone-1",
  zoneName: "Lower deck",
  component: "joist",
  action: "replace",
  assemblyCode: "JOIST-REPLACE",
  description: "",
  quantity: "26",
  unit: "each",
  evidence: "assumed",
  by: "us",
  alternate: null,
  allowance: null,
  reasonCode: null,
  reason: null,
  reviewed: false,
  rates: null,
  standing: "unpriced",
  agreed: null,
  price: {
    material: usd(0),
    tax: usd(0),
    hours: "0",
    labor: usd(0),
    disposal: usd(0),
    equipment: usd(0),
    overhead: usd(0),
    cost: usd(0),
    price: usd(0),
  },
  version: 1,
  ...change,
});
