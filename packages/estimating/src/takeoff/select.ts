import { add, divide, multiply, type Ratio, ratio, toDecimal } from "@ledgerboard/contracts/money";
import type { Component, Unit } from "@ledgerboard/contracts/vocabulary";
import { EstimateInputError } from "../input-error.ts";
import { existingQuantity } from "./existing.ts";
import { gather } from "./lengths.ts";
import type { BoardRow, Piece, Takeoff } from "./types.ts";

/** The boards for part of a component. `missing` is what of the quantity no piece is known for, as decimal text. */
export interface ChosenPieces {
  pieces: Piece[];
  boardRows: BoardRow[];
  missing: string;
}

/** Parts that may be spliced, so that the last length need not be whole. */
const SPLICED: ReadonlySet<Component> = new Set(["rim_joist", "beam", "ledger", "rail_cap"]);

interface Candidate {
  section: string;
  lengthIn: number;
  row: BoardRow | null;
}

/** Field rows in order from the house, then border boards; of other components the longest first. */
function candidates(takeoff: Pick<Takeoff, "pieces" | "boardRows">, component: Component): Candidate[] {
  const pieces = takeoff.pieces.filter((p) => p.component === component);
  const section = pieces[0]?.section ?? "";
  if (component !== "decking")
    return pieces
      .flatMap((p) =>
        Array.from({ length: p.count }, () => ({ section: p.section, lengthIn: p.lengthIn, row: null })),
      )
      .sort((a, b) => b.lengthIn - a.lengthIn);
  const inField = new Map<number, number>();
  for (const { lengthIn } of takeoff.boardRows) inField.set(lengthIn, (inField.get(lengthIn) ?? 0) + 1);
  const border = pieces.flatMap(({ lengthIn, count }) =>
    Array.from({ length: count - (inField.get(lengthIn) ?? 0) }, () => ({ section, lengthIn, row: null })),
  );
  return [...takeoff.boardRows.map((row) => ({ section, lengthIn: row.lengthIn, row })), ...border];
}

const roundUp = ({ num, den }: Ratio): number => Number((num + den - 1n) / den);

/**
 * The pieces to cut for `quantity` (decimal text) of a component, for the cut plan. The quantity is taken as a share of what
 * exists in that unit, and whole pieces are chosen until they make up that share: deck boards row by row from the
 * house, the rest longest first, since nobody has said which are bad and a long piece also fits a short place. Rims,
 * beams, ledgers and caps may be spliced, so in feet their last piece is cut to what is wanted.
 * Throws EstimateInputError for a quantity that is no number.
 */
export function piecesFor(
  takeoff: Pick<Takeoff, "existing" | "pieces" | "boardRows">,
  component: Component,
  quantity: string,
  unit: Unit,
): ChosenPieces {
  if (!/^\d{1,12}(\.\d{1,6})?$/.test(quantity))
    throw new EstimateInputError([
      { field: "quantity", words: `"${quantity}" is no quantity; enter a number such as 12 or 12.5.` },
    ]);
  const wanted = ratio(quantity);
  const there = existingQuantity(takeoff, component, unit);
  const all = candidates(takeoff, component);
  if (there === null || all.length === 0) return { pieces: [], boardRows: [], missing: toDecimal(wanted) };

  const byCount = unit === "each";
  const size = (c: Candidate) => (byCount ? 1 : Math.round(c.lengthIn * 16));
  const whole = all.reduce((n, c) => n + size(c), 0);
  const needed = roundUp(divide(multiply(wanted, ratio(whole)), ratio(there)));
  const chosen: Candidate[] = [];
  let soFar = 0;
  for (const candidate of all) {
    if (soFar >= needed) break;
    const rest = needed - soFar;
    const splice = !byCount && SPLICED.has(component) && rest < size(candidate);
    chosen.push(splice ? { ...candidate, lengthIn: rest / 16 } : candidate);
    soFar += size(candidate);
  }
  const excess = add(wanted, { num: -ratio(there).num, den: ratio(there).den });
  const sections = [...new Set(chosen.map((c) => c.section))];
  return {
    pieces: sections.flatMap((section) =>
      gather(
        component,
        section,
        chosen.filter((c) => c.section === section).map((c) => c.lengthIn),
      ),
    ),
    boardRows: chosen.flatMap((c) => c.row ?? []),
    missing: excess.num > 0n ? toDecimal(excess) : "0",
  };
}
