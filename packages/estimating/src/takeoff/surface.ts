import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { lengthWords } from "@ledgerboard/contracts/measure";
import { type Ratio, ratio, toDecimal } from "@ledgerboard/contracts/money";
import type { InputFinding } from "../input-error.ts";
import {
  crossingEdges,
  dropRepeats,
  isFlat,
  isInside,
  perimeterRatio,
  type Ring,
  ringsMeet,
  twiceArea,
} from "./polygon.ts";
import type { TakeoffZone } from "./types.ts";

/** The walking surface: rings in whole sixteenths of an inch, counter-clockwise; `words` says what it is. */
export interface Surface {
  outline: Ring;
  holes: Ring[];
  words: string;
}

export interface SurfaceTakeoff {
  surface: Surface | null;
  /** Exact net area in sq ft. */
  area: Ratio | null;
  areaSqft: string | null;
  grossAreaSqft: string | null;
  perimeterFt: string | null;
}

/** Square sixteenths, twice over, in a square foot. */
const TWICE_SQFT = 2n * 192n * 192n;
const squareFeet = (twice: number): Ratio => ({ num: BigInt(twice), den: TWICE_SQFT });

const sixteenths = (inches: number) => Math.round(inches * 16);
const rectangle = (x: number, y: number) => [
  { x: 0, y: 0 },
  { x, y: 0 },
  { x, y },
  { x: 0, y },
];

/** A ring that can be counted, counter-clockwise, or null with the reasons added to `findings`. */
function checkRing(points: Ring, field: string, findings: InputFinding[]): Ring | null {
  const { ring, repeats } = dropRepeats(points);
  for (const i of repeats)
    findings.push({
      field: `${field}.points[${i}]`,
      words: "This corner repeats the one before it; it is left out.",
    });
  if (ring.length < 3 || isFlat(ring)) {
    findings.push({
      field: `${field}.points`,
      words: "The corners lie on one line and enclose nothing; the area is zero.",
    });
    return null;
  }
  const crossing = crossingEdges(ring);
  if (crossing) {
    const corners = crossing.flatMap((k) => ring.slice(k, k + 1)).map((p) => points.indexOf(p));
    const [i, j] = corners.map((k) => `${k + 1}`);
    findings.push({
      field: `${field}.points[${corners[1]}]`,
      words: `Side ${i} and side ${j} cross or touch; enter the corners in order around the edge.`,
    });
    return null;
  }
  return twiceArea(ring) < 0 ? [...ring].reverse() : ring;
}

type Outline = NonNullable<ZoneGeometry["outline"]>;

function outlineRing(outline: Outline, findings: InputFinding[]): { ring: Ring; words: string } | null {
  const field = "geometry.outline";
  if (outline.shape === "polygon") {
    const points = outline.points.map(({ x, y }) => ({ x: sixteenths(x), y: sixteenths(y) }));
    const ring = checkRing(points, field, findings);
    return ring && { ring, words: `polygon of ${ring.length} corners` };
  }
  const [x, y] = [sixteenths(outline.lengthIn), sixteenths(outline.widthIn)];
  for (const [side, size] of [
    ["lengthIn", x],
    ["widthIn", y],
  ] as const)
    if (size === 0)
      findings.push({ field: `${field}.${side}`, words: "Is zero; a surface needs length and width." });
  if (x === 0 || y === 0) return null;
  const words = `${lengthWords(outline.lengthIn)} x ${lengthWords(outline.widthIn)}`;
  if (outline.shape === "rectangle") return { ring: rectangle(x, y), words };

  const [nx, ny] = [sixteenths(outline.notchLengthIn), sixteenths(outline.notchWidthIn)];
  const tooBig = [
    ["notchLengthIn", nx >= x],
    ["notchWidthIn", ny >= y],
  ] as const;
  for (const [side, big] of tooBig)
    if (big)
      findings.push({
        field: `${field}.${side}`,
        words:
          "The missing corner is as big as the whole rectangle or bigger; nothing of the kind can be counted.",
      });
  if (nx >= x || ny >= y) return null;
  if (nx === 0 || ny === 0) {
    findings.push({
      field: `${field}.${nx === 0 ? "notchLengthIn" : "notchWidthIn"}`,
      words: "The missing corner has no size; counted as a plain rectangle.",
    });
    return { ring: rectangle(x, y), words };
  }
  return {
    ring: [
      { x: 0, y: 0 },
      { x, y: 0 },
      { x, y: y - ny },
      { x: x - nx, y: y - ny },
      { x: x - nx, y },
      { x: 0, y },
    ],
    words: `${words} less a corner of ${lengthWords(outline.notchLengthIn)} x ${lengthWords(outline.notchWidthIn)}`,
  };
}

