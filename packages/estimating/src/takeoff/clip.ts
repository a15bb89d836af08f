import { crossingEdges, edges, type Ring, twiceArea } from "./polygon.ts";

/** A ring in inches in the axes of the boards or joists: `a` along them, `b` across. */
export type FrameRing = readonly { a: number; b: number }[];
/** From and to, in inches along `a`. */
export type Span = [number, number];

/** How boards or joists lie: along x, along y, or at 45 degrees. */
export type Lie = "along_x" | "along_y" | "diagonal";

/** A ring in whole sixteenths, seen along the boards or joists. */
export function inFrame(ring: Ring, lie: Lie): FrameRing {
  return ring.map((p) => {
    const [x, y] = [p.x / 16, p.y / 16];
    if (lie === "along_x") return { a: x, b: y };
    if (lie === "along_y") return { a: y, b: x };
    return { a: (x + y) / Math.SQRT2, b: (y - x) / Math.SQRT2 };
  });
}

export function extent(ring: FrameRing): Span {
  const across = ring.map((p) => p.b);
  return [Math.min(...across), Math.max(...across)];
}

/** Spans that overlap, put together and in order; spans that only touch stay apart. */
function merge(spans: Span[]): Span[] {
  const merged: Span[] = [];
  for (const [lo, hi] of spans.sort((s, t) => s[0] - t[0] || s[1] - t[1])) {
    const last = merged.at(-1);
    if (last && lo < last[1]) last[1] = Math.max(last[1], hi);
    else merged.push([lo, hi]);
  }
  return merged;
}

type Side = [FrameRing[number], FrameRing[number], ring: number];

/** Sides that reach into the strip, and the levels in it at which a side begins or ends. */
function sidesIn(rings: readonly FrameRing[], b0: number, b1: number): { sides: Side[]; levels: number[] } {
  const levels = [b0, b1];
  const sides: Side[] = [];
  for (const [index, ring] of rings.entries()) {
    for (const [i, from] of ring.entries()) {
      const to = ring[(i + 1) % ring.length] ?? from;
      if (from.b > b0 && from.b < b1) levels.push(from.b);
      if (Math.max(from.b, to.b) > b0 && Math.min(from.b, to.b) < b1) sides.push([from, to, index]);
    }
  }
  return { sides, levels: levels.sort((s, t) => s - t) };
}

const reach = ([p, q]: Side, level: number) => p.a + ((q.a - p.a) * (level - p.b)) / (q.b - p.b);

/**
 * Where the strip between b0 and b1 lies inside the first ring and outside the others: the stretches of it, from long
 * point to long point, as a board of that width must be cut. A hole narrower than the strip leaves the board whole.
 */
export function stripSpans(rings: readonly FrameRing[], b0: number, b1: number): Span[] {
  const { sides, levels } = sidesIn(rings, b0, b1);
  const spans: Span[] = [];
  for (const [i, low] of levels.entries()) {
    const high = levels[i + 1];
    if (high === undefined || high <= low) continue;
    const middle = (low + high) / 2;
    const crossed = sides
      .filter(([p, q]) => p.b > middle !== q.b > middle)
      .map((side) => ({
        at: reach(side, middle),
        ends: [reach(side, low), reach(side, high)],
        ring: side[2],
      }))
      .sort((s, t) => s.at - t.at);
    const inRing = new Set<number>();
    let start: number | null = null;
    for (const { ends, ring } of crossed) {
      if (!inRing.delete(ring)) inRing.add(ring);
      const solid = inRing.size === 1 && inRing.has(0);
      if (solid && start === null) start = Math.min(...ends);
      else if (!solid && start !== null) {
        spans.push([start, Math.max(...ends)]);
        start = null;
      }
    }
  }
  return merge(spans);
}

/** Half the width of the strip that stands for a line: under half a sixteenth, so that no other line is in it. */
const HAIR = 1 / 32;

/** The stretches of the line b inside the rings; where it runs along an edge, the side that reaches farther counts. */
export const lineSpans = (rings: readonly FrameRing[], b: number): Span[] =>
  stripSpans(rings, b - HAIR, b + HAIR);

/**
 * The counter-clockwise ring moved inward by `inches` on every side, with mitered corners, in sixteenths (not whole); null
 * where the surface is too narrow for it. Corner i of the result belongs to corner i of the ring.
 */
export function inset(ring: Ring, inches: number): { x: number; y: number }[] | null {
  const sides = edges(ring).map(([p, q]) => {
    const length = Math.hypot(q.x - p.x, q.y - p.y);
    const [dx, dy] = [(q.x - p.x) / length, (q.y - p.y) / length];
    return { dx, dy, x: p.x - dy * inches * 16, y: p.y + dx * inches * 16 };
  });
  const moved = sides.map((side, i) => {
    const before = sides.at(i - 1) ?? side;
    const cross = before.dx * side.dy - before.dy * side.dx;
    if (Math.abs(cross) < 1e-9) return { x: side.x, y: side.y };
    const along = ((side.x - before.x) * side.dy - (side.y - before.y) * side.dx) / cross;
    return { x: before.x + along * before.dx, y: before.y + along * before.dy };
  });
  const keepsDirection = edges(moved).every(([p, q], i) => {
    const side = sides[i];
    return side !== undefined && (q.x - p.x) * side.dx + (q.y - p.y) * side.dy > 0;
  });
  if (!keepsDirection) return null;
  const whole = moved.map(({ x, y }) => ({ x: Math.round(x), y: Math.round(y) }));
  return crossingEdges(whole) === null && twiceArea(whole) > 0 ? moved : null;
}

/** Lengths in inches, long point to long point, of the boards between a ring and the ring inset from it. */
export function boardsAround(outer: Ring, inner: Ring): number[] {
  const inside = edges(inner);
  return edges(outer).map(([p, q], i) => {
    const [r, s] = inside[i] ?? [p, q];
    const length = Math.hypot(q.x - p.x, q.y - p.y);
    const along = ({ x, y }: { x: number; y: number }) =>
      ((x - p.x) * (q.x - p.x) + (y - p.y) * (q.y - p.y)) / length;
    return (Math.max(length, along(r), along(s)) - Math.min(0, along(r), along(s))) / 16;
  });
}
