import type { BOARD_PATTERNS, BOARD_THICKNESSES } from "@ledgerboard/contracts/geometry";
import { CODE_VALUES, type CodeCheck, codeCheck, inchWords } from "./code-values.ts";

export type BoardThickness = (typeof BOARD_THICKNESSES)[number];
export type BoardPattern = (typeof BOARD_PATTERNS)[number];

/**
 * Widest joist spacing under deck boards, inches on center; null for composite boards, whose listing decides (IRC
 * R507.2). The row for 5/4 boards is the code's 1-1/4 in nominal row. Source: IRC 2018 R507.7.
 */
export const maxJoistSpacing = (thickness: BoardThickness, pattern: BoardPattern): number | null =>
  thickness === "composite" ? null : CODE_VALUES.max_joist_spacing.value[thickness][pattern];

/** Joist spacing, inches on center, against what the deck boards need; null for composite boards. */
export function joistSpacingCheck(deck: {
  thickness: BoardThickness;
  pattern: BoardPattern;
  joistSpacingIn: number;
}): CodeCheck | null {
  const limit = maxJoistSpacing(deck.thickness, deck.pattern);
  if (limit === null) return null;
  const measured = deck.joistSpacingIn;
  const boards = deck.thickness === "five_quarter" ? "5/4 boards" : "2x boards";
  return codeCheck("decking_joist_spacing", "max_joist_spacing", {
    ok: measured <= limit,
    measured,
    limit,
    words: `Joists stand ${inchWords(measured)} on center; ${boards} laid ${deck.pattern} need ${limit} in or less.`,
  });
}

/**
 * Customary waste on decking, as shares in basis points: by pattern, and more with a picture-frame border.
 * Source: common practice, no source, in shared/deck-code.json.
 */
export function deckingWaste(pattern: BoardPattern, borderRows: number): { lowBp: number; highBp: number } {
  const { straight, diagonal_45, picture_frame_addition } = CODE_VALUES.waste_percent.value;
  const [low = 0, high = 0] = pattern === "straight" ? straight : diagonal_45;
  const [addLow = 0, addHigh = 0] = borderRows > 0 ? picture_frame_addition : [];
  return { lowBp: (low + addLow) * 100, highBp: (high + addHigh) * 100 };
}
