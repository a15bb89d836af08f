import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import type { Side } from "./shape.ts";

type Guard = ZoneGeometry["guards"][number];

/** A run is measured between post centers, so it may be somewhat shorter than the side it stands on. Own choice. */
const NEAR_IN = 6;

/**
 * Which guard stands on which side, for the drawing alone: the run of nearly the side's length, each once, in order.
 * Runs on stairs and runs of no side's length stand nowhere on the plan. Keys are sides, values guards.
 */
export function placeGuards(sides: readonly Side[], guards: readonly Guard[]): Map<number, number> {
  const placed = new Map<number, number>();
  for (const [g, guard] of guards.entries()) {
    if (guard.onStair || guard.lengthIn === 0) continue;
    const off = (side: Side) => Math.abs(side.lengthIn - guard.lengthIn);
    const free = sides
      .map((side, s) => ({ side, s }))
      .filter(({ side, s }) => !side.onHouse && !placed.has(s) && off(side) <= NEAR_IN)
      .sort((a, b) => off(a.side) - off(b.side) || a.s - b.s);
    if (free[0]) placed.set(free[0].s, g);
  }
  return placed;
}

/**
 * A run along every side that is not on the house, in order around the edge. Neighbors meet in one post, which the later
 * run counts as shared.
 */
export function runsAround(sides: readonly Side[]): { lengthIn: number; sharedPosts: 0 | 1 | 2 }[] {
  const open = sides.filter((side) => side.lengthIn > 0);
  const house = open.findIndex((side) => side.onHouse);
  const inOrder = [...open.slice(house + 1), ...open.slice(0, house + 1)];
  const runs: { lengthIn: number; sharedPosts: 0 | 1 | 2 }[] = [];
  for (const [i, { onHouse, lengthIn }] of inOrder.entries()) {
    if (onHouse) continue;
    const meets = i > 0 && inOrder[i - 1]?.onHouse === false;
    const closes = house < 0 && i === inOrder.length - 1;
    runs.push({ lengthIn, sharedPosts: closes ? 2 : meets ? 1 : 0 });
  }
  return runs;
}
