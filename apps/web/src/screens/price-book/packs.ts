import { divide, type Ratio, ratio } from "@ledgerboard/contracts/money";
import type { Material } from "@ledgerboard/contracts/price-book";
import type { MaterialUnit } from "@ledgerboard/contracts/vocabulary";
import { quantity } from "../../ui/format.ts";

/** A pack as it is being typed. `key` tells rows apart while they move. */
export interface PackDraft {
  key: string;
  size: string | null;
  cents: number | null;
}

type Packs = Material["packs"];

/** An amount of a material as people say it: "8 ft", "75 pieces", "5 gallons". */
export function amountWords(amount: string, unit: MaterialUnit): string {
  const one = Number(amount) === 1;
  const word = { each: one ? "piece" : "pieces", gal: one ? "gallon" : "gallons" }[unit as string];
  return word ? `${quantity(amount)} ${word}` : quantity(amount, unit);
}

export const packDrafts = (packs: Packs): PackDraft[] =>
  packs.map(({ size, price }, i) => ({ key: `p${i}`, size, cents: price.cents }));

const blank = ({ size, cents }: PackDraft) => size === null && cents === null;

/**
 * The packs that were typed, empty rows left out, and what is wrong with them by row and field ("1.size"), rows
 * counted as they stand on screen. `at` is the row on screen of each pack.
 */
export function readPacks(drafts: readonly PackDraft[]): {
  packs: Packs;
  at: number[];
  faults: Record<string, string>;
} {
  const packs: Packs = [];
  const at: number[] = [];
  const faults: Record<string, string> = {};
  const sizes = new Set<number>();
  for (const [row, draft] of drafts.entries()) {
    if (blank(draft)) continue;
    const { size, cents } = draft;
    if (size === null || Number(size) <= 0) faults[`${row}.size`] = "How much is in it: more than 0.";
    else if (sizes.has(Number(size))) faults[`${row}.size`] = "Another pack holds the same.";
    if (cents === null) faults[`${row}.price`] = "What the pack costs, 0 for nothing.";
    if (size !== null) sizes.add(Number(size));
    if (size === null || cents === null) continue;
    packs.push({ size, price: { cents, currency: "USD" } });
    at.push(row);
  }
  return { packs, at, faults };
}

const each = ({ size, price }: Packs[number]): Ratio => divide(ratio(price.cents), ratio(size));

/** The pack with the lowest price per unit, by which estimates price the material; undefined without packs. */
export function bestPack(packs: Packs): Packs[number] | undefined {
  let best: Packs[number] | undefined;
  for (const pack of packs) {
    if (!best) best = pack;
    const [a, b] = [each(pack), each(best)];
    if (a.num * b.den < b.num * a.den) best = pack;
  }
  return best;
}
