import type { Assembly, PriceBook } from "@ledgerboard/contracts/price-book";
import { describe, expect, it } from "vitest";
import { actionsFor, assembliesFor, ratesOf, turnTo } from "./book.ts";

const usd = (cents: number) => ({ cents, currency: "USD" as const });
const recipe: Assembly["recipe"] = {
  materials: [{ code: "BOARD", inSalt: "BOARD-SALT", perUnit: "1", wasteBp: 1000 }],
  labor: [{ code: "carpenter", hoursPerUnit: "0.09", setupHours: "0" }],
  disposalUnitCents: "0",
  equipmentUnitCents: "0",
  laborCvBp: 2500,
};
const assembly = (change: Partial<Assembly>): Assembly => ({
  id: change.code ?? "",
  code: "",
  component: "decking",
  action: "replace",
  description: "",
  unit: "sqft",
  recipe,
  note: "",
  unitPrice: usd(1),
  retired: false,
  version: 1,
  ...change,
});
const material = (code: string, cents: number): PriceBook["materials"][number] => ({
  id: code,
  code,
  name: code,
  unit: "sqft",
  section: null,
  packs: [{ size: "1", price: usd(cents) }],
  wholePacks: false,
  retired: false,
  version: 1,
});
const book: PriceBook = {
  id: "book",
  name: "book",
  effectiveFrom: "2026-01-05",
  standing: "in_effect",
  overheadBp: 1500,
  marginBp: 3000,
  materialTaxBp: 600,
  minimumCharge: usd(0),
  roundUpTo: usd(0),
  laborCorrelationBp: 3000,
  version: 1,
  laborRates: [
    { id: "r", code: "carpenter", name: "Carpenter", hourly: usd(3400), burdenBp: 3200, version: 1 },
  ],
  materials: [material("BOARD", 420), material("BOARD-SALT", 610)],
  assemblies: [
    assembly({ code: "DECK-BOARD", unit: "lf", action: "repair" }),
    assembly({ code: "DECK-REPLACE" }),
    assembly({ code: "DECK-OLD", retired: true, action: "clean" }),
    assembly({
      code: "DECK-LOST",
      action: "finish",
      recipe: { ...recipe, labor: [{ code: "gone", hoursPerUnit: "1", setupHours: "0" }] },
    }),
    assembly({ code: "JOIST-SISTER", component: "joist", action: "sister", unit: "each" }),
  ],
};

describe("the price book of an estimate", () => {
  it("offers what can be chosen for a component, keep always, what is retired never", () => {
    expect(actionsFor(book, "decking")).toEqual(["keep", "finish", "repair", "replace"]);
    expect(actionsFor(undefined, "decking")).toEqual(["keep"]);
    expect(assembliesFor(book, { component: "decking", action: "clean" })).toEqual([]);
  });
  it("clears a quantity that would be counted in another unit", () => {
    const edit = { unit: "sqft" as const, quantity: "214" };
    expect(turnTo(book, edit, { component: "decking", action: "replace" })).toMatchObject({
      assemblyCode: "DECK-REPLACE",
      quantity: "214",
    });
    expect(turnTo(book, edit, { component: "decking", action: "repair" })).toMatchObject({
      assemblyCode: "DECK-BOARD",
      unit: "lf",
      quantity: null,
    });
    expect(turnTo(book, edit, { component: "decking", action: "keep" })).toMatchObject({
      assemblyCode: null,
      unit: "sqft",
      quantity: "214",
    });
  });
  it("takes what holds near salt water, and knows no rates where something is missing", () => {
    expect(ratesOf(book, "DECK-REPLACE", false)?.materials[0]?.code).toBe("BOARD");
    expect(ratesOf(book, "DECK-REPLACE", true)?.materials[0]?.code).toBe("BOARD-SALT");
    expect(ratesOf(book, "DECK-REPLACE", true)?.labor[0]).toMatchObject({
      hourlyCents: 3400,
      burdenBp: 3200,
    });
    expect(ratesOf(book, "DECK-LOST", false)).toBeNull();
    expect(ratesOf(book, null, false)).toBeNull();
    expect(ratesOf(undefined, "DECK-REPLACE", false)).toBeNull();
  });
});
