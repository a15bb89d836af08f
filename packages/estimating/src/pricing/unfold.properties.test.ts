import type { Decimal } from "decimal.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { charges, Exact, line, sum, terms, total } from "./arbitraries.fixture.ts";
import { priceRevision } from "./revision.ts";
import { type UnfoldedRow, unfoldAdjustment, unfoldCharge, unfoldLine } from "./unfold.ts";

const value = (text: string) =>
  text.trim() === "no price" ? new Exact(0) : new Exact(text.trim().replace(/[$,]|\sh$/g, ""));

/** A product with at most one divisor at its end: "120 × 1.1 × $28.55 ÷ 10", "(2 + 6 + 13) ÷ 3". */
function product(text: string): Decimal {
  const [over = "", ...under] = text.split("÷");
  const above = over.split("×").map((factor) => {
    const inner = /^\s*\((.*)\)\s*$/.exec(factor)?.[1];
    return inner === undefined ? value(factor) : total(inner.split("+").map(value));
  });
  const whole = above.reduce((a, b) => a.times(b), new Exact(1));
  return under.reduce((a, divisor) => a.div(value(divisor)), whole);
}

/**
 * Redoes an unfolded formula with decimal.js: "a × b", "a × b ÷ c", "a ÷ b − c", with hours first where they are
 * shown. An expected quantity adds no money; it must be what its own text comes to.
 */
function redo({ formula }: UnfoldedRow): Decimal {
  if (formula === "") return new Exact(0);
  const [before = "", after] = formula.split(";");
  const [steps = "", shown] = before.split("=");
  if (shown !== undefined) {
    const terms = steps.includes("(") ? [steps] : steps.split("+");
    expect(total(terms.map(product)).toDecimalPlaces(4).toFixed()).toBe(value(shown).toFixed());
    if (after === undefined) return new Exact(0);
    expect(after.trim().startsWith(shown.trim())).toBe(true);
    return product(after).toDecimalPlaces(2);
  }
  const [first = "", ...less] = formula.split("−");
  return less.map(value).reduce((a, b) => a.minus(b), product(first).toDecimalPlaces(2));
}

function check(rows: UnfoldedRow[], priceCents: number) {
  expect(sum(rows.map((r) => r.cents))).toBe(priceCents);
  for (const row of rows) expect(redo(row).times(100).toNumber(), row.formula).toBe(row.cents);
}

describe("every row can be redone from its own text, and the rows sum to the price", () => {
  it("of any line, charge and adjustment", () => {
    const lines = fc.array(line("x"), { maxLength: 5 });
    fc.assert(
      fc.property(lines, charges, terms, (lines, charges, terms) => {
        const priced = priceRevision({ lines, charges }, terms);
        const base = [
          ...priced.lines.map((l) => ({ ...l, rows: unfoldLine(l, terms) })),
          ...priced.charges.map((c) => ({ ...c, rows: unfoldCharge(c, terms) })),
          ...priced.adjustments.map((a) => ({ ...a, rows: unfoldAdjustment(a, terms) })),
        ];
        for (const { rows, price } of base) check(rows, price.priceCents);
        const inBase = base.filter((one) => !("standing" in one) || one.standing === "base");
        expect(sum(inBase.flatMap(({ rows }) => rows.map((r) => r.cents)))).toBe(priced.totals.priceCents);
      }),
      { numRuns: 300 },
    );
  });
});
