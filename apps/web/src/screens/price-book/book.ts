import type { Assembly, PriceBook } from "@ledgerboard/contracts/price-book";
import type { Unit } from "@ledgerboard/contracts/vocabulary";
import { type PricingTerms, type RecipeBook, resolveRecipe } from "@ledgerboard/estimating";
import { words } from "../../ui/format.ts";
import { priceOf, recipeBookOf } from "../typed-price.ts";

export const STANDING: Record<PriceBook["standing"], string> = {
  in_effect: "in effect",
  to_come: "to come",
  past: "past",
};

export const termsOf = (book: PriceBook): PricingTerms => ({
  overheadBp: book.overheadBp,
  marginBp: book.marginBp,
  materialTaxBp: book.materialTaxBp,
  minimumChargeCents: book.minimumCharge.cents,
  roundUpToCents: book.roundUpTo.cents,
});

/** What one of a unit is called: "piece", "sq ft". */
export const unitWord = (unit: Unit | "gal" | "lb"): string => (unit === "each" ? "piece" : words(unit));

/** "a piece", "a sq ft", "an hour". */
export const aUnit = (unit: Unit | "gal" | "lb"): string =>
  `${unit === "hour" ? "an" : "a"} ${unitWord(unit)}`;

/** Cents of one unit of an assembly, away from salt; null where it is beyond reason or the book lacks a code of it. */
function unitPrice({ recipe }: Assembly, book: RecipeBook, terms: PricingTerms): number | null {
  try {
    const rates = resolveRecipe(recipe, book, { salt: false });
    return priceOf({ quantity: "1", by: "us", rates }, terms)?.priceCents ?? null;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** Assemblies in use whose unit price other terms would change, the dearest first; null is beyond reason. */
export function movedPrices(
  book: PriceBook,
  terms: PricingTerms,
): { assembly: Assembly; before: number; after: number | null }[] {
  const rates = recipeBookOf(book);
  return book.assemblies
    .filter(({ retired }) => !retired)
    .map((assembly) => ({
      assembly,
      before: assembly.unitPrice.cents,
      after: unitPrice(assembly, rates, terms),
    }))
    .filter(({ before, after }) => before !== after)
    .toSorted((a, b) => b.before - a.before);
}

/** Every word typed occurs somewhere in these texts, whatever the case. */
export function matches(typed: string, ...texts: string[]): boolean {
  const all = texts.join(" ").toLowerCase();
  return typed
    .toLowerCase()
    .split(/\s+/)
    .every((word) => all.includes(word));
}
