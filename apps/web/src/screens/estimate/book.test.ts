import type { PriceBook, PriceBookItem } from "@ledgerboard/contracts/price-book";
import { describe, expect, it } from "vitest";
import { actionsFor, itemsFor, ratesOf, turnTo } from "./book.ts";

const usd = (cents: number) => ({ cents, currency: "USD" as const });
const item = (change: Partial<PriceBookItem>): PriceBookItem => ({
  id: change.code ?? "",
  code: "",
  component: "decking",
  action: "replace",
  description: "",
  unit: "sqft",
  materialUnitCents: "420",
  wasteBp: 1000,
  hoursPerUnit: "0.09",
  laborRateCode: "carpenter",
  unitPrice: usd(1),
  retired: false,
  version: 1,
  ...change,
});
const book: PriceBook = {
  id: "book",
  name: "book",
  effectiveFrom: "2026-01-05",
  overheadBp: 1500,
  marginBp: 3000,
  materialTaxBp: 600,
  version: 1,
  laborRates: [
    { id: "r", code: "carpenter", name: "Carpenter", hourly: usd(3400), burdenBp: 3200, version: 1 },
  ],
  items: [
    item({ code: "DECK-BOARD", unit: "lf", action: "repair" }),
    item({ code: "DECK-REPLACE" }),
    item({ code: "DECK-OLD", retired: true, action: "clean" }),
    item({ code: "DECK-LOST", action: "finish", laborRateCode: "gone" }),
    item({ code: "JOIST-SISTER", component: "joist", action: "sister", unit: "each" }),
  ],
};

describe("the price book of an estimate", () => {
  it("offers what can be chosen for a component, keep always, what is retired never", () => {
    expect(actionsFor(book, "decking")).toEqual(["keep", "finish", "repair", "replace"]);
    expect(actionsFor(undefined, "decking")).toEqual(["keep"]);
    expect(itemsFor(book, { component: "decking", action: "clean" })).toEqual([]);
  });
  it("clears a quantity that would be counted in another unit", () => {
    const edit = { unit: "sqft" as const, quantity: "214" };
    expect(turnTo(book, edit, { component: "decking", action: "replace" })).toMatchObject({
      itemCode: "DECK-REPLACE",
      quantity: "214",
    });
    expect(turnTo(book, edit, { component: "decking", action: "repair" })).toMatchObject({
      itemCode: "DECK-BOARD",
      unit: "lf",
      quantity: null,
    });
    expect(turnTo(book, edit, { component: "decking", action: "keep" })).toMatchObject({
      itemCode: null,
      unit: "sqft",
      quantity: "214",
    });
  });
  it("knows no rates for an item whose labor rate is missing", () => {
    expect(ratesOf(book, "DECK-REPLACE")).toMatchObject({ laborHourlyCents: 3400, laborBurdenBp: 3200 });
    expect(ratesOf(book, "DECK-LOST")).toBeNull();
  });
});
