import type { ZoneKind } from "@ledgerboard/contracts";
import type { Random } from "./random.ts";
import { countOf, type Finding, type Line, type Work, type ZoneSpec } from "./work.ts";
import { STRUCTURAL } from "./works-decks.ts";
import type { Book, BookAssembly } from "./world.ts";

type Other = { assembly: string | null; reasons: readonly string[] };

/** Where the senior finds less to do than sales thought. */
const SOUNDER: Record<string, Other> = {
  "JOIST-REPLACE": {
    assembly: "JOIST-SISTER",
    reasons: ["only the top edge is soft, sound below; a sister will carry it"],
  },
  "LEDGER-REPLACE": {
    assembly: "LEDGER-REFASTEN",
    reasons: [
      "ledger probed every 2 ft, sound; only the nails have gone",
      "stain from the gutter, no rot behind it",
    ],
  },
  "STRINGER-REPLACE": {
    assembly: "STRINGER-REPAIR",
    reasons: [
      "rot stops 8 in above the slab, new feet will do",
      "upper cuts dry; only the feet stood in wet soil",
    ],
  },
  "POST-REPLACE": {
    assembly: "POST-BASE-REPLACE",
    reasons: ["post sound above the base; the base has rusted through"],
  },
  "TREAD-REPLACE": { assembly: "TREAD-REFASTEN", reasons: ["boards sound, the nails have backed out"] },
  "GUARD-POST-REPLACE": {
    assembly: "GUARD-POST-REINFORCE",
    reasons: ["posts sound; they were only nailed to the rim"],
  },
  "RAIL-REPLACE": { assembly: "RAIL-REPAIR", reasons: ["rails sound, brackets loose"] },
  "BEAM-REPLACE": { assembly: "BEAM-REINFORCE", reasons: ["one ply of three is soft, the others ring"] },
  "RIM-REPLACE": { assembly: "RIM-REPAIR", reasons: ["soft at one corner only, the rest is dry"] },
  "JOIST-SISTER": { assembly: null, reasons: ["probed at each end, dry; water stain only"] },
  "HANGER-REPLACE": { assembly: null, reasons: ["galvanising still whole, nails tight"] },
  "RIM-REPAIR": { assembly: null, reasons: ["paint blistered, wood under it dry"] },
};

/** Where he finds more. */
const WORSE: Record<string, Other> = {
  "STRINGER-REPAIR": { assembly: "STRINGER-REPLACE", reasons: ["rot runs up past the third tread"] },
  "JOIST-SISTER": {
    assembly: "JOIST-REPLACE",
    reasons: ["bearing ends gone at the ledger; nothing to sister to"],
  },
  "LEDGER-REFASTEN": {
    assembly: "LEDGER-REPLACE",
    reasons: ["screwdriver goes in to the handle behind the siding"],
  },
  "TREAD-REFASTEN": { assembly: "TREAD-REPLACE", reasons: ["ends split to the second nail"] },
  "RIM-REPAIR": { assembly: "RIM-REPLACE", reasons: ["soft over its whole length behind the gutter"] },
  "RAIL-REPAIR": { assembly: "RAIL-REPLACE", reasons: ["rail ends rotted inside the brackets"] },
};

interface Overlooked extends Omit<Finding, "code"> {
  /** As long as the zone. */
  length?: true;
  /** Not where the first pass has this already, which brings it along. */
  unless?: string;
}

/** Rot that nobody sees before the ledger is off: paid for only if it is found, up to a cap. */
const BEHIND_THE_LEDGER = {
  chanceBp: 4500,
  lowQuantity: "2",
  highQuantity: "12",
  capQuantity: "12",
  charge: "if_found",
} as const;

