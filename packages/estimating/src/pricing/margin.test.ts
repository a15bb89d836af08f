import { toDecimal } from "@ledgerboard/contracts/money";
import { describe, expect, it } from "vitest";
import { marginFromMarkup, markupFromMargin, priceAtMargin } from "./index.ts";

/** Basis points as a percentage at the precision a page prints. */
const percent = (bp: number, places: number) => toDecimal({ num: BigInt(bp), den: 100n }, places);

/**
 * Source: "Gross margin", section "Converting between gross margin and markup (gross profit)", Wikipedia,
 * https://en.wikipedia.org/wiki/Gross_margin, CC BY-SA 4.0; numbers read from a mirror of the article's text at
 * https://zalansite.site/mediawiki/index.php?action=edit&section=7&title=Gross_margin.
 */
describe("the encyclopedia's worked numbers", () => {
  it.each([
    ["100%", 10000, "50", 0],
    ["66.7%", 6670, "40", 0],
  ])("markup %s", (_text, markupBp, margin, places) => {
    expect(percent(marginFromMarkup(markupBp), places)).toBe(margin);
  });

  it.each([
    ["50%", 5000, "100", 0],
    ["40%", 4000, "66.7", 1],
  ])("gross margin %s", (_text, marginBp, markup, places) => {
    expect(percent(markupFromMargin(marginBp), places)).toBe(markup);
  });

  it("a $100 cost at 40% gross margin sells for $166.67", () => {
    expect(priceAtMargin(100_00, 4000)).toBe(166_67);
  });
});

/**
 * Source: "Retail Margin And Markup Table", Computer Support Group,
 * http://www.csgnetwork.com/marginmarkuptable.html: $500 at 30% margin sells for $714.29; $500 with 20% markup
 * sells for $600, which is a 16.67% margin; 50% markup is a 33.33% margin.
 */
describe("a retail table's worked numbers", () => {
  it("prices $500 at a 30% margin", () => {
    expect(priceAtMargin(500_00, 3000)).toBe(714_29);
  });
  it("20% markup is 16.67% margin, and back to $600", () => {
    expect(percent(marginFromMarkup(2000), 2)).toBe("16.67");
    expect(priceAtMargin(500_00, 1667)).toBe(600_02); // 16.67% is itself rounded: 2 cents of it
  });
  it("50% markup is 33.33% margin", () => {
    expect(percent(marginFromMarkup(5000), 2)).toBe("33.33");
  });
});

describe("limits", () => {
  it("nothing on top is nothing either way", () => {
    expect([marginFromMarkup(0), markupFromMargin(0), priceAtMargin(0, 9000)]).toEqual([0, 0, 0]);
  });
  it("90% margin is 900% markup", () => {
    expect([markupFromMargin(9000), marginFromMarkup(90_000)]).toEqual([90_000, 9000]);
  });
  it.each([
    ["margin below 0%", () => markupFromMargin(-1)],
    ["margin above 90%", () => priceAtMargin(100, 9001)],
    ["margin with a fraction of a basis point", () => priceAtMargin(100, 12.5)],
    ["markup below 0%", () => marginFromMarkup(-1)],
    ["markup above 900%", () => marginFromMarkup(90_001)],
    ["negative cost", () => priceAtMargin(-1, 1000)],
  ])("refuses a %s", (_name, act) => {
    expect(act).toThrow(RangeError);
  });
});
