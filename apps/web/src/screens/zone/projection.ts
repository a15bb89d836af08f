import { type Bounds, boundsOf, type Point } from "./shape.ts";

/** From inches on the plan to pixels of the drawing, the same both ways: the drawing is to scale. */
export interface Projection {
  width: number;
  height: number;
  /** Pixels of an inch. */
  scale: number;
  x: (inches: number) => number;
  y: (inches: number) => number;
  back: (x: number, y: number) => Point;
}

const SIDE = 54;
const TOP = 66;
const BOTTOM = 62;
const LEAST_IN = 24;

/** What has to be in sight: the surface, and the house line where the surface comes near it. */
export function boxOf(ring: readonly Point[]): Bounds {
  const box = boundsOf(ring);
  const nearHouse = box.near <= (box.far - box.near) / 2;
  return nearHouse ? { ...box, near: Math.min(0, box.near), far: Math.max(0, box.far) } : box;
}

/** The largest drawing of the box that fits `width` by `tallest` pixels, dimensions around it included. */
export function fit(box: Bounds, width: number, tallest: number): Projection {
  const across = Math.max(LEAST_IN, box.right - box.left);
  const deep = Math.max(LEAST_IN, box.far - box.near);
  const scale = Math.min(
    Math.max(40, width - 2 * SIDE) / across,
    Math.max(40, tallest - TOP - BOTTOM) / deep,
  );
  const left = (width - across * scale) / 2;
  return {
    width,
    height: Math.ceil(deep * scale + TOP + BOTTOM),
    scale,
    x: (inches) => left + (inches - box.left) * scale,
    y: (inches) => TOP + (inches - box.near) * scale,
    back: (x, y) => ({ x: (x - left) / scale + box.left, y: (y - TOP) / scale + box.near }),
  };
}

/** "M…L…Z" of a ring. */
export const ringPath = (ring: readonly Point[], { x, y }: Projection): string =>
  `${ring.map((p, i) => `${i === 0 ? "M" : "L"}${x(p.x).toFixed(1)} ${y(p.y).toFixed(1)}`).join("")}Z`;

/** A bar of whole feet about a fifth of the drawing wide. */
export function scaleBar({ width, scale }: Projection): { feet: number; length: number } {
  const wanted = width / 5 / scale / 12;
  const feet = [1, 2, 5, 10, 20, 50, 100].findLast((f) => f <= wanted) ?? 1;
  return { feet, length: feet * 12 * scale };
}