function checkHoles(geometry: ZoneGeometry, outline: Ring, findings: InputFinding[]): Ring[] {
  const holes: Ring[] = [];
  for (const [i, cutout] of geometry.cutouts.entries()) {
    const field = `geometry.cutouts[${i}]`;
    const points = cutout.points.map(({ x, y }) => ({ x: sixteenths(x), y: sixteenths(y) }));
    const hole = checkRing(points, field, findings);
    const [corner] = hole ?? [];
    if (!hole || !corner) continue;
    if (ringsMeet(hole, outline) || !isInside(outline, corner)) {
      findings.push({
        field,
        words:
          "Not wholly inside the surface, so it is not taken off; draw a cut at the edge as part of the outline.",
      });
      continue;
    }
    const other = holes.some((h) => {
      const [first] = h;
      return ringsMeet(h, hole) || isInside(h, corner) || (first !== undefined && isInside(hole, first));
    });
    if (other)
      findings.push({ field, words: "Overlaps or touches another cut-out, so it is not taken off twice." });
    else holes.push(hole);
  }
  return holes;
}

const FEET = /^\d{1,7}(\.\d{1,4})?$/;

/** Inches of a size in feet as decimal text, to the sixteenth; null when absent or no size. */
export function feetToInches(value: string | null, field: string, findings: InputFinding[]): number | null {
  if (value === null) return null;
  if (!FEET.test(value)) {
    findings.push({ field, words: "Not a number of feet such as 12 or 12.5." });
    return null;
  }
  const { num, den } = ratio(value);
  return Math.round((Number(num) * 192) / Number(den)) / 16;
}

function roughRectangle(
  lengthIn: number | null,
  widthIn: number | null,
  findings: InputFinding[],
): Surface | null {
  if (lengthIn === null || widthIn === null) return null;
  for (const [field, size] of [
    ["lengthFt", lengthIn],
    ["widthFt", widthIn],
  ] as const)
    if (size === 0) findings.push({ field, words: "Is zero; a surface needs length and width." });
    else if (size > 6000)
      findings.push({ field, words: "Over 500 ft; check it. Nothing is counted from it." });
  if (lengthIn === 0 || widthIn === 0 || lengthIn > 6000 || widthIn > 6000) return null;
  return {
    outline: rectangle(sixteenths(lengthIn), sixteenths(widthIn)),
    holes: [],
    words: `${lengthWords(lengthIn)} x ${lengthWords(widthIn)}`,
  };
}

/** Sizes written on the zone that disagree with its drawing by more than an inch; the drawing is used. */
function checkSizes(sizes: [number | null, number | null], outline: Ring, findings: InputFinding[]): void {
  const [length, width] = sizes;
  if (length === null || width === null) return;
  const [xs, ys] = [outline.map((p) => p.x / 16), outline.map((p) => p.y / 16)];
  const [x, y] = [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)];
  const near = (a: number, b: number) => Math.abs(a - b) <= 1;
  if ((near(length, x) && near(width, y)) || (near(length, y) && near(width, x))) return;
  findings.push({
    field: "lengthFt",
    words: `The zone says ${lengthWords(length)} x ${lengthWords(width)}, its drawing ${lengthWords(x)} x ${lengthWords(y)}; the drawing is counted.`,
  });
}

/** Area and outline of the zone's surface; what cannot be counted is null, with the reason in `findings`. */
export function measureSurface(zone: TakeoffZone, findings: InputFinding[]): SurfaceTakeoff {
  const length = feetToInches(zone.lengthFt, "lengthFt", findings);
  const width = feetToInches(zone.widthFt, "widthFt", findings);
  const { geometry } = zone;
  let surface: Surface | null = null;
  if (geometry === null) surface = roughRectangle(length, width, findings);
  else if (geometry.outline === null) {
    for (const part of ["framing", "decking"] as const)
      if (geometry[part] !== null)
        findings.push({
          field: `geometry.${part}`,
          words: "There is no outline to count it over; draw the surface.",
        });
    if (geometry.cutouts.length > 0)
      findings.push({ field: "geometry.cutouts", words: "There is no outline to cut them out of." });
  } else {
    const outline = outlineRing(geometry.outline, findings);
    if (outline) {
      surface = {
        outline: outline.ring,
        holes: checkHoles(geometry, outline.ring, findings),
        words: outline.words,
      };
      checkSizes([length, width], outline.ring, findings);
    }
  }
  if (!surface) return { surface, area: null, areaSqft: null, grossAreaSqft: null, perimeterFt: null };
  const gross = twiceArea(surface.outline);
  const net = surface.holes.reduce((rest, hole) => rest - twiceArea(hole), gross);
  return {
    surface,
    area: squareFeet(net),
    areaSqft: toDecimal(squareFeet(net)),
    grossAreaSqft: toDecimal(squareFeet(gross)),
    perimeterFt: toDecimal(perimeterRatio(surface.outline)),
  };
}
