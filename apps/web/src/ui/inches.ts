import { formatInches, parseInches } from "@ledgerboard/contracts/measure";

/** What a number without a mark stands for in a field: feet along a house, inches across a board. */
export type BareUnit = "ft" | "in";

/**
 * The inches a person typed, to the nearest sixteenth; null when it is no length. A bare number is in `unit`, everything
 * else as `parseInches` reads it. A minus is taken only where `signed` says so.
 */
export function readInches(text: string, unit: BareUnit, signed = false): number | null {
  const plain = text.trim();
  const minus = /^[-−]/.test(plain);
  if (minus && !signed) return null;
  const size = minus ? plain.slice(1).trim() : plain;
  if (size === "") return null;
  const marked = /['"‘’“”′″a-z]/i.test(size);
  const inches = parseInches(unit === "in" && !marked ? `${size}"` : size);
  return inches === null || !minus ? inches : 0 - inches;
}

/** Longer than this, feet are easier to read even where inches are asked for. */
const LONG_IN = 120;

/** A length as a field of that unit shows it: 16 is `1' 4"` in feet and `16"` in inches. */
export function writeInches(inches: number, unit: BareUnit): string {
  if (unit === "ft" || Math.abs(inches) >= LONG_IN) return formatInches(inches);
  const whole = Math.floor(Math.round(Math.abs(inches) * 16) / 16);
  const part = formatInches(Math.abs(inches) - whole);
  const text = part === `0"` ? `${whole}"` : whole === 0 ? part : `${whole} ${part}`;
  return inches < 0 ? `−${text}` : text;
}
