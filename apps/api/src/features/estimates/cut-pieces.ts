import { words } from "@ledgerboard/contracts/vocabulary";
import { type MaterialUse, type Piece, piecesFor } from "@ledgerboard/estimating";
import type { MeasuredZone } from "./assessment.ts";
import type { PricedRevision } from "./queries.ts";

export type Line = PricedRevision["lines"][number];
type LumberUse = MaterialUse & { section: string };

/** Work that takes boards cut to length. */
const CUTTING: ReadonlySet<Line["action"]> = new Set(["replace", "add", "repair", "sister", "reinforce"]);

/** A row of decking with where boards may end on it, from its start, in inches. */
interface Row {
  zone: string;
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
      zone && CUTTING.has(line.action)
        ? piecesFor(zone.takeoff, line.component, line.quantity, line.unit)
        : { pieces: [], boardRows: [], missing: line.quantity };
    const use = pieces.length > 0 && missing === "0" ? lumberOf(line, pieces) : null;
    if (!use) {
      unmeasured.push(line);
      continue;
    }
    const known = byMaterial.get(keyOf(use)) ?? { use, lines: [], pieces: [], rows: [] };
    byMaterial.set(keyOf(use), known);
    known.lines.push(line);
    known.rows.push(...boardRows.map((row) => ({ ...row, zone: line.zoneName })));
    for (const { lengthIn, count } of besideRows(pieces, boardRows))
      known.pieces.push({ lengthIn, count, for: label(line) });
  }
  return { toCut: [...byMaterial.values()], unmeasured };
}
