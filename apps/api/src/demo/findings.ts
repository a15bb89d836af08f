import type { ZoneKind } from "@ledgerboard/contracts";
import type { Random } from "./random.ts";
import type { Finding, Line, Work } from "./work.ts";

type Other = { item: string | null; reasons: readonly string[] };

/** Where the senior finds less to do than sales thought. */
const SOUNDER: Record<string, Other> = {
  "JOIST-REPLACE": {
    item: "JOIST-SISTER",
    reasons: ["only the top edge is soft, sound below; a sister will carry it"],
  },
  "LEDGER-REPLACE": {
    item: "LEDGER-REFASTEN",
    reasons: [
      "ledger probed every 2 ft, sound; only the nails have gone",
      "stain from the gutter, no rot behind it",
    ],
  },
  "STRINGER-REPLACE": {
    item: "STRINGER-REPAIR",
    reasons: [
      "rot stops 8 in above the slab, new feet will do",
      "upper cuts dry; only the feet stood in wet soil",
    ],
  },
  "POST-REPLACE": {
    item: "POST-BASE-REPLACE",
    reasons: ["post sound above the base; the base has rusted through"],
  },
  "TREAD-REPLACE": { item: "TREAD-REFASTEN", reasons: ["boards sound, the nails have backed out"] },
  "GUARD-POST-REPLACE": {
    item: "GUARD-POST-REINFORCE",
    reasons: ["posts sound; they were only nailed to the rim"],
  },
  "RAIL-REPLACE": { item: "RAIL-REPAIR", reasons: ["rails sound, brackets loose"] },
  "BEAM-REPLACE": { item: "BEAM-REINFORCE", reasons: ["one ply of three is soft, the others ring"] },
  "RIM-REPLACE": { item: "RIM-REPAIR", reasons: ["soft at one corner only, the rest is dry"] },
  "JOIST-SISTER": { item: null, reasons: ["probed at each end, dry; water stain only"] },
  "HANGER-REPLACE": { item: null, reasons: ["galvanising still whole, nails tight"] },
  "RIM-REPAIR": { item: null, reasons: ["paint blistered, wood under it dry"] },
};

/** Where he finds more. */
const WORSE: Record<string, Other> = {
  "STRINGER-REPAIR": { item: "STRINGER-REPLACE", reasons: ["rot runs up past the third tread"] },
  "JOIST-SISTER": {
    item: "JOIST-REPLACE",
    reasons: ["bearing ends gone at the ledger; nothing to sister to"],
  },
  "LEDGER-REFASTEN": {
    item: "LEDGER-REPLACE",
    reasons: ["screwdriver goes in to the handle behind the siding"],
  },
  "TREAD-REFASTEN": { item: "TREAD-REPLACE", reasons: ["ends split to the second nail"] },
  "RIM-REPAIR": { item: "RIM-REPLACE", reasons: ["soft over its whole length behind the gutter"] },
  "RAIL-REPAIR": { item: "RAIL-REPLACE", reasons: ["rail ends rotted inside the brackets"] },
};

const MISSED: Record<ZoneKind, readonly (Omit<Finding, "code"> & { length?: true })[]> = {
  deck: [
    { item: "FLASHING-ADD", quantity: 1, length: true, reason: "no flashing above the ledger" },
    {
      item: "BAND-REPAIR",
      quantity: 6,
      concealed: true,
      reason: "house band reads wet behind the ledger; opens up at tear-off",
    },
    { item: "FASTENER-REPLACE", quantity: 24, reason: "bolts eaten by road salt, heads turn off by hand" },
    { item: "POST-BASE-REPLACE", quantity: 4, reason: "post bases rusted through at grade" },
    { item: "HANGER-ADD", quantity: 8, reason: "joists toe-nailed, no hangers" },
  ],
  porch: [
    { item: "POST-BASE-REPLACE", quantity: 4, reason: "rusted through at grade" },
    { item: "RIM-REPAIR", quantity: 8, reason: "rim soft under the downspout" },
  ],
  stair: [
    { item: "STRINGER-REPAIR", quantity: 2, reason: "feet stand in wet leaves, soft 6 in up" },
    { item: "GUARD-POST-REINFORCE", quantity: 2, reason: "bottom posts only nailed" },
  ],
  landing: [{ item: "HANGER-ADD", quantity: 4, reason: "landing joists hang on nails" }],
  railing: [
    { item: "BALUSTER-REPLACE", quantity: 9, reason: "balusters split at the bottom nail" },
    { item: "GUARD-POST-REINFORCE", quantity: 2, reason: "posts only nailed to the rim" },
  ],
  other: [{ item: "RIM-REPAIR", quantity: 6, reason: "rim behind the skirt is soft" }],
};

/** What a first pass of this salesperson tends to get wrong; shares of lines, from 0 to 1. */
export interface Habit {
  /** Writes new where old would do. */
  overscopes: number;
  /** Takes for sound what is not. */
  underscopes: number;
  misses: number;
  miscounts: number;
  /** How far real hours run past the estimate, as a share of it. */
  optimism: number;
}

const AREA = /^(DECK|SKIRTING|LATTICE)-/;
const FEET = /^(LEDGER|FLASHING|RIM|BAND|BEAM|RAIL|JOIST-TREAT)/;

function recount(random: Random, { item, quantity }: Line, habit: Habit): Finding | null {
  const measured = AREA.test(item) || FEET.test(item);
  const lean = habit.overscopes > habit.underscopes ? -1 : 1;
  const share = 1 + lean * (0.05 + random.next() * 0.14);
  const counted = Math.max(1, Math.round(quantity * share));
  if (counted === quantity) return null;
  return {
    item,
    quantity: counted,
    code: "miscount",
    reason: measured
      ? "measured"
      : counted > quantity
        ? "counted, there are more"
        : "counted, there are fewer",
  };
}

export interface Review {
  /** By the index of the first pass's line; null: confirmed as it was written. */
  lines: (Finding | null)[];
  missed: (Finding & { zone: string })[];
}

/** Walks a first pass as the senior does, and finds what this salesperson's first passes tend to hide. */
export function review(random: Random, work: Work, habit: Habit): Review {
  const lines = work.lines.map((line): Finding | null => {
    const lot = random.next();
    const [less, more] = [SOUNDER[line.item], WORSE[line.item]];
    const other =
      lot < habit.overscopes ? less : lot < habit.overscopes + habit.underscopes ? more : undefined;
    if (other) {
      const { item, reasons } = other;
      return { item, quantity: line.quantity, code: "misjudged_condition", reason: random.pick(reasons) };
    }
    return random.chance(habit.miscounts) ? recount(random, line, habit) : null;
  });
  const missed = work.zones.flatMap((zone): Review["missed"] => {
    const known = new Set(work.lines.filter((l) => l.zone === zone.name).map((l) => l.item));
    const candidates = MISSED[zone.kind].filter((m) => m.item !== null && !known.has(m.item));
    if (!random.chance(habit.misses) || candidates.length === 0) return [];
    const { length, quantity, ...found } = random.pick(candidates);
    const code = found.concealed ? "concealed" : "missed";
    return [{ ...found, zone: zone.name, quantity: length ? (zone.length ?? 12) : quantity, code }];
  });
  return { lines, missed };
}
