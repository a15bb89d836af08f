import type { Assembly, PriceBook } from "@ledgerboard/contracts/price-book";
import { ACTIONS, type Action, type Component } from "@ledgerboard/contracts/vocabulary";
import { EstimateInputError, type LineRates, type RecipeBook, resolveRecipe } from "@ledgerboard/estimating";
import { recipeBookOf } from "../typed-price.ts";
import type { Edit } from "./edit.ts";

type Work = { component: Component; action: Action };

/** The assemblies one may choose for this work. */
export const assembliesFor = (book: PriceBook | undefined, { component, action }: Work): Assembly[] =>
  (book?.assemblies ?? []).filter(
    (assembly) => !assembly.retired && assembly.component === component && assembly.action === action,
  );

export const assemblyOf = (book: PriceBook | undefined, code: string | null): Assembly | undefined =>
  book?.assemblies.find((assembly) => assembly.code === code);

const recipeBooks = new WeakMap<PriceBook, RecipeBook>();

/** The book as recipes are resolved against it, worked out once. */
function recipeBook(book: PriceBook): RecipeBook {
  const known = recipeBooks.get(book) ?? recipeBookOf(book);
  recipeBooks.set(book, known);
  return known;
}

/** The rates a line takes from an assembly; null when the book has no such assembly, or not what it is made of. */
export function ratesOf(book: PriceBook | undefined, code: string | null, salt: boolean): LineRates | null {
  const assembly = assemblyOf(book, code);
  if (!book || !assembly) return null;
  try {
    return resolveRecipe(assembly.recipe, recipeBook(book), { salt });
  } catch (error) {
    if (error instanceof EstimateInputError) return null;
    throw error;
  }
}

/** What can be done to a component at a price, in the trade's order; keep is always among it. */
export function actionsFor(book: PriceBook | undefined, component: Component): Action[] {
  const priced = new Set(
    (book?.assemblies ?? []).flatMap((one) =>
      !one.retired && one.component === component ? one.action : [],
    ),
  );
  return ACTIONS.filter((action) => action === "keep" || priced.has(action));
}

/**
 * What else changes when a line turns to other work: the assembly (of the same unit where there is one), its unit,
 * and the quantity, which says nothing any more where it would be counted in another unit.
 */
export function turnTo(
  book: PriceBook | undefined,
  edit: Pick<Edit, "unit" | "quantity">,
  work: Work,
): Pick<Edit, "component" | "action" | "assemblyCode" | "unit" | "quantity"> {
  const assemblies = work.action === "keep" ? [] : assembliesFor(book, work);
  // Of several the plainest, which costs least: a dearer one is chosen, not stumbled on.
  const byPrice = assemblies.toSorted((a, b) => a.unitPrice.cents - b.unitPrice.cents);
  const assembly = byPrice.find((one) => one.unit === edit.unit) ?? byPrice[0];
  const unit = assembly?.unit ?? edit.unit;
  return {
    ...work,
    assemblyCode: assembly?.code ?? null,
    unit,
    quantity: unit === edit.unit ? edit.quantity : null,
  };
}
