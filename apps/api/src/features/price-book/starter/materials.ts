import type { MaterialUnit } from "@ledgerboard/contracts";
import type { Pack } from "@ledgerboard/estimating";
import type { MaterialFields } from "../store.ts";

/** Every price here is a placeholder of a likely size, to be replaced by the company's own. Common practice, no source. */

/** Stock lengths in ft, and how much dearer a foot is in each than in the shortest. Common practice, no source. */
const LENGTHS = [
  [8, 100],
  [10, 101],
  [12, 102],
  [14, 104],
  [16, 106],
  [20, 112],
] as const;

const item = (
  code: string,
  name: string,
  unit: MaterialUnit,
  packs: readonly (readonly [size: string, cents: number])[],
  more: { section?: string; wholePacks?: boolean } = {},
): MaterialFields => ({
  code,
  name,
  unit,
  section: more.section ?? null,
  packs: packs.map(([size, cents]): Pack => ({ size, cents })),
  wholePacks: more.wholePacks ?? false,
  retired: false,
});

/** Boards by their length in ft, from the price of a foot in the shortest. */
const boards = (code: string, name: string, section: string, footCents: number): MaterialFields => {
  const packs = LENGTHS.map(
    ([ft, percent]) => [String(ft), Math.round((ft * footCents * percent) / 100)] as const,
  );
  return item(code, name, "lf", packs, { section });
};
const each = (code: string, name: string, cents: number) => item(code, name, "each", [["1", cents]]);
/** Sold by the box: the larger is cheaper apiece. */
const box = (code: string, name: string, small: [string, number], large: [string, number]) =>
  item(code, name, "each", [small, large]);
const gallons = (code: string, name: string, gallon: number, five: number, wholePacks = false) =>
  item(
    code,
    name,
    "gal",
    [
      ["1", gallon],
      ["5", five],
    ],
    { wholePacks },
  );
/** Tinted or made up for one job, so that what is bought for it is charged to it. */
const coating = (code: string, name: string, gallon: number, five: number) =>
  gallons(code, name, gallon, five, true);
const roll = (code: string, name: string, feet: string, cents: number) =>
  item(code, name, "lf", [[feet, cents]]);
const sheet = (code: string, name: string, sqft: string, cents: number) =>
  item(code, name, "sqft", [[sqft, cents]]);

/** Hardware that has a stainless twin, which takes its place near salt. */
const HARDWARE = [
  box("SCREW-DECK", "Deck screw, coated, 2-1/2 in", ["350", 2800], ["1750", 10_500]),
  box("SCREW-TRIM", "Trim-head screw, coated, 3 in", ["100", 1500], ["500", 6000]),
  box("SCREW-STRUCT", "Structural wood screw, coated, 1/4 x 3-1/2 in", ["50", 2400], ["250", 9500]),
  box("SCREW-LEDGER", "Structural ledger screw, coated, 5 in", ["12", 2160], ["50", 7500]),
  item("NAIL-HANGER", "Joist-hanger nail, hot-dip galvanized, 1-1/2 in", "lb", [
    ["1", 550],
    ["5", 2250],
  ]),
  box("BOLT-HALF", "Carriage bolt 1/2 in with nut and washers, hot-dip galvanized", ["1", 360], ["25", 8000]),
  each("HANGER-2X6", "Joist hanger for a 2x6, hot-dip galvanized", 200),
  each("HANGER-2X8", "Joist hanger for a 2x8, hot-dip galvanized", 240),
  each("HANGER-2X10", "Joist hanger for a 2x10, hot-dip galvanized", 290),
  each("HANGER-DOUBLE", "Joist hanger for two plies, hot-dip galvanized", 520),
  each("ANGLE-FRAMING", "Framing angle, hot-dip galvanized", 180),
  each("ANGLE-TREAD", "Tread bracket, hot-dip galvanized", 250),
  each("BRACKET-RAIL", "Rail bracket, coated", 250),
  each("CONNECTOR-STRINGER", "Stringer connector, hot-dip galvanized", 700),
  each("BASE-POST-44", "Post base for a 4x4, hot-dip galvanized", 1400),
  each("BASE-POST-66", "Post base for a 6x6, hot-dip galvanized", 1900),
  each("CAP-POST-66", "Post cap for a 6x6, hot-dip galvanized", 1700),
  each("ANCHOR-TENSION", "Tension tie for a guard post, hot-dip galvanized", 2600),
  each("TIE-LATERAL", "Lateral-load tie from deck to floor, hot-dip galvanized", 2400),
  each("STRAP-TWIST", "Strap tie, hot-dip galvanized", 160),
  each("ANCHOR-CONCRETE", "Anchor bolt for concrete, 1/2 in, hot-dip galvanized", 380),
  each("HINGE-GATE", "Pair of gate hinges, hot-dip galvanized", 2800),
  each("LATCH-GATE", "Gate latch, coated", 2200),
  item("FLASH-LEDGER", "Ledger flashing, coated", "lf", [["10", 2600]]),
];

