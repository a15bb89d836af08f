import { resolveRecipe } from "@ledgerboard/estimating";
import { describe, expect, it } from "vitest";
import { BOOK } from "./price-book/book.fixture.ts";
import { priceOf, recipeBookOf } from "./typed-price.ts";

const terms = { overheadBp: 1000, marginBp: 3000, materialTaxBp: 600 };
const RECIPE = {
  materials: [{ code: "BOARD", inSalt: null, perUnit: "10", wasteBp: 1000 }],
  labor: [{ code: "carpenter", hoursPerUnit: "0.5", setupHours: "0" }],
  disposalUnitCents: "0",
  equipmentUnitCents: "0",
  laborCvBp: 0,
};
const rates = resolveRecipe(RECIPE, recipeBookOf(BOOK), { salt: false });

describe("priceOf", () => {
  it("prices one unit from the book, worked by hand: 11.00 + 0.66 + 19.50, 10% over it, ÷ 0.7", () => {
    const price = priceOf({ quantity: "1", by: "us", rates }, terms);
    expect(price).toMatchObject({ materialCents: 1100, taxCents: 66, laborCents: 1950, overheadCents: 312 });
    expect(price?.costCents).toBe(3428);
    expect(price?.priceCents).toBe(4897);
  });
  it("is null beyond ten million dollars", () => {
    const dear = { ...rates, disposalUnitCents: "5000000" };
    expect(priceOf({ quantity: "100000", by: "us", rates: dear }, terms)).toBeNull();
  });
});
