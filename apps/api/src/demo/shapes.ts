import type { LumberGroup, ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { JOIST_SIZES } from "@ledgerboard/contracts/geometry";
import { joistSpan, overhangLimit } from "@ledgerboard/rules";

/** Drawings as somebody with a tape would make them. What is called feet is in feet here and in inches in the drawing. */
type Outline = NonNullable<ZoneGeometry["outline"]>;
type Framing = NonNullable<ZoneGeometry["framing"]>;
type Guard = ZoneGeometry["guards"][number];
type Stair = ZoneGeometry["stairs"][number];
type Corner = readonly [x: number, y: number];

const inches = (feet: number): number => feet * 12;
const sixteenth = (length: number): number => Math.round(length * 16) / 16;
const points = (corners: readonly Corner[]) => corners.map(([x, y]) => ({ x: inches(x), y: inches(y) }));

export const rectangle = (length: number, width: number): Outline => ({
  shape: "rectangle",
  lengthIn: inches(length),
  widthIn: inches(width),
});
export const lShape = (length: number, width: number, notch: readonly [length: number, width: number]) =>
  ({
    shape: "l_shape",
    lengthIn: inches(length),
    widthIn: inches(width),
    notchLengthIn: inches(notch[0]),
    notchWidthIn: inches(notch[1]),
  }) as const satisfies Outline;
export const polygon = (...corners: readonly Corner[]): Outline => ({
  shape: "polygon",
  points: points(corners),
});
/** Eight-sided, as a hole is framed around a tree. */
export function aroundTree([x, y]: Corner, radius: number): ZoneGeometry["cutouts"][number] {
  const cut = radius / 2;
  const [left, right, near, far] = [x - radius, x + radius, y - radius, y + radius];
  const corners: Corner[] = [
    [left + cut, near],
    [right - cut, near],
    [right, near + cut],
    [right, far - cut],
    [right - cut, far],
    [left + cut, far],
    [left, far - cut],
    [left, near + cut],
  ];
  return { points: points(corners) };
}

/** Corners in order around the edge, the two on the house first where it has them. */
function cornersOf(outline: Outline): { x: number; y: number }[] {
  if (outline.shape === "polygon") return outline.points;
  const { lengthIn: x, widthIn: y } = outline;
  if (outline.shape === "rectangle")
    return [
      { x: 0, y: 0 },
      { x, y: 0 },
      { x, y },
      { x: 0, y },
    ];
  const [inner, near] = [x - outline.notchLengthIn, y - outline.notchWidthIn];
  return [
    { x: 0, y: 0 },
    { x, y: 0 },
    { x, y: near },
    { x: inner, y: near },
    { x: inner, y },
    { x: 0, y },
  ];
}

const GUARD: Guard = {
  lengthIn: 0,
  heightIn: 36,
  onStair: false,
  postSpacingIn: 72,
  infill: "balusters",
  balusterWidthIn: 1.5,
  clearGapIn: 3.75,
  rails: 2,
  cap: true,
  gates: 0,
  gateWidthIn: 0,
};

/** Guard runs one after another, in inches; a corner post is counted with the run before. */
const runs = (lengthsIn: readonly number[], like: Partial<Guard> = {}): Guard[] =>
  lengthsIn.map((lengthIn, i) => ({ ...GUARD, ...like, lengthIn, sharedPosts: i === 0 ? 0 : 1 }));

/** A guard along every side that is not on the house. */
function around(outline: Outline, like?: Partial<Guard>): Guard[] {
  const corners = cornersOf(outline);
  const sides = corners.map((p, i) => [p, corners[(i + 1) % corners.length] ?? p] as const);
  const free = sides.filter(([p, q]) => p.y !== 0 || q.y !== 0);
  return runs(
    free.map(([p, q]) => sixteenth(Math.hypot(q.x - p.x, q.y - p.y))),
    like,
  );
}

const EMPTY: ZoneGeometry = {
  outline: null,
  cutouts: [],
  heightIn: null,
  framing: null,
  decking: null,
  stairs: [],
  guards: [],
};

interface DeckSketch {
  outline: Outline;
  /** Feet above the ground. */
  height: number;
  lumber: LumberGroup;
  cutouts?: ZoneGeometry["cutouts"];
  posts?: number;
  beams?: number;
  /** Rows of border boards. */
  border?: number;
  /** Left out: no guard is drawn. */
  guard?: Partial<Guard>;
  framing?: Partial<Framing>;
}

const SPACING_IN = 16;

/** The frame the published span table allows under a surface that deep: the lightest joist, on one beam or more. */
function frameFor({ outline, lumber, posts, beams: least = 1 }: DeckSketch): Framing {
  const corners = cornersOf(outline);
  const depthIn = Math.max(...corners.map(({ y }) => y));
  const lengthIn = Math.max(...corners.map(({ x }) => x)) - Math.min(...corners.map(({ x }) => x));
  for (const beams of [1, 2, 3].filter((n) => n >= least)) {
    for (const overhangIn of [12, 0]) {
      const spanIn = (depthIn - overhangIn) / beams;
      const size = JOIST_SIZES.find((joistSize) => {
        const joist = { lumber, size: joistSize, spacingIn: SPACING_IN };
        const past = overhangLimit({ ...joist, mainSpanIn: spanIn }).limitIn ?? 0;
        return (joistSpan(joist).limitIn ?? 0) >= spanIn && past >= overhangIn;
      });
      if (!size) continue;
      return {
        joistDirection: "out",
        joistSpacingIn: SPACING_IN,
        joistSize: size,
        lumber,
        ledger: true,
        beams,
        posts: posts ?? beams * (Math.ceil(lengthIn / 96) + 1),
        overhangIn,
      };
    }
  }
  throw new Error(`No joist of the table spans ${depthIn} in; draw the deck less deep.`);
}

export function drawDeck(sketch: DeckSketch): ZoneGeometry {
  const { outline, height, cutouts = [], border = 0, guard } = sketch;
  return {
    ...EMPTY,
    outline,
    cutouts,
    heightIn: inches(height),
    framing: { ...frameFor(sketch), ...sketch.framing },
    decking: {
      pattern: "straight",
      thickness: "five_quarter",
      boardWidthIn: 5.5,
      gapIn: 0.125,
      borderRows: border,
    },
    guards: guard ? around(outline, guard) : [],
  };
}

interface StairSketch {
  /** Feet it climbs. */
  height: number;
  risers?: number;
  width: number;
  treadDepthIn?: number;
  stringers?: number;
  closedRisers?: boolean;
  /** A rail on either side unless false. */
  rails?: boolean;
}

/** Highest rise that is drawn where nobody has counted the steps; under the code's limit of 7 3/4 in. */
const RISE_IN = 7.75;

export function drawStair(sketch: StairSketch): ZoneGeometry {
  const { height, width, treadDepthIn = 10.25, closedRisers = false, rails = true } = sketch;
  const totalRiseIn = sixteenth(inches(height));
  const risers = sketch.risers ?? Math.ceil(totalRiseIn / RISE_IN);
  const stair: Stair = {
    totalRiseIn,
    risers,
    treadDepthIn,
    widthIn: inches(width),
    // Stringers at most 16 in apart: common practice, no source.
    stringers: sketch.stringers ?? Math.ceil(inches(width) / 16) + 1,
    boardsPerTread: 2,
    closedRisers,
  };
  const slopeIn = sixteenth(Math.hypot(totalRiseIn, (risers - 1) * treadDepthIn));
  const rail = { ...GUARD, lengthIn: slopeIn, onStair: true };
  return { ...EMPTY, heightIn: totalRiseIn, stairs: [stair], guards: rails ? [rail, rail] : [] };
}

/** A railing by itself, its runs in feet one after another. */
export const drawRailing = (lengths: readonly number[], like?: Partial<Guard>): ZoneGeometry => ({
  ...EMPTY,
  guards: runs(lengths.map(inches), like),
});
