import { lengthWords } from "@ledgerboard/contracts/measure";
import { type Backing, backing, CODE_VALUES } from "./code-values.ts";

const TABLE = CODE_VALUES.ledger_fastener_spacing_2x_band.value;
const ROWS = {
  half_inch_lag: TABLE.lag_half_in,
  half_inch_bolt: TABLE.bolt_half_in,
  half_inch_bolt_with_washers: TABLE.bolt_with_half_in_stacked_washers,
} as const;
export type LedgerFastener = keyof typeof ROWS;

export interface LedgerSpacing extends Backing {
  /** Widest spacing in inches on center; null where the table does not answer. */
  limitIn: number | null;
  words: string;
}

/**
 * Widest spacing of 1/2 in ledger fasteners into a sawn 2x band joist, at 40 psf live load; the joist span in inches,
 * over 0 to 216, and between two columns the longer one counts. Never throws: outside the table the limit is null and
 * the words say why. Engineered band boards and higher loads need closer spacing; ledgers on veneer are not allowed.
 * Source: table of IRC 2018 R507.9.1.3, as seen in a state's rule text, in shared/deck-code.json.
 */
export function ledgerFastenerSpacing(ledger: {
  joistSpanIn: number;
  fastener: LedgerFastener;
}): LedgerSpacing {
  const back = backing("ledger_fastener_spacing_2x_band");
  const column = TABLE.joist_span_ft_up_to.findIndex((feet) => ledger.joistSpanIn <= feet * 12);
  const limitIn = ledger.joistSpanIn > 0 ? ROWS[ledger.fastener][column] : undefined;
  if (limitIn === undefined) {
    const words = `The table does not answer for a joist span of ${lengthWords(ledger.joistSpanIn)}. Ask a licensed engineer.`;
    return { limitIn: null, words, ...back };
  }
  const words = `Joists of ${lengthWords(ledger.joistSpanIn)} need a ledger fastener every ${limitIn} in or closer.`;
  return { limitIn, words, ...back };
}

/** The fewest fasteners along a ledger, both lengths in inches: one at each end and none wider apart than the spacing. */
export const ledgerFastenerCount = (lengthIn: number, spacingIn: number): number =>
  Math.ceil(Math.max(0, lengthIn - 2 * TABLE_END_IN) / spacingIn) + 1;

/** Least distances of ledger fasteners, in inches, with the smallest row distance by ledger size. */
export interface LedgerEdges extends Backing {
  ledger: { top: number; bottom: number; ends: number; rows: number };
  bandJoist: { top: number; bottom: number; ends: number; rows: number };
}

const EDGES = CODE_VALUES.ledger_edge_distances.value;
const TABLE_END_IN = EDGES.ledger.ends;

/** Edge, end and row distances of ledger fasteners, in inches. Source: IRC R507.2.1, in shared/deck-code.json. */
export const ledgerEdges = (): LedgerEdges => ({
  ledger: EDGES.ledger,
  bandJoist: EDGES.band_joist,
  ...backing("ledger_edge_distances"),
});
