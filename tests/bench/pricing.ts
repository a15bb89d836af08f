/** The budgets of pricing, plausibility and comparison, each against the same work done in a plainer way. */
import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { ACTIONS, COMPONENTS } from "@ledgerboard/contracts/vocabulary";
import {
  assessPlausibility,
  type ComparableLine,
  compareRevisions,
  type LineRates,
  priceRevision,
  takeoff,
} from "@ledgerboard/estimating";
import { Decimal } from "decimal.js";
import { sideBySide } from "./timing.ts";
import type { BenchRow } from "./world.ts";

const ROUNDS = 25;
const REPRICE_BAR_MS = 5;
const COMPARE_BAR_MS = 10;
const terms = {
  overheadBp: 1500,
  marginBp: 3000,
  materialTaxBp: 600,
  minimumChargeCents: 45_000,
  roundUpToCents: 500,
};

const material = (code: string, perUnit: string, packs: { size: string; cents: number }[]) => ({
  code,
  name: code,
  unit: "lf" as const,
  section: null,
  perUnit,
  wasteBp: 1000,
  wholePacks: true,
  packs,
});

const rates = (i: number): LineRates => ({
  materials: [
    material(`BOARD-${i % 12}`, "2.18", [
      { size: "8", cents: 1180 },
      { size: "12", cents: 1795 },
      { size: "16", cents: 2499 },
    ]),
    material(`SCREW-${i % 5}`, "3.5", [
      { size: "350", cents: 3890 },
      { size: "1750", cents: 14_900 },
    ]),
    material(`STAIN-${i % 3}`, "0.005", [{ size: "1", cents: 4800 }]),
  ],
  labor: [
    { code: "carpenter", hoursPerUnit: "0.09", setupHours: "0.5", hourlyCents: 3400, burdenBp: 3200 },
    { code: "helper", hoursPerUnit: "0.02", setupHours: "0", hourlyCents: 2200, burdenBp: 3000 },
  ],
  disposalUnitCents: "25",
  equipmentUnitCents: "3.5",
  laborCvBp: 2500,
});

const geometry: ZoneGeometry = {
  outline: { shape: "rectangle", lengthIn: 240, widthIn: 144 },
  cutouts: [],
  heightIn: 60,
  framing: {
    joistDirection: "out",
    joistSpacingIn: 16,
    joistSize: "2x8",
    lumber: "southern_pine",
    ledger: true,
    beams: 1,
    posts: 3,
    overhangIn: 12,
  },
  decking: { pattern: "straight", thickness: "five_quarter", boardWidthIn: 5.5, gapIn: 0.125, borderRows: 1 },
  stairs: [],
  guards: [],
};
const ZONES = Array.from({ length: 10 }, (_, i) => ({
  id: `zone-${i}`,
  name: `Deck ${i}`,
  kind: "deck" as const,
  geometry,
}));

const lines = (count: number, at: (i: number) => string): ComparableLine[] =>
  Array.from({ length: count }, (_, i) => ({
    id: `${i}`,
    lineageId: `line-${i}`,
    zoneId: `zone-${i % ZONES.length}`,
    zoneName: `Deck ${i % ZONES.length}`,
    component: COMPONENTS[i % COMPONENTS.length] ?? "decking",
    action: ACTIONS[1 + (i % (ACTIONS.length - 1))] ?? "replace",
    assemblyCode: `A-${i % 40}`,
    unit: "sqft",
    evidence: "measured",
    reasonCode: null,
    reason: null,
    quantity: at(i),
    by: "us",
    rates: rates(i),
  }));

/** The same line by line with a general decimal library: no packs, no remarks. */
function withDecimals(all: readonly ComparableLine[]): Decimal {
  const share = (bp: number) => new Decimal(bp).div(10_000);
  const cents = (d: Decimal) => d.toDecimalPlaces(0, Decimal.ROUND_HALF_UP);
  return all.reduce((total, { quantity, rates }) => {
    if (!rates) return total;
    const bought = rates.materials.reduce((sum, use) => {
      const each = Decimal.min(...use.packs.map((p) => new Decimal(p.cents).div(p.size)));
      return sum.plus(
        cents(new Decimal(quantity).times(use.perUnit).times(share(use.wasteBp).plus(1)).times(each)),
      );
    }, new Decimal(0));
    const worked = rates.labor.reduce((sum, use) => {
      const hours = new Decimal(quantity).times(use.hoursPerUnit).plus(use.setupHours).toDecimalPlaces(4);
      return sum.plus(cents(hours.times(use.hourlyCents).times(share(use.burdenBp).plus(1))));
    }, new Decimal(0));
    const hauled = cents(new Decimal(quantity).times(rates.disposalUnitCents));
    const direct = bought
      .plus(cents(bought.times(share(terms.materialTaxBp))))
      .plus(worked)
      .plus(hauled);
    const cost = direct.plus(cents(direct.times(share(terms.overheadBp))));
    return total.plus(cents(cost.div(new Decimal(1).minus(share(terms.marginBp)))));
  }, new Decimal(0));
}

/** Zones are measured once, when somebody draws them; lines are priced at every key. */
const measured = takeoff({ kind: "deck", geometry, lengthFt: null, widthFt: null, heightFt: null });

function reprice(all: readonly ComparableLine[]): number {
  const priced = priceRevision({ lines: all }, terms);
  const findings = assessPlausibility({
    property: { saltExposure: true, yearBuilt: 1962 },
    zones: ZONES.map((zone) => ({ ...zone, takeoff: measured })),
    lines: priced.lines.map((line) => ({
      ...line,
      assemblyUnit: line.unit,
      description: "",
      allowance: null,
      alternate: null,
    })),
    charges: [],
    past: null,
    today: "2026-11-25",
    newLumberDaysDry: null,
  });
  return priced.totals.priceCents + findings.length;
}

const row = (name: string, bar: number, ours: number, theirs: number, reference: string): BenchRow => ({
  name,
  measured: `${ours.toFixed(1)} ms against ${theirs.toFixed(1)} ms for ${reference}, the middle of ${ROUNDS} rounds`,
  ratio: ours / theirs,
  bar: `≤ ${bar} ms`,
  holds: ours <= bar,
});

export function pricingRows(): BenchRow[] {
  const two = lines(200, (i) => `${20 + i}.5`);
  const before = lines(500, (i) => `${20 + i}`);
  const after = before.map((line, i) => (i % 3 === 0 ? { ...line, quantity: `${25 + i}` } : line));
  const policy = { amountCents: 0, percentBp: 0, hours: "1", structuralAction: true };
  const [priced = 0, decimals = 0] = sideBySide(ROUNDS, [() => reprice(two), () => withDecimals(two)]);
  const [compared = 0, twice = 0] = sideBySide(ROUNDS, [
    () => compareRevisions({ lines: before, terms }, { lines: after, terms }, policy),
    () => withDecimals([...before, ...after]),
  ]);
  return [
    row(
      "re-price 200 lines with plausibility",
      REPRICE_BAR_MS,
      priced,
      decimals,
      "pricing alone with a decimal library",
    ),
    row(
      "compare 500 with 500 lines",
      COMPARE_BAR_MS,
      compared,
      twice,
      "pricing both alone with a decimal library",
    ),
  ];
}
