import { describe, expect, test } from "vitest";
import data from "../../../shared/deposit-caps.json" with { type: "json" };
import worked from "../../../shared/worked-deposits.json" with { type: "json" };
import { depositCap } from "./deposit-cap.ts";

interface WorkedRow {
  state: string;
  contract_price_cents: number;
  special_order_cost_cents?: number;
  labor_cost_cents?: number;
  materials_cost_cents?: number;
  statute_applies: boolean;
  max_deposit_cents: number | null;
  unsure: boolean;
  why: string;
  source: string;
}

describe("outside check: deposits worked out from the statutes named in shared/worked-deposits.json", () => {
  const rows = worked.rows as WorkedRow[];
  test("there are sixteen", () => expect(rows).toHaveLength(16));

  test.each(rows)("$state, $contract_price_cents cents: $why ($source)", (row) => {
    const cap = depositCap({
      state: row.state,
      contractCents: row.contract_price_cents,
      ...(row.special_order_cost_cents !== undefined && { specialOrderCents: row.special_order_cost_cents }),
      ...(row.labor_cost_cents !== undefined && { laborCents: row.labor_cost_cents }),
      ...(row.materials_cost_cents !== undefined && { materialsCents: row.materials_cost_cents }),
    });
    expect(cap.capCents).toBe(row.max_deposit_cents);
    expect(cap.status === "no_cap_found").toBe(!row.statute_applies);
    expect(cap.unsure).toBe(row.unsure);
    expect(cap.source).toBe(row.source);
    expect(cap.checkLocalLaw).toBe("Check local law.");
  });
});

describe("the table", () => {
  test("has fifty states and the District of Columbia, each once, each with source, date and basis", () => {
    expect(new Set(data.table.map((row) => row.state)).size).toBe(51);
    for (const row of data.table) {
      expect(row.source, row.state).not.toBe("");
      expect(row.basis, row.state).toMatch(/^(page-seen|memory)$/);
      expect(row.as_of, row.state).toBeGreaterThan(2000);
    }
  });

  test("answers for every state, and no cap goes above the price or below zero", () => {
    for (const { state } of data.table) {
      for (const contractCents of [0, 1, 99_999, 30_000_001]) {
        const cap = depositCap({ state, contractCents, specialOrderCents: contractCents, laborCents: 1 });
        expect(cap.rule, state).not.toBe("");
        expect(cap.capCents ?? 0, state).toBeLessThanOrEqual(contractCents);
        expect(cap.capCents ?? 0, state).toBeGreaterThanOrEqual(0);
        expect(cap.status === "cap" && cap.capCents === null, state).toBe(false);
      }
    }
  });

  test.each([
    ["MD", 1_192_000, 397_333, "cap", false],
    ["CA", 1_000_000, 100_000, "cap", false],
    ["CA", 999_999, 99_999, "cap", false],
    ["PA", 500_001, 166_667, "cap", false],
    ["OH", 2_500_000, 250_000, "cap", true],
    ["AZ", 1_000_000, 150_000, "conditional", false],
    ["TN", 300_000, 100_000, "conditional", true],
    ["TN", 299_999, null, "no_cap_found", true],
    ["TN", 2_500_000, null, "no_cap_found", true],
    ["DC", 30_000, null, "conditional", false],
    ["DC", 29_999, null, "no_cap_found", false],
    ["NY", 50_000, null, "no_cap_found", false],
    ["NY", 50_001, null, "conditional", false],
    ["IN", 500_000, null, "conditional", true],
    ["TX", 500_000, null, "conditional", true],
    ["AL", 500_000, null, "no_cap_found", true],
  ] as const)("%s at %i cents: cap %s, %s, unsure %s", (state, contractCents, capCents, status, unsure) => {
    expect(depositCap({ state, contractCents })).toMatchObject({ capCents, status, unsure });
  });
});

test("a place without data says no data, never no limit", () => {
  for (const state of ["PR", "GU", "XX", ""]) {
    const cap = depositCap({ state, contractCents: 1_000_000 });
    expect(cap).toMatchObject({ status: "no_data", capCents: null, unsure: true });
    expect(cap.rule).toMatch(/^No data/);
    expect(cap.rule).not.toMatch(/no limit/i);
  }
});

test("none found is said to be no proof", () => {
  expect(depositCap({ state: "VA", contractCents: 1_000_000 }).rule).toMatch(
    /does not mean that there is none/,
  );
});

test("below the threshold the rule is still shown", () => {
  const cap = depositCap({ state: "OH", contractCents: 2_499_999 });
  expect(cap.rule).toMatch(/contracts of \$25,000 or more/);
  expect(cap.rule).toMatch(/receipt/);
});

test("a cap that needs labor or materials asks for them", () => {
  const asked = depositCap({ state: "VT", contractCents: 2_000_000 });
  expect(asked).toMatchObject({ status: "conditional", capCents: null });
  expect(asked.rule).toMatch(/Give the labor cost and the materials cost/);
  expect(depositCap({ state: "VT", contractCents: 2_000_000, materialsCents: 700_001 }).capCents).toBe(
    350_000,
  );
});

test("the state is read in any case, and the cap is never above the price", () => {
  expect(depositCap({ state: " md ", contractCents: 300 }).capCents).toBe(100);
  expect(depositCap({ state: "PA", contractCents: 600_000, specialOrderCents: 600_000 }).capCents).toBe(
    600_000,
  );
});

test.each([-1, 0.5, Number.NaN, Number.POSITIVE_INFINITY])("an amount of %d is refused", (cents) => {
  expect(() => depositCap({ state: "MD", contractCents: cents })).toThrow(/whole cents/);
  expect(() => depositCap({ state: "PA", contractCents: 1, specialOrderCents: cents })).toThrow(
    /special-order/,
  );
});