/** Stainless costs about two and a half times as much. Common practice, no source. */
const inStainless = ({ code, name, packs, ...rest }: MaterialFields): MaterialFields => ({
  ...rest,
  code: `${code}-SS`,
  name: `${name.replace(/, (coated|hot-dip galvanized)/, "")}, stainless steel`,
  packs: packs.map(({ size, cents }) => ({ size, cents: Math.round(cents * 2.5) })),
});

export const STARTER_MATERIALS: readonly MaterialFields[] = [
  boards("PT-54X6", "Deck board 5/4x6, treated", "5/4x6", 160),
  boards("PT-1X6", "Board 1x6, treated", "1x6", 110),
  boards("PT-1X8", "Board 1x8, treated", "1x8", 170),
  boards("PT-2X4", "2x4, treated", "2x4", 85),
  boards("PT-2X6", "2x6, treated", "2x6", 125),
  boards("PT-2X8", "2x8, treated", "2x8", 170),
  boards("PT-2X10", "2x10, treated", "2x10", 220),
  boards("PT-2X12", "2x12, treated", "2x12", 290),
  boards("PT-4X4", "4x4 post, treated", "4x4", 190),
  boards("PT-6X6", "6x6 post, treated", "6x6", 460),
  boards("CAP-2X6", "Rail cap 2x6, dried after treatment, clear", "2x6", 330),
  boards("COMP-54X6", "Composite deck board, grooved", "composite 5/4x6", 380),
  boards("COMP-FASCIA", "Composite fascia board", "composite 1x12", 560),
  boards("HANDRAIL", "Handrail that a hand can close around, wood", "handrail", 420),
  each("BALUSTER-WOOD", "Baluster 2x2 x 42 in, treated", 280),
  each("BALUSTER-METAL", "Baluster, powder-coated aluminum", 620),
  ...HARDWARE,
  ...HARDWARE.map(inStainless),
  box(
    "CLIP-HIDDEN",
    "Hidden clip with screw for grooved boards, stainless steel",
    ["90", 4500],
    ["900", 39_600],
  ),
  gallons("CLEANER", "Deck cleaner", 2000, 9000),
  gallons("BRIGHTENER", "Wood brightener", 2200, 9500),
  coating("STRIPPER", "Finish stripper", 3800, 16_500),
  coating("STAIN-SEMI", "Semitransparent stain and sealer", 5800, 26_000),
  coating("STAIN-SOLID", "Solid stain", 6400, 28_000),
  gallons("PRESERVATIVE", "Brush-on copper preservative", 4800, 22_000),
  item("COLD-ZINC", "Zinc-rich brush-on coating", "gal", [["0.25", 3200]]),
  each("SEALANT", "Exterior sealant, tube", 700),
  each("EPOXY", "Wood consolidant and filler, kit for one repair", 2600),
  each("SANDING", "Sanding discs, set", 450),
  roll("TAPE-JOIST", "Joist tape, butyl", "50", 2750),
  roll("TAPE-FLASHING", "Flashing tape, butyl, 6 in", "50", 2250),
  sheet("HOUSEWRAP", "Weather-resistive barrier", "500", 7500),
  sheet("SHEATHING", "Sheathing panel", "32", 3200),
  sheet("SIDING", "Siding to patch", "100", 42_000),
  sheet("LATTICE", "Lattice panel, treated", "32", 3520),
  item("CONCRETE", "Concrete mix, 80 lb bag", "each", [["1", 650]]),
  item("GRAVEL", "Gravel, bag", "each", [["1", 550]]),
  item("FORM-12", "Round form for concrete, 12 in", "lf", [["4", 2200]]),
  item("REBAR", "Reinforcing bar no. 4", "lf", [
    ["10", 900],
    ["20", 1700],
  ]),
];

const CODES = new Set(STARTER_MATERIALS.map((m) => m.code));

/** What takes the place of a material near salt water or road salt; null where nothing needs to. */
export const inSaltOf = (code: string): string | null => (CODES.has(`${code}-SS`) ? `${code}-SS` : null);
