import { describe, expect, it } from "vitest";
import { BOOK } from "./book.fixture.ts";
import { matches, movedPrices, termsOf } from "./book.ts";

describe("movedPrices", () => {
  it("finds nothing at the book's own terms", () => {
    // By hand: $1.10 + $0.07 tax + $1.95 labor = $3.12; 10% is $0.31; $3.43 / 0.7 = $4.90.
    const [assembly] = BOOK.assemblies;
    const book = {
      ...BOOK,
      assemblies: [{ ...assembly, unitPrice: { cents: 490, currency: "USD" as const } }],
    };
    expect(movedPrices(book as typeof BOOK, termsOf(BOOK))).toEqual([]);
  });
  it("shows the price at other terms, and null where a code is gone", () => {
    const half = { ...termsOf(BOOK), marginBp: 5000 };
    expect(movedPrices(BOOK, half)).toMatchObject([{ before: 488, after: 686 }]);
    expect(movedPrices({ ...BOOK, materials: [] }, half)).toMatchObject([{ before: 488, after: null }]);
  });
  it("passes over retired assemblies", () => {
    const assemblies = BOOK.assemblies.map((one) => ({ ...one, retired: true }));
    expect(movedPrices({ ...BOOK, assemblies }, { ...termsOf(BOOK), marginBp: 5000 })).toEqual([]);
  });
});

describe("matches", () => {
  it("wants every word somewhere, whatever the case or order", () => {
    expect(matches("", "DECK-BOARD")).toBe(true);
    expect(matches("board deck", "DECK-BOARD")).toBe(true);
    expect(matches("treated 2X8", "JOIST", "Joist, treated", "2x8")).toBe(true);
    expect(matches("joist cedar", "JOIST", "Joist, treated")).toBe(false);
  });
});
