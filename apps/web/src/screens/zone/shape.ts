import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";

export interface Point {
  x: number;
  y: number;
}
export type Outline = NonNullable<ZoneGeometry["outline"]>;

/** Corners in inches, in order around the edge; empty where a side of a rectangle has no length yet. */
export function ringOf(outline: Outline | null): Point[] {
  if (!outline) return [];
  if (outline.shape === "polygon") return outline.points;
  const { lengthIn: x, widthIn: y } = outline;
  if (x === 0 || y === 0) return [];
  const [nx, ny] = outline.shape === "l_shape" ? [outline.notchLengthIn, outline.notchWidthIn] : [0, 0];
  if (nx === 0 || ny === 0 || nx >= x || ny >= y)
    return [
      { x: 0, y: 0 },
      { x, y: 0 },
      { x, y },
      { x: 0, y },
    ];
  return [
    { x: 0, y: 0 },
    { x, y: 0 },
    { x, y: y - ny },
    { x: x - nx, y: y - ny },
    { x: x - nx, y },
    { x: 0, y },
  ];
}

export interface Bounds {
  left: number;
  right: number;
  near: number;
  far: number;
}

export function boundsOf(points: readonly Point[]): Bounds {
  const [xs, ys] = [points.map((p) => p.x), points.map((p) => p.y)];
  return { left: Math.min(...xs), right: Math.max(...xs), near: Math.min(...ys), far: Math.max(...ys) };
}

/** One side of an outline; `out` points away from the surface and is one long. */
export interface Side {
  from: Point;
  to: Point;
  lengthIn: number;
  middle: Point;
  out: Point;
  /** Lies on the house line. */
  onHouse: boolean;
}

/** The sides in order; side i runs from corner i to the next. Sides without length are left in, so that numbers hold. */
export function sidesOf(ring: readonly Point[]): Side[] {
  const pairs = ring.map((from, i) => ({ from, to: ring[(i + 1) % ring.length] ?? from }));
  const turn = Math.sign(pairs.reduce((sum, { from, to }) => sum + from.x * to.y - to.x * from.y, 0)) || 1;
  return pairs.map(({ from, to }) => {
    const [dx, dy] = [to.x - from.x, to.y - from.y];
    const length = Math.hypot(dx, dy);
    const unit = length === 0 ? 0 : turn / length;
    return {
      from,
      to,
      lengthIn: Math.round(length * 16) / 16,
      middle: { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 },
      out: { x: dy * unit, y: -dx * unit },
      onHouse: from.y === 0 && to.y === 0 && length > 0,
    };
  });
}

/** A place on the drawing that can be taken and moved. */
export interface Handle {
  name: string;
  at: Point;
  /** The outline with this place moved; the same one where it cannot go there. */
  move: (to: Point) => Outline;
}

const POLYGON_LIMIT = 6000;
const within = (value: number) => Math.max(-POLYGON_LIMIT, Math.min(POLYGON_LIMIT, value));

/** What can be dragged of an outline: the far corner of a rectangle, the three corners of an L, every corner of a polygon. */
export function handlesOf(outline: Outline): Handle[] {
  if (outline.shape === "polygon")
    return outline.points.map((at, i) => ({
      name: `Corner ${i + 1}`,
      at,
      move: (to) => ({
        shape: "polygon",
        points: outline.points.map((p, k) => (k === i ? { x: within(to.x), y: within(to.y) } : p)),
      }),
    }));
  const { lengthIn, widthIn } = outline;
  if (outline.shape === "rectangle")
    return [
      {
        name: "Far corner",
        at: { x: lengthIn, y: widthIn },
        move: ({ x, y }) => (x > 0 && y > 0 ? { shape: "rectangle", lengthIn: x, widthIn: y } : outline),
      },
    ];
  const inner = { x: lengthIn - outline.notchLengthIn, y: widthIn - outline.notchWidthIn };
  const made = (length: number, width: number, ix: number, iy: number): Outline =>
    ix > 0 && iy > 0 && length > ix && width > iy
      ? {
          shape: "l_shape",
          lengthIn: length,
          widthIn: width,
          notchLengthIn: length - ix,
          notchWidthIn: width - iy,
        }
      : outline;
  return [
    {
      name: "Outer corner beside the house",
      at: { x: lengthIn, y: inner.y },
      move: ({ x, y }) => made(x, widthIn, inner.x, y),
    },
    { name: "Inner corner", at: inner, move: ({ x, y }) => made(lengthIn, widthIn, x, y) },
    {
      name: "Outer corner away from the house",
      at: { x: inner.x, y: widthIn },
      move: ({ x, y }) => made(lengthIn, y, x, inner.y),
    },
  ];
}

/** The outline in another shape, as near as that shape can come. Inches. */
export function reshape(outline: Outline | null, shape: Outline["shape"]): Outline {
  const ring = ringOf(outline);
  const box = ring.length > 0 ? boundsOf(ring) : { left: 0, right: 192, near: 0, far: 144 };
  const [lengthIn, widthIn] = [box.right - box.left, box.far - box.near];
  if (shape === "rectangle") return { shape, lengthIn, widthIn };
  if (shape === "l_shape") {
    const third = (inches: number) => Math.round(inches / 3);
    return { shape, lengthIn, widthIn, notchLengthIn: third(lengthIn), notchWidthIn: third(widthIn) };
  }
  return { shape, points: ringOf(ring.length > 0 ? outline : { shape: "rectangle", lengthIn, widthIn }) };
}
