import { toDecimal } from "@ledgerboard/contracts/money";
import type { Component } from "@ledgerboard/contracts/vocabulary";
import type { Piece } from "./types.ts";

/** Up to the next sixteenth: a piece may be cut shorter, never longer. A hair over counts as the sixteenth itself. */
export const upToSixteenth = (inches: number): number => Math.ceil(inches * 16 - 1e-6) / 16;
export const toSixteenth = (inches: number): number => Math.round(inches * 16) / 16;

export const sum = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0);

/** Inches (multiples of 1/16) as feet in exact decimal text, rounded to four places. */
export const feetText = (inches: number): string =>
  toDecimal({ num: BigInt(Math.round(inches * 16)), den: 192n });
export const feetNumber = (inches: number): number => Number(feetText(inches));

/** A length (multiple of 1/16) in as few nearly equal lengths of at most `longest` inches as it takes; they add up. */
export function splitLength(lengthIn: number, longest: number): number[] {
  const [all, most] = [Math.round(lengthIn * 16), Math.round(longest * 16)];
  const parts = Math.max(1, Math.ceil(all / most));
  const base = Math.floor(all / parts);
  return Array.from({ length: parts }, (_, i) => (base + (i < all % parts ? 1 : 0)) / 16);
}

/** Lengths as pieces, the longest first, equal ones counted together; lengths of zero are left out. */
export function gather(component: Component, section: string, lengthsIn: readonly number[]): Piece[] {
  const counts = new Map<number, number>();
  for (const lengthIn of lengthsIn) if (lengthIn > 0) counts.set(lengthIn, (counts.get(lengthIn) ?? 0) + 1);
  return [...counts]
    .sort(([a], [b]) => b - a)
    .map(([lengthIn, count]) => ({ component, section, lengthIn, count }));
}
