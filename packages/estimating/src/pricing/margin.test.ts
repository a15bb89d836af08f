import { toDecimal } from "@ledgerboard/contracts/money";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { marginFromMarkup, markupFromMargin, priceAtMargin } from "./margin.ts";
import { marginForPrice } from "./revision.ts";

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

describe("marginForPrice", () => {
  it.each([
    ["twice the cost is half the price", 100_00, 200_00, 5000],
    // The encyclopedia's number above: $100 at 40% sells for $166.67, which is 40.0012%.
    ["a cent over 40% takes the next basis point", 100_00, 166_67, 4001],
    ["a cent under stays", 100_00, 166_66, 4000],
    ["at cost", 100_00, 100_00, 0],
    ["below cost", 100_00, 99_99, 0],
    ["a cent above cost", 100_00, 100_01, 1],
    ["nothing for nothing", 0, 0, 0],
    ["ten times the cost", 100_00, 1000_00, 9000],
    ["more than the largest margin gives", 100_00, 1000_01, 9000],
    ["something for no cost at all", 0, 1, 9000],
  ])("%s", (_name, costCents, priceCents, marginBp) => {
    expect(marginForPrice(costCents, priceCents)).toBe(marginBp);
  });

  it("comes to at least the price, up to ten times the cost, and no basis point earlier", () => {
    const cents = fc.integer({ min: 1, max: 100_000_000 });
    fc.assert(
      fc.property(cents, fc.integer({ min: 0, max: 9_000_000 }), (cost, millionths) => {
        // From the cost to ten times it.
        const price = cost + Math.floor((cost * millionths) / 1_000_000);
        const margin = marginForPrice(cost, price);
        expect(priceAtMargin(cost, margin)).toBeGreaterThanOrEqual(price);
        // Exactly: cost / (1 - m) < price for the basis point below.
        if (margin > 0) expect(BigInt(cost) * 10_000n < BigInt(price) * BigInt(10_001 - margin)).toBe(true);
      }),
    );
  });
});
