import type { JoistSize, LumberGroup } from "@ledgerboard/contracts/geometry";
import { lengthWords } from "@ledgerboard/contracts/measure";
import { type Backing, backing, CODE_VALUES, type CodeCheck, type CodeValueId } from "./code-values.ts";
import { DEAD_LOAD_PSF, recomputeSpan, TABLE_LOAD_PSF } from "./span-mechanics.ts";

/** Spacings of the published table, in inches on center. */
const COLUMNS = [12, 16, 24] as const;
export type SpanColumn = (typeof COLUMNS)[number];

export const GROUP_ROWS = {
  southern_pine: "SP",
  mixed_softwoods: "DFL_HF_SPF",
  redwood_cedar: "redwood_cedar",
} as const satisfies Record<LumberGroup, string>;

export const LUMBER_WORDS: Record<LumberGroup, string> = {
  southern_pine: "Southern Pine",
  mixed_softwoods: "Douglas fir-larch, hem-fir or spruce-pine-fir",
  redwood_cedar: "Redwood or cedar",
};

export interface Joist {
  lumber: LumberGroup;
  size: JoistSize;
  /** Inches on center. */
  spacingIn: number;
}

export interface JoistSpan extends Backing {
  /** The longest span to work with, in inches; null where the published table does not answer. */
  limitIn: number | null;
  /** The table's own spacing that was used: the next larger where the spacing lies between two. */
  columnIn: SpanColumn | null;
  /** From reference design values at the table's spacing and the load asked for, whole inches; null where none are kept. */
  recomputedIn: number | null;
  /** What decides the recomputed span. */
  governedBy: "bending" | "deflection" | "longest in the table" | null;
  words: string;
}

/** The column that covers a spacing: its own or the next larger; null above 24 in and for no spacing. */
export function spanColumn(spacingIn: number): SpanColumn | null {
  if (!(spacingIn > 0)) return null;
  return COLUMNS.find((column) => column >= spacingIn) ?? null;
}

/**
 * How far a deck joist may span between supports, not counting an overhang.
 *
 * The answer is the published table: No.2 lumber, wet service, 40 psf live and 10 psf dead load, L/360. Beside it
 * stands the span recomputed from reference design values, where they are kept. `liveLoadPsf` is 40 when left out; the
 * table does not answer for another load, and then only a recomputed span is given, as something to ask a licensed
 * engineer about. Spacings in inches on center, over 0 to 24; between two columns the wider one counts. Never throws: a
 * question outside the table has a null limit and says why. Source: AWC DCA 6 Table 2, in shared/deck-code.json.
 */
export function joistSpan(joist: Joist & { liveLoadPsf?: number }): JoistSpan {
  const { lumber, size, spacingIn, liveLoadPsf = TABLE_LOAD_PSF } = joist;
  const row: CodeValueId = `span_${GROUP_ROWS[lumber]}_${size}`;
  const columnIn = spanColumn(spacingIn);
  const what = `${LUMBER_WORDS[lumber]} ${size} joists`;
  const unanswered = { limitIn: null, columnIn, recomputedIn: null, governedBy: null, ...backing(row) };
  if (columnIn === null) {
    const why = spacingIn > 0 ? `${lengthWords(spacingIn)} is wider than any in it` : "no spacing is given";
    return { ...unanswered, words: `The table does not answer: ${why}. Ask a licensed engineer.` };
  }
  if (!(liveLoadPsf >= TABLE_LOAD_PSF)) {
    const words = `No deck table goes below ${TABLE_LOAD_PSF} psf live load; use that at least.`;
    return { ...unanswered, words };
  }
  const recomputed = recomputeSpan({ lumber, size, spacingIn: columnIn, liveLoadPsf });
  const both = { recomputedIn: recomputed?.wholeIn ?? null, governedBy: recomputed?.governedBy ?? null };
  if (liveLoadPsf !== TABLE_LOAD_PSF) {
    const about = recomputed
      ? ` Recomputed for ${liveLoadPsf} psf it is about ${lengthWords(recomputed.wholeIn)}.`
      : "";
    const words = `The table is for ${TABLE_LOAD_PSF} psf live load.${about} Ask a licensed engineer.`;
    return { ...unanswered, ...both, words };
  }
  const limitIn = CODE_VALUES[row].value[columnIn];
  return {
    ...unanswered,
    ...both,
    limitIn,
    words:
      `${what} at ${columnIn} in on center span ${lengthWords(limitIn)} at most ` +
      `(${TABLE_LOAD_PSF} + ${DEAD_LOAD_PSF} psf).`,
  };
}

/** A joist's actual span, in inches, against the table; null where the table does not answer (see joistSpan). */
export function joistSpanCheck(joist: Joist & { spanIn: number; liveLoadPsf?: number }): CodeCheck | null {
  const { limitIn, columnIn: _, recomputedIn: __, governedBy: ___, words, ...back } = joistSpan(joist);
  if (limitIn === null) return null;
  return {
    id: "joist_span",
    ok: joist.spanIn <= limitIn,
    measured: joist.spanIn,
    limit: limitIn,
    ...back,
    words: `They span ${lengthWords(joist.spanIn)}. ${words}`,
  };
}
