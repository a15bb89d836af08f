import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import type { Action, Component, Unit } from "@ledgerboard/contracts/vocabulary";
import type { LineRates, MaterialUse } from "../pricing/rates.ts";
import { priceRevision } from "../pricing/revision.ts";
import type { PlausibilityJob, PlausibilityLine, PlausibilityZone } from "./job.ts";

/** One rule with a job that it speaks up on, what it says, and a job close by that it lets pass. */
export interface Case {
  rule: string;
  fires: PlausibilityJob;
  says: RegExp;
  /** Where it differs from the rule's own. */
  severity?: string;
  field: string | null;
  silent: PlausibilityJob;
}

export const material = (name: string, change: Partial<MaterialUse> = {}): MaterialUse => ({
  code: name.toUpperCase().replaceAll(/[^A-Z0-9]+/g, "-"),
  name,
  unit: "each",
  section: null,
  perUnit: "1",
  wasteBp: 0,
  wholePacks: false,
  packs: [{ size: "1", cents: 300 }],
  ...change,
});
export const BOARD = material("Deck board 5/4x6", {
  unit: "lf",
  section: "5/4x6",
  perUnit: "2.1333",
  wasteBp: 800,
});
export const SCREWS = material("Deck screws, hot-dip galvanized", {
  perUnit: "3.5",
  packs: [{ size: "350", cents: 3200 }],
});

export const rates = (materials: MaterialUse[], change: Partial<LineRates> = {}): LineRates => ({
  materials,
  labor: [{ code: "carpenter", hoursPerUnit: "0.5", setupHours: "0", hourlyCents: 3400, burdenBp: 3200 }],
  disposalUnitCents: "50",
  equipmentUnitCents: "0",
  laborCvBp: 2500,
  ...change,
});

type Draft = Omit<PlausibilityLine, "price" | "standing" | "lineageId">;

/** A counted line of ours on the deck, priced with one part that takes no notice of any rule. */
export const line = (
  component: Component,
  action: Action,
  quantity: string,
  unit: Unit,
  change: Partial<Draft> = {},
): Draft => ({
  zoneId: "deck",
  component,
  action,
  assemblyCode: null,
  assemblyUnit: null,
  description: "",
  quantity,
  unit,
  evidence: "counted",
  by: "us",
  rates: rates([material("Part")]),
  allowance: null,
  alternate: null,
  ...change,
});

export const ALLOWANCE = {
  chanceBp: 3000,
  lowQuantity: "1",
  highQuantity: "6",
  capQuantity: "8",
  charge: "included",
} as const;

type Framing = NonNullable<ZoneGeometry["framing"]>;
type Decking = NonNullable<ZoneGeometry["decking"]>;
type Guard = ZoneGeometry["guards"][number];
type Stair = ZoneGeometry["stairs"][number];

const GUARD: Guard = {
  lengthIn: 480,
  heightIn: 36,
  onStair: false,
  postSpacingIn: 72,
  infill: "balusters",
  balusterWidthIn: 1.5,
  clearGapIn: 3.875,
  rails: 2,
  cap: true,
  gates: 0,
  gateWidthIn: 0,
};
const STAIR: Stair = {
  totalRiseIn: 60,
  risers: 8,
  treadDepthIn: 10.5,
  widthIn: 36,
  stringers: 3,
  boardsPerTread: 2,
  closedRisers: true,
};

interface ZoneChange {
  framing?: Partial<Framing>;
  decking?: Partial<Decking>;
  guard?: Partial<Guard> | null;
  heightIn?: number;
  outline?: ZoneGeometry["outline"];
  there?: Record<string, string>;
  takeoff?: Partial<PlausibilityZone["takeoff"]>;
  kind?: PlausibilityZone["kind"];
}

const existing = (there: Record<string, string>) =>
  Object.entries(there).map(([key, quantity]) => {
    const [component, unit] = key.split(" ") as [Component, Unit];
    return { component, unit, quantity, how: "as drawn" };
  });

/** A sound deck of 16 by 12 ft, 5 ft up, with a guard of 40 ft. */
export const deck = (change: ZoneChange = {}): PlausibilityZone => ({
  id: "deck",
  name: "Rear deck",
  kind: change.kind ?? "deck",
  geometry: {
    outline: change.outline ?? { shape: "rectangle", lengthIn: 192, widthIn: 144 },
    cutouts: [],
    heightIn: change.heightIn ?? 60,
    framing: {
      joistDirection: "out",
      joistSpacingIn: 16,
      joistSize: "2x8",
      lumber: "southern_pine",
      ledger: true,
      beams: 1,
      posts: 3,
      overhangIn: 12,
      ...change.framing,
    },
    decking: {
      pattern: "straight",
      thickness: "five_quarter",
      boardWidthIn: 5.5,
      gapIn: 0.125,
      borderRows: 0,
      ...change.decking,
    },
    stairs: [],
    guards: change.guard === null ? [] : [{ ...GUARD, ...change.guard }],
  },
  takeoff: {
    findings: [],
    areaSqft: "192",
    existing: existing({
      "decking sqft": "192",
      "fastener each": "676",
      "joist each": "13",
      "joist_hanger each": "13",
      "ledger lf": "16",
      "rail lf": "40",
      "baluster each": "84",
      "guard_post each": "8",
      "post each": "3",
      ...change.there,
    }),
    stairs: [],
    guards: [],
    ...change.takeoff,
  },
});

/** A sound stair of eight rises with its guard. */
export const stair = (
  change: Partial<Stair> = {},
  guard: Partial<Guard> | null = {},
  takeoff: Partial<PlausibilityZone["takeoff"]> = {},
): PlausibilityZone => ({
  id: "stair",
  name: "Main stair",
  kind: "stair",
  geometry: {
    outline: null,
    cutouts: [],
    heightIn: null,
    framing: null,
    decking: null,
    stairs: [{ ...STAIR, ...change }],
    guards: guard === null ? [] : [{ ...GUARD, onStair: true, clearGapIn: 4.25, lengthIn: 96, ...guard }],
  },
  takeoff: {
    findings: [],
    areaSqft: null,
    existing: existing({ "tread each": "7", "stringer each": "3" }),
    stairs: [],
    guards: [],
    ...takeoff,
  },
});

const TERMS = {
  overheadBp: 1500,
  marginBp: 3000,
  materialTaxBp: 600,
  minimumChargeCents: 0,
  roundUpToCents: 0,
};

/** The lines priced as a revision prices them, on a sound deck and stair of 2010 with a permit. */
export function job(lines: Draft[], change: Partial<Omit<PlausibilityJob, "lines">> = {}): PlausibilityJob {
  const named = lines.map((one, i) => ({ ...one, lineageId: `line-${i + 1}` }));
  return {
    property: { saltExposure: false, yearBuilt: 2010 },
    zones: [deck(), stair()],
    charges: [{ kind: "permit" }],
    past: null,
    today: "2026-11-25",
    newLumberDaysDry: null,
    ...change,
    lines: priceRevision({ lines: named }, TERMS).lines,
  };
}

export const newBoards = (change: Partial<Draft> = {}) =>
  line("decking", "replace", "96", "sqft", { rates: rates([BOARD, SCREWS]), ...change });
/** Work that no rule has anything to say of. */
export const SOUND = [
  newBoards(),
  line("joist", "replace", "3", "each"),
  line("joist_hanger", "replace", "3", "each", { rates: rates([material("Hanger 2x8, G185")]) }),
  line("tread", "replace", "2", "each", { zoneId: "stair" }),
];
