import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import type { Bounds, Point } from "./shape.ts";

type Framing = NonNullable<ZoneGeometry["framing"]>;
type Decking = NonNullable<ZoneGeometry["decking"]>;
/** A straight line on the plan, in inches, long enough to be cut off at the edge of the surface. */
export type Stroke = [Point, Point];

/** More lines than this say nothing on a drawing and slow it down. */
const MOST = 600;

function places(from: number, to: number, step: number): number[] {
  if (step <= 0 || (to - from) / step > MOST) return [];
  const found: number[] = [];
  for (let k = 0; from + k * step < to; k += 1) found.push(from + k * step);
  return found;
}

const upright = (x: number, { near, far }: Bounds): Stroke => [
  { x, y: near },
  { x, y: far },
];
const level = (y: number, { left, right }: Bounds): Stroke => [
  { x: left, y },
  { x: right, y },
];

/** Joists where the takeoff counts them: the first at the start, then one at every spacing, and one at the end. */
export function joistStrokes(box: Bounds, framing: Framing): Stroke[] {
  if (framing.joistSpacingIn < 4) return [];
  const out = framing.joistDirection === "out";
  const [from, to] = out ? [box.left, box.right] : [box.near, box.far];
  const at = [...places(from, to, framing.joistSpacingIn), to];
  return at.map((a) => (out ? upright(a, box) : level(a, box)));
}

/** Beam lines as the takeoff spaces them: evenly from the ledger, or the near edge, to the last short of the overhang. */
export function beamStrokes(box: Bounds, framing: Framing): Stroke[] {
  const out = framing.joistDirection === "out";
  const [near, far] = out ? [box.near, box.far] : [box.left, box.right];
  const last = far - framing.overhangIn;
  if (framing.beams === 0 || last <= near) return [];
  const onLedger = framing.ledger && out;
  const start = onLedger ? Math.max(near, 0) : near;
  const bays = onLedger ? framing.beams : framing.beams - 1;
  return Array.from({ length: framing.beams }, (_, i) => {
    const at = bays === 0 ? last : start + ((last - start) * (onLedger ? i + 1 : i)) / bays;
    return out ? level(at, box) : upright(at, box);
  });
}

/** Posts spread evenly under the beams; the drawing says that only their number is known. */
export function postPlaces(beams: readonly Stroke[], posts: number): Point[] {
  return beams.flatMap(([from, to], i) => {
    const count = Math.floor(posts / beams.length) + (i < posts % beams.length ? 1 : 0);
    return Array.from({ length: count }, (_, k) => {
      const t = count === 1 ? 0.5 : 0.04 + (0.92 * k) / (count - 1);
      return { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t };
    });
  });
}

/** Gaps between the boards. Where a border frames them, the field begins behind it. */
export function boardStrokes(box: Bounds, decking: Decking, framing: Framing | null): Stroke[] {
  const pitch = decking.boardWidthIn + decking.gapIn;
  const border = decking.borderRows * pitch;
  if (decking.boardWidthIn < 1.5) return [];
  if (decking.pattern === "straight") {
    const across = framing?.joistDirection === "along";
    const [from, to] = across ? [box.left, box.right] : [box.near, box.far];
    return places(from + border, to, pitch)
      .slice(1)
      .map((at) => (across ? upright(at, box) : level(at, box)));
  }
  // A board at 45 degrees keeps y - x; its pitch across is √2 longer measured along an axis.
  const [low, high] = [box.near - box.right, box.far - box.left];
  return places(low, high, pitch * Math.SQRT2).map((d) => [
    { x: box.left, y: box.left + d },
    { x: box.right, y: box.right + d },
  ]);
}