const MISSED: Record<ZoneKind, readonly Overlooked[]> = {
  deck: [
    { assembly: "FLASHING-ADD", quantity: 1, length: true, reason: "no flashing above the ledger" },
    {
      assembly: "BAND-REPAIR",
      quantity: 6,
      allowance: BEHIND_THE_LEDGER,
      reason: "house band reads wet behind the ledger; opens up at tear-off",
    },
    {
      assembly: "FASTENER-REPLACE",
      quantity: 24,
      description: STRUCTURAL,
      reason: "bolts eaten by road salt, heads turn off by hand",
    },
    { assembly: "POST-BASE-REPLACE", quantity: 4, reason: "post bases rusted through at grade" },
    { assembly: "HANGER-ADD", quantity: 8, reason: "joists toe-nailed, no hangers" },
  ],
  porch: [
    { assembly: "POST-BASE-REPLACE", quantity: 4, reason: "rusted through at grade" },
    { assembly: "RIM-REPAIR", quantity: 8, reason: "rim soft under the downspout" },
  ],
  stair: [
    {
      assembly: "STRINGER-REPAIR",
      unless: "STRINGER-REPLACE",
      quantity: 2,
      reason: "feet stand in wet leaves, soft 6 in up",
    },
    {
      assembly: "GUARD-POST-REINFORCE",
      unless: "GUARD-POST-REPLACE",
      quantity: 2,
      reason: "bottom posts only nailed",
    },
    { assembly: "TREAD-TREAT", quantity: 4, reason: "end grain of the lower treads drinks water" },
  ],
  landing: [{ assembly: "HANGER-ADD", quantity: 4, reason: "landing joists hang on nails" }],
  railing: [
    {
      assembly: "BALUSTER-REPLACE",
      unless: "RAIL-REPLACE",
      quantity: 9,
      reason: "balusters split at the bottom nail",
    },
    {
      assembly: "GUARD-POST-REINFORCE",
      unless: "GUARD-POST-REPLACE",
      quantity: 2,
      reason: "posts only nailed to the rim",
    },
    { assembly: "FASTENER-BOLT", quantity: 8, reason: "the rim holds no screws at the posts; bolt through" },
  ],
  other: [{ assembly: "RIM-REPAIR", quantity: 6, reason: "rim behind the skirt is soft" }],
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

function recount(random: Random, { assembly, quantity }: Line, habit: Habit, most: number): Finding | null {
  const measured = AREA.test(assembly ?? "") || FEET.test(assembly ?? "");
  const lean = habit.overscopes > habit.underscopes ? -1 : 1;
  const share = 1 + lean * (0.05 + random.next() * 0.14);
  const counted = Math.min(Math.max(1, Math.round(quantity * share)), Math.max(quantity, most));
  if (counted === quantity) return null;
  return {
    assembly,
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

/** How much of what a line works on is there beside the other lines on the same component. */
function roomFor(work: Work, line: Line, workOf: WorkOf): number {
  const of = workOf(line.assembly);
  const zone = work.zones.find((z) => z.name === line.zone);
  const there = of && zone ? countOf(zone, of.component, of.unit) : null;
  if (!of || there === null || of.action === "add") return Number.POSITIVE_INFINITY;
  const others = work.lines.filter(
    (l) => l !== line && l.zone === line.zone && workOf(l.assembly)?.component === of.component,
  );
  return there - others.reduce((sum, l) => sum + (workOf(l.assembly)?.unit === of.unit ? l.quantity : 0), 0);
}

type WorkOf = (assembly: string | null) => BookAssembly | null;

/** What a first pass of this habit overlooked in a zone, if anything. */
function overlooked(
  random: Random,
  work: Work,
  zone: ZoneSpec,
  habit: Habit,
  workOf: WorkOf,
): Review["missed"] {
  const known = new Set<string | null>(work.lines.filter((l) => l.zone === zone.name).map((l) => l.assembly));
  const candidates = MISSED[zone.kind].filter(
    (m) => m.assembly !== null && !known.has(m.assembly) && !known.has(m.unless ?? ""),
  );
  if (!random.chance(habit.misses) || candidates.length === 0) return [];
  const { length, unless: _, quantity, ...found } = random.pick(candidates);
  const of = workOf(found.assembly);
  const there = of && of.action !== "add" ? countOf(zone, of.component, of.unit) : null;
  const seen = length ? (zone.length ?? 12) : quantity;
  const code = found.allowance ? "concealed" : "missed";
  return [{ ...found, zone: zone.name, quantity: Math.min(seen, there ?? seen), code }];
}

/**
 * Walks a first pass as the senior does, and finds what this salesperson's first passes tend to hide. Extras, work under
 * an allowance and what others do are left as they are.
 */
export function review(random: Random, work: Work, habit: Habit, { assemblies }: Book): Review {
  const workOf: WorkOf = (code) => (code === null ? null : (assemblies.ordinary.get(code) ?? null));
  const lines = work.lines.map((line): Finding | null => {
    const lot = random.next();
    const { assembly, by = "us", quantity } = line;
    if (assembly === null || by !== "us" || line.alternate || line.allowance) return null;
    const [less, more] = [SOUNDER[assembly], WORSE[assembly]];
    const other =
      lot < habit.overscopes ? less : lot < habit.overscopes + habit.underscopes ? more : undefined;
    if (other) {
      const reason = random.pick(other.reasons);
      // What stays is counted whole: nothing of it is worked on.
      const room = other.assembly === null ? roomFor(work, line, workOf) : quantity;
      const counted = Number.isFinite(room) ? Math.max(quantity, room) : quantity;
      return { assembly: other.assembly, quantity: counted, code: "misjudged_condition", reason };
    }
    return random.chance(habit.miscounts) ? recount(random, line, habit, roomFor(work, line, workOf)) : null;
  });
  return { lines, missed: work.zones.flatMap((zone) => overlooked(random, work, zone, habit, workOf)) };
}
