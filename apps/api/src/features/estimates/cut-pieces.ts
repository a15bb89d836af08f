import { words } from "@ledgerboard/contracts/vocabulary";
import { existingQuantity, type MaterialUse, type Piece, piecesFor } from "@ledgerboard/estimating";
import type { MeasuredZone } from "./assessment.ts";
import type { PricedRevision } from "./queries.ts";

export type Line = PricedRevision["lines"][number];
type LumberUse = MaterialUse & { section: string };

/** Work that takes boards as long as what they stand for. */
const WHOLE: ReadonlySet<Line["action"]> = new Set(["replace", "add", "sister"]);
/** Work on a stretch of something: as long as the stretch where it is counted by the foot, and else nobody knows. */
const STRETCH: ReadonlySet<Line["action"]> = new Set(["repair", "reinforce"]);

/**
 * Whether a line's boards follow the measures. Blocks, braces and scabs do not: they are as long as their assembly says.
 * Neither does what may not be there at all.
 */
const followsMeasures = ({ action, component, unit, allowance }: Line): boolean =>
  allowance === null &&
  (STRETCH.has(action) ? unit === "lf" : WHOLE.has(action) && !(action === "sister" && component === "post"));

/** A row of decking with where boards may end on it, from its start, in inches; `offsetIn` as startIn of a BoardRow. */
interface Row {
  zone: string;
  offsetIn: number;
  lengthIn: number;
  supportsIn: number[];
}

/** What of one material has to be cut: into what, and for which lines. */
export interface ToCut {
  use: LumberUse;
  lines: Line[];
  pieces: { lengthIn: number; count: number; for: string }[];
  rows: Row[];
}

const isLumber = (use: MaterialUse): use is LumberUse => use.section !== null && use.packs.length > 0;

/** The lumber of a line that its pieces are cut from: the one of their section, or else the one it takes most of. */
function lumberOf(line: Line, pieces: readonly Piece[]): LumberUse | null {
  const lumber = (line.rates?.materials ?? []).filter(isLumber);
  const fitting = lumber.find((use) => pieces.some((piece) => piece.section === use.section));
  const [most = null] = lumber.toSorted((a, b) => Number(b.perUnit) - Number(a.perUnit));
  return fitting ?? most;
}

/** How far the feet an assembly takes may stand from those that were measured. Own choice, no source. */
const NEAR = 0.25;

/**
 * How many boards lie side by side in each piece, such as the plies of a beam: the feet the assembly takes for a unit by
 * the feet measured in one; null where they do not match, as the pieces then are not what it takes its lumber for.
 * Counted by the piece, a board is a board.
 */
function plies({ component, unit }: Line, use: LumberUse, { takeoff }: MeasuredZone): number | null {
  if (unit === "each") return 1;
  const there = existingQuantity(takeoff, component, unit) ?? "0";
  const { pieces } = piecesFor(takeoff, component, there, unit);
  const feet = pieces.reduce((sum, { lengthIn, count }) => sum + lengthIn * count, 0) / 12;
  const taken = (Number(use.perUnit) * Number(there)) / feet;
  const whole = Math.max(1, Math.round(taken));
  return Math.abs(taken - whole) <= NEAR * whole ? whole : null;
}

const keyOf = ({ code, packs }: LumberUse): string =>
  `${code} ${packs.map((p) => `${p.size}:${p.cents}`).join(" ")}`;

export const sayLine = (line: Line): string =>
  `${line.zoneName}: ${words(line.action)} ${words(line.component)}, ${line.quantity} ${words(line.unit)}`;

/** What a piece is for, as a crew would write on it: "Lower deck: joist", "Lower deck: joist, sister". */
const label = ({ zoneName, component, action }: Line): string =>
  `${zoneName}: ${words(component)}${action === "replace" ? "" : `, ${words(action)}`}`;

/** Pieces that are no part of a row of boards, which is laid out with its joints first. */
function besideRows(pieces: readonly Piece[], rows: readonly { lengthIn: number }[]): Piece[] {
  const inRows = new Map<number, number>();
  for (const { lengthIn } of rows) inRows.set(lengthIn, (inRows.get(lengthIn) ?? 0) + 1);
  return pieces.flatMap((piece) => {
    const count = piece.count - (inRows.get(piece.lengthIn) ?? 0);
    return count > 0 ? [{ ...piece, count }] : [];
  });
}

/**
 * Sorts the base scope into what is cut to measured lengths, by material, and the lines that take lumber without
 * anybody having measured its lengths.
 */
export function sortLumber(
  lines: readonly Line[],
  zones: readonly MeasuredZone[],
): { toCut: ToCut[]; unmeasured: Line[] } {
  const byMaterial = new Map<string, ToCut>();
  const unmeasured: Line[] = [];
  for (const line of lines) {
    if (line.standing !== "base" || !line.rates?.materials.some(isLumber)) continue;
    const zone = zones.find((z) => z.id === line.zoneId);
    const { pieces, boardRows, missing } =
      zone && followsMeasures(line)
        ? piecesFor(zone.takeoff, line.component, line.quantity, line.unit)
        : { pieces: [], boardRows: [], missing: line.quantity };
    const use = pieces.length > 0 && missing === "0" ? lumberOf(line, pieces) : null;
    const side = use && zone && plies(line, use, zone);
    if (!use || !side) {
      unmeasured.push(line);
      continue;
    }
    const known = byMaterial.get(keyOf(use)) ?? { use, lines: [], pieces: [], rows: [] };
    byMaterial.set(keyOf(use), known);
    known.lines.push(line);
    for (let ply = 0; ply < side; ply += 1)
      known.rows.push(
        ...boardRows.map(({ startIn, ...row }) => ({ ...row, offsetIn: startIn, zone: line.zoneName })),
      );
    for (const { lengthIn, count } of besideRows(pieces, boardRows))
      known.pieces.push({ lengthIn, count: count * side, for: label(line) });
  }
  return { toCut: [...byMaterial.values()], unmeasured };
}
