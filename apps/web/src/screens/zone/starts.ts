import type { Zone } from "@ledgerboard/contracts/jobs";
import { parseInches } from "@ledgerboard/contracts/measure";
import {
  type TypedDecking,
  type TypedFraming,
  type TypedGeometry,
  type TypedGuard,
  type TypedStair,
  toTyped,
} from "./typed.ts";

/*
 * What a part begins with when somebody starts to measure it: the usual sizes, common practice, no source. Counts that
 * only the site can tell begin empty, so that nobody takes them for counted.
 */

export const newFraming = (): TypedFraming => ({
  joistDirection: "out",
  joistSpacingIn: `16"`,
  joistSize: "2x8",
  lumber: "southern_pine",
  ledger: true,
  beams: 1,
  posts: null,
  overhangIn: `12"`,
});

export const newDecking = (): TypedDecking => ({
  pattern: "straight",
  thickness: "five_quarter",
  boardWidthIn: `5 1/2"`,
  gapIn: `1/8"`,
  borderRows: 0,
});

export const newStair = (totalRise: string): TypedStair => ({
  totalRiseIn: totalRise,
  risers: null,
  treadDepthIn: `10"`,
  widthIn: `36"`,
  stringers: 3,
  boardsPerTread: 2,
  closedRisers: false,
});

export const newGuard = (length = ""): TypedGuard => ({
  lengthIn: length,
  heightIn: `36"`,
  onStair: false,
  postSpacingIn: `6'`,
  sharedPosts: 0,
  infill: "balusters",
  balusterWidthIn: `1 1/2"`,
  clearGapIn: `3 1/2"`,
  rails: 2,
  cap: true,
  gates: 0,
  gateWidthIn: `36"`,
});

const feet = (text: string | null) => (text === null ? null : parseInches(`${text}'`));

/** What the fields show at first: the stored drawing, or the rough size of the zone as a rectangle. */
export function startOf(
  zone: Pick<Zone, "kind" | "geometry" | "lengthFt" | "widthFt" | "heightFt">,
): TypedGeometry {
  if (zone.geometry) return toTyped(zone.geometry);
  const [lengthIn, widthIn] = [feet(zone.lengthFt), feet(zone.widthFt)];
  // The rough size of a stair or a railing is no walking surface.
  const hasSurface = zone.kind !== "stair" && zone.kind !== "railing";
  return toTyped({
    outline: hasSurface && lengthIn && widthIn ? { shape: "rectangle", lengthIn, widthIn } : null,
    cutouts: [],
    heightIn: feet(zone.heightFt),
    framing: null,
    decking: null,
    stairs: [],
    guards: [],
  });
}
