import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { divide, ratio, toDecimal } from "@ledgerboard/contracts/money";
import { Prisma } from "@ledgerboard/database";

const SIXTEENTHS = 16;

/** Inches to feet as the zone's columns keep them: decimal text, four places. Null for nothing measured. */
function feet(inches: number | null): string | null {
  if (inches === null || inches <= 0) return null;
  return toDecimal(divide(ratio(Math.round(inches * SIXTEENTHS)), ratio(12 * SIXTEENTHS)), 4);
}

const span = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);

/**
 * Length, width and height of a zone as its measured shape has them: the sides of the smallest rectangle around the
 * outline. Only what the shape says; a stair or railing without a walking surface leaves length and width alone.
 */
export function measuresOf(geometry: ZoneGeometry): {
  lengthFt?: string | null;
  widthFt?: string | null;
  heightFt?: string | null;
} {
  const { outline, heightIn } = geometry;
  const height = heightIn === null ? {} : { heightFt: feet(heightIn) };
  if (!outline) return height;
  const [length, width] =
    outline.shape === "polygon"
      ? [span(outline.points.map((p) => p.x)), span(outline.points.map((p) => p.y))]
      : [outline.lengthIn, outline.widthIn];
  return { ...height, lengthFt: feet(length), widthFt: feet(width) };
}

/** What a zone's row takes of a body: the shape as JSON, and the measures that follow from it. */
export function zoneColumns<T extends { geometry?: ZoneGeometry | null | undefined }>(body: T) {
  const { geometry, ...rest } = body;
  if (geometry === undefined) return rest;
  return geometry === null
    ? { ...rest, geometry: Prisma.DbNull }
    : { ...rest, ...measuresOf(geometry), geometry };
}
