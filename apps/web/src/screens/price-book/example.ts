import { divide, ratio, toCents } from "@ledgerboard/contracts/money";
import type { PriceBook, Recipe } from "@ledgerboard/contracts/price-book";
import type { Unit } from "@ledgerboard/contracts/vocabulary";
import {
  EstimateInputError,
  type InputFinding,
  type Purchase,
  priceRevision,
  resolveRecipe,
  type UnfoldedRow,
  unfoldLine,
} from "@ledgerboard/estimating";
import { recipeBookOf } from "../typed-price.ts";
import { termsOf } from "./book.ts";

/** A quantity an example of a unit is worth looking at. */
export const EXAMPLE_QUANTITY: Record<Unit, string> = {
  sqft: "100",
  lf: "20",
  each: "10",
  hour: "8",
  lot: "1",
};

export interface Example {
  /** Every cent of the price, row by row. */
  rows: UnfoldedRow[];
  priceCents: number;
  /** The price spread over the quantity. */
  eachCents: number;
  hours: string;
  purchases: Purchase[];
  /** What whole packs left over would add to the price if this were the whole job. */
  leftoverCents: number;
}

export type Worked =
  | { example: Example }
  /** Codes the book does not have, by field of the recipe. */
  | { findings: readonly InputFinding[] }
  | { words: string };

/** What a quantity of the recipe costs at the book's prices and terms, as one line of an estimate. */
export function workExample(
  recipe: Recipe,
  book: PriceBook,
  { quantity, salt }: { quantity: string; salt: boolean },
): Worked {
  try {
    const rates = resolveRecipe(recipe, recipeBookOf(book), { salt });
    const line = { quantity, by: "us" as const, rates };
    const terms = { ...termsOf(book), minimumChargeCents: 0, roundUpToCents: 0 };
    const { lines, purchases, adjustments } = priceRevision({ lines: [line] }, terms);
    const priceCents = lines[0]?.price.priceCents ?? 0;
    const example = {
      rows: unfoldLine(line, terms),
      priceCents,
      eachCents: toCents(divide(ratio(priceCents), ratio(quantity))),
      hours: lines[0]?.price.hours ?? "0",
      purchases,
      leftoverCents: adjustments.reduce((sum, { price }) => sum + price.priceCents, 0),
    };
    return { example };
  } catch (error) {
    if (error instanceof EstimateInputError) return { findings: error.findings };
    if (error instanceof RangeError)
      return { words: "This comes to more than $10,000,000: check amounts, hours and costs." };
    throw error;
  }
}

/** The codes of a recipe that the book lacks, near salt or away from it, by field of the recipe. */
export function missingCodes(recipe: Recipe, book: PriceBook): InputFinding[] {
  const rates = recipeBookOf(book);
  const found = [false, true].flatMap((salt) => {
    try {
      resolveRecipe(recipe, rates, { salt });
      return [];
    } catch (error) {
      if (error instanceof EstimateInputError) return [...error.findings];
      throw error;
    }
  });
  return [...new Map(found.map((finding) => [finding.field, finding])).values()];
}
