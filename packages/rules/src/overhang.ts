import { lengthWords } from "@ledgerboard/contracts/measure";
import { type Backing, backing, CODE_VALUES, type CodeCheck } from "./code-values.ts";
import { GROUP_ROWS, type Joist, spanColumn } from "./spans.ts";

export interface OverhangLimit extends Backing {
  /** Inches; null where neither the table nor the main span is known. */
  limitIn: number | null;
  decidedBy: "table" | "quarter of the span" | null;
}

/** The rows of the published overhang table that could be read; the others rest on the quarter alone. */
const ROWS: Readonly<Record<string, Readonly<Record<string, number>> | undefined>> = Object.fromEntries(
  Object.entries(CODE_VALUES).flatMap(([id, record]) =>
    id.startsWith("overhang_") ? [[id, record.value as Record<string, number>]] : [],
  ),
);

/** The smaller of the columns on either side: the table rises and falls with spacing, so neither alone is safe. */
function tableLimit({ lumber, size, spacingIn }: Joist): number | null {
  const row = ROWS[`overhang_${GROUP_ROWS[lumber]}_${size}`];
  const wider = spanColumn(spacingIn);
  if (!row || wider === null) return null;
  const closer = [24, 16, 12].find((column) => column <= spacingIn) ?? 12;
  return Math.min(row[wider] ?? 0, row[closer] ?? 0);
}

/**
 * How far joists may run past the last beam, in inches: the published overhang, and never more than a quarter of the
 * main span. `mainSpanIn` is null where it is not known. Rows of the table that could not be read (Southern Pine 2x6
 * and 2x10, redwood and cedar) leave the quarter alone. Source: AWC DCA 6 Table 2, in shared/deck-code.json.
 */
export function overhangLimit(joist: Joist & { mainSpanIn: number | null }): OverhangLimit {
  const table = tableLimit(joist);
  const quarter = joist.mainSpanIn === null ? null : joist.mainSpanIn / 4;
  const back = backing("overhang_SP_2x8");
  if (table === null && quarter === null) return { limitIn: null, decidedBy: null, ...back };
  if (table !== null && (quarter === null || table <= quarter))
    return { limitIn: table, decidedBy: "table", ...back };
  return { limitIn: quarter, decidedBy: "quarter of the span", ...back };
}

/** A joist's overhang, in inches, against its limit; null where there is none to hold it against. */
export function overhangCheck(
  joist: Joist & { mainSpanIn: number | null; overhangIn: number },
): CodeCheck | null {
  const { limitIn, decidedBy, ...back } = overhangLimit(joist);
  if (limitIn === null) return null;
  const why = decidedBy === "table" ? "the published overhang" : "a quarter of the span";
  return {
    id: "joist_overhang",
    ok: joist.overhangIn <= limitIn,
    measured: joist.overhangIn,
    limit: limitIn,
    words: `They run ${lengthWords(joist.overhangIn)} past the beam; ${lengthWords(limitIn)} is the most (${why}).`,
    ...back,
  };
}
