import { lengthWords } from "@ledgerboard/contracts/measure";
import data from "../../../shared/deck-code.json" with { type: "json" };

/** Printed with every check: the adopted code, its local changes and licensed practice have the last word. */
export const CHECK_LOCAL_CODE = "Check local code; local code and licensed practice decide." as const;

export const CODE_VALUES = data.values;
export type CodeValueId = keyof typeof CODE_VALUES;

/** How a reference value is known, as shared/deck-code.json says beside it. */
export interface Backing {
  source: string;
  /** "page-seen", "memory" or "common-practice". */
  basis: string;
  /** "high", "medium" or "low". */
  confidence: string;
  checkLocalCode: typeof CHECK_LOCAL_CODE;
}

/** One measured value held against one published limit. Lengths in inches. */
export interface CodeCheck extends Backing {
  id: string;
  /** Whether the measured value keeps the limit. */
  ok: boolean;
  measured: number;
  limit: number;
  /** What was found and what the limit is, in plain words, whichever way it went. */
  words: string;
}

export function backing(id: CodeValueId): Backing {
  const { source, basis, confidence } = CODE_VALUES[id];
  return { source, basis, confidence, checkLocalCode: CHECK_LOCAL_CODE };
}

export function codeCheck(
  id: string,
  value: CodeValueId,
  result: Pick<CodeCheck, "ok" | "measured" | "limit" | "words">,
): CodeCheck {
  return { id, ...result, ...backing(value) };
}

/** A short length as carpenters say it, in inches alone, to the nearest sixteenth: 36 is "36 in", 7.75 "7 3/4 in". */
export function inchWords(inches: number): string {
  const rounded = Math.round(inches * 16) / 16;
  const whole = Math.floor(rounded);
  const part = rounded - whole;
  return part === 0 ? `${whole} in` : `${whole === 0 ? "" : `${whole} `}${lengthWords(part)}`;
}
