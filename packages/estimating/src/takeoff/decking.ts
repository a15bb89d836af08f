import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import type { InputFinding } from "../input-error.ts";
import { boardsAround, extent, type FrameRing, inFrame, inset, type Lie, stripSpans } from "./clip.ts";
import { type FramingCount, joistLie } from "./framing.ts";
import { splitLength, toSixteenth, upToSixteenth } from "./lengths.ts";
import { LONGEST_PIECE_IN, MOST_BEARINGS, NARROWEST_BOARD_IN, TWO_BY_IN } from "./sizes.ts";
import type { Surface } from "./surface.ts";
import type { BoardRow } from "./types.ts";

type Decking = NonNullable<ZoneGeometry["decking"]>;
type Framing = NonNullable<ZoneGeometry["framing"]>;

/** The boards of a surface. `crossings` is null where the joists are not known. */
export interface DeckingCount {
  rows: number;
  boardRows: BoardRow[];
  borderIn: number[];
  crossings: number | null;
}

/** The rings the field boards fill, and the border boards around them, in inches. */
function layBorder(
  surface: Surface,
  decking: Decking,
  findings: InputFinding[],
): { field: readonly { x: number; y: number }[]; borderIn: number[] } {
  const pitch = decking.boardWidthIn + decking.gapIn;
  const field =
    decking.borderRows === 0 ? surface.outline : inset(surface.outline, decking.borderRows * pitch);
  if (!field) {
    findings.push({
      field: "geometry.decking.borderRows",
      words: "The surface is too narrow somewhere for this border; it is counted without one.",
    });
    return { field: surface.outline, borderIn: [] };
  }
  const borderIn: number[] = [];
  for (let row = 0; row < decking.borderRows; row += 1) {
    const outer = inset(surface.outline, row * pitch);
    const inner = inset(surface.outline, row * pitch + decking.boardWidthIn);
    if (outer && inner)
      for (const lengthIn of boardsAround(outer, inner))
        borderIn.push(...splitLength(upToSixteenth(lengthIn), LONGEST_PIECE_IN));
  }
  return { field, borderIn };
}

/** The way the boards run: across the joists, or at 45 degrees; along the house where the joists are not known. */
function boardLie(decking: Decking, framing: Framing | null): Lie {
  if (decking.pattern === "diagonal") return "diagonal";
  return framing && joistLie(framing) === "along_x" ? "along_y" : "along_x";
}

/** By how much a diagonal row at `b` is shifted along the boards: it runs through x = (a - b) / √2, y = (a + b) / √2. */
const shiftOf = (framing: Framing | null, lie: Lie, b: number): number =>
  lie !== "diagonal" || !framing ? 0 : framing.joistDirection === "out" ? b : -b;

/** Which joists cross a row whose middle is at `b`: their places, the same in every row, in order. Inches. */
function jointsOf(frame: FramingCount, framing: Framing, lie: Lie, b: number, widthIn: number): number[] {
  const shift = shiftOf(framing, lie, b);
  const places = frame.lines.flatMap(({ at, spans }) => {
    const place = lie !== "diagonal" ? at : at * Math.SQRT2;
    const along = lie !== "diagonal" ? b : (place + 2 * shift) / Math.SQRT2;
    return spans.some(([lo, hi]) => lo < along + widthIn / 2 && hi > along - widthIn / 2) ? [place] : [];
  });
  return places.map(toSixteenth).sort((p, q) => p - q);
}

/** A joist this close to the end of a row is under the same bearing as the end. */
function supports(startIn: number, lengthIn: number, joints: readonly number[]): number[] {
  const inner = joints
    .map((place) => place - startIn)
    .filter((s) => s >= TWO_BY_IN && s <= lengthIn - TWO_BY_IN);
  return [0, ...new Set(inner), lengthIn];
}

const isBad = (decking: Decking, findings: InputFinding[]): boolean => {
  const slip = decking.boardWidthIn < NARROWEST_BOARD_IN;
  if (slip)
    findings.push({
      field: "geometry.decking.boardWidthIn",
      words:
        decking.boardWidthIn === 0
          ? "Is zero; boards cannot be counted without a width."
          : `Under ${NARROWEST_BOARD_IN} in is taken for a slip; boards are not counted.`,
    });
  return slip;
};

/**
 * Lays the boards. Row k starts k x (width + gap) from the near edge, and there is a row as long as any surface is left;
 * a strip no wider than the gap is closed by spreading the rows. Lengths run from long point to long point.
 * Crossings: every joist a row passes over and both its ends, which bear on a rim, ledger or header; a border board
 * bears at its ends and at every joist spacing between. Butt joints add one more crossing each, once they are laid.
 */
export function countDecking(
  surface: Surface,
  decking: Decking,
  framing: Framing | null,
  frame: FramingCount | null,
  findings: InputFinding[],
): DeckingCount | null {
  if (isBad(decking, findings)) return null;
  const { field, borderIn } = layBorder(surface, decking, findings);
  const lie = boardLie(decking, framing);
  const rings: FrameRing[] = [field, ...surface.holes].map((ring) => inFrame(ring, lie));
  const [near, far] = extent(inFrame(field, lie));
  const pitch = decking.boardWidthIn + decking.gapIn;
  const most = Math.ceil((far - near) / pitch) * Math.max(1, frame?.lines.length ?? 1);
  if (most > MOST_BEARINGS) {
    findings.push({
      field: "geometry.decking",
      words: `Over ${MOST_BEARINGS} bearings; check the size of the surface. Boards are not counted.`,
    });
    return null;
  }
  const boardRows: BoardRow[] = [];
  let rows = 0;
  for (let k = 0; near + k * pitch < far - 1 / 64; k += 1) {
    const start = near + k * pitch;
    const spans = stripSpans(rings, start, Math.min(start + decking.boardWidthIn, far));
    const middle = start + decking.boardWidthIn / 2;
    const joints = frame && framing ? jointsOf(frame, framing, lie, middle, decking.boardWidthIn) : [];
    const shift = shiftOf(framing, lie, middle);
    const found = spans.flatMap(([lo, hi]) => {
      const [startIn, lengthIn] = [toSixteenth(lo - shift), upToSixteenth(hi - lo)];
      return lengthIn > 0 ? [{ startIn, lengthIn, supportsIn: supports(startIn, lengthIn, joints) }] : [];
    });
    if (found.length > 0) rows += 1;
    boardRows.push(...found);
  }
  const spacing = frame?.spacingIn ?? null;
  const crossings =
    spacing === null
      ? null
      : boardRows.reduce((n, row) => n + row.supportsIn.length, 0) +
        borderIn.reduce((n, lengthIn) => n + Math.ceil(lengthIn / spacing) + 1, 0);
  return { rows, boardRows, borderIn, crossings };
}
