/**
 * Exact plane geometry. Coordinates are whole sixteenths of an inch, so that every test below is a comparison of whole
 * numbers far under 2^53: no tolerance decides whether two edges touch.
 */
export interface Point {
  x: number;
  y: number;
}
export type Ring = readonly Point[];

const at = (ring: Ring, index: number): Point => {
  const point = ring[((index % ring.length) + ring.length) % ring.length];
  if (!point) throw new RangeError("A ring needs corners.");
  return point;
};

/** The edges of a ring in order: edge i runs from corner i to the next. */
export const edges = (ring: Ring): [Point, Point][] => ring.map((a, i) => [a, at(ring, i + 1)]);

/** Twice the area of the triangle abc: above zero when c lies left of a → b, zero on the line. */
const turn = (a: Point, b: Point, c: Point) => (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);

const within = (a: number, b: number, value: number) => Math.min(a, b) <= value && value <= Math.max(a, b);

/** Whether p lies on the segment ab, its ends included. */
const onSegment = ([a, b]: [Point, Point], p: Point) =>
  turn(a, b, p) === 0 && within(a.x, b.x, p.x) && within(a.y, b.y, p.y);

/** Whether two segments share any point, if only an end. */
function segmentsMeet(s: [Point, Point], t: [Point, Point]): boolean {
  const [a, b] = [Math.sign(turn(s[0], s[1], t[0])), Math.sign(turn(s[0], s[1], t[1]))];
  const [c, d] = [Math.sign(turn(t[0], t[1], s[0])), Math.sign(turn(t[0], t[1], s[1]))];
  if (a * b < 0 && c * d < 0) return true;
  return onSegment(s, t[0]) || onSegment(s, t[1]) || onSegment(t, s[0]) || onSegment(t, s[1]);
}

export const ringsMeet = (a: Ring, b: Ring): boolean =>
  edges(a).some((edge) => edges(b).some((other) => segmentsMeet(edge, other)));

/**
 * Twice the signed area in square sixteenths, by the shoelace formula (source: "Shoelace formula", Wikipedia, from
 * memory). Positive when the corners run counter-clockwise with y up.
 */
export const twiceArea = (ring: Ring): number =>
  edges(ring).reduce((sum, [a, b]) => sum + a.x * b.y - b.x * a.y, 0);

/** Whether all corners lie on one line. */
export const isFlat = (ring: Ring): boolean => ring.every((p) => turn(at(ring, 0), at(ring, 1), p) === 0);

/** Whether p lies strictly inside; only to be asked of a point that is on no edge. Even-odd rule. */
export function isInside(ring: Ring, p: Point): boolean {
  let inside = false;
  for (const [a, b] of edges(ring)) {
    if (a.y > p.y === b.y > p.y) continue;
    const side = turn(a, b, p);
    if (side > 0 === b.y > a.y) inside = !inside;
  }
  return inside;
}

/**
 * The first two edges that cross or touch where they should not, or null for a simple ring. Neighbors may share only
 * their corner, so a spike that runs back over itself counts. Corners must not repeat one after another.
 */
export function crossingEdges(ring: Ring): [number, number] | null {
  const all = edges(ring);
  for (const [i, edge] of all.entries()) {
    for (const [j, other] of all.entries()) {
      if (j <= i) continue;
      const next = j === i + 1;
      if (next || (i === 0 && j === all.length - 1)) {
        const [first, second] = next ? [edge, other] : [other, edge];
        const backwards = onSegment(first, second[1]) || onSegment(second, first[0]);
        if (backwards) return [i, j];
      } else if (segmentsMeet(edge, other)) return [i, j];
    }
  }
  return null;
}

/** Corners without those that repeat the one before (the last counts as before the first), and where they were. */
export function dropRepeats(ring: Ring): { ring: Point[]; repeats: number[] } {
  const repeats = ring.flatMap((p, i) => {
    const before = at(ring, i - 1);
    return ring.length > 1 && p.x === before.x && p.y === before.y ? [i] : [];
  });
  return { ring: ring.filter((_, i) => !repeats.includes(i)), repeats };
}

/** Parts of a sixteenth in which lengths are summed: whole numbers, so that the order of the sum does not matter. */
const FINE = 2 ** 20;

/** Length around a ring in feet, exact for edges along the axes and within a millionth of a foot otherwise. */
export const perimeterRatio = (ring: Ring): { num: bigint; den: bigint } => ({
  num: edges(ring).reduce(
    (sum, [a, b]) => sum + BigInt(Math.round(Math.hypot(b.x - a.x, b.y - a.y) * FINE)),
    0n,
  ),
  den: BigInt(FINE) * 192n,
});
