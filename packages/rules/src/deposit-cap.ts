import { formatMoney } from "@ledgerboard/contracts/money";
import data from "../../../shared/deposit-caps.json" with { type: "json" };
import { evaluate, type Formula, type FormulaAmounts, lacksAmounts } from "./formula.ts";
import { CHECK_LOCAL_LAW, requireCents } from "./terms.ts";

type Threshold =
  | { op: "contract_price_greater_than_cents"; cents: number }
  | { op: "contract_price_at_least_cents"; cents: number }
  | { op: "contract_price_from_to_below_cents"; from_cents: number; below_cents: number };

interface Row {
  state: string;
  status: string;
  rule: string;
  formula: Formula | null;
  threshold: Threshold | null;
  applies_to?: string;
  source: string;
  as_of: number;
  unsure: boolean;
}

export interface DepositCap {
  /**
   * `cap`: the deposit may be at most `capCents`. `conditional`: a rule of the state may bear on the deposit;
   * `capCents`, when given, holds only for the work the rule names. `no_cap_found`: none found, which is not
   * the same as none. `no_data`: nothing is known for the state.
   */
  status: "cap" | "no_cap_found" | "conditional" | "no_data";
  capCents: number | null;
  rule: string;
  source: string;
  asOf: string;
  /** Not confirmed: show it as such. */
  unsure: boolean;
  checkLocalLaw: typeof CHECK_LOCAL_LAW;
}

const ROWS = new Map((data.table as unknown as Row[]).map((row) => [row.state, row]));

/**
 * What the law of a state, as far as the table in shared/deposit-caps.json knows it, lets a contractor take
 * before work starts. Not legal advice.
 *
 * `state` is the two-letter postal code, any case. Amounts are whole cents, zero or more: the contract
 * price, and where the rule needs them the cost of special-order materials, of labor and of materials. A
 * special-order cost not given counts as nothing, which gives the lower cap. Fractions of a cent are cut
 * off, and a cap is never above the contract price. Throws RangeError on a bad amount.
 */
export function depositCap(contract: {
  state: string;
  contractCents: number;
  specialOrderCents?: number;
  laborCents?: number;
  materialsCents?: number;
}): DepositCap {
  const amounts = readAmounts(contract);
  const state = contract.state.trim().toUpperCase();
  const row = ROWS.get(state);
  if (!row) {
    return {
      status: "no_data",
      capCents: null,
      rule: `No data on deposits in ${state || "a place without a state"}. There may be a limit.`,
      source: "none",
      asOf: String(data.compiled),
      unsure: true,
      checkLocalLaw: CHECK_LOCAL_LAW,
    };
  }
  return {
    ...decide(row, amounts),
    source: row.source,
    asOf: String(row.as_of),
    unsure: row.unsure,
    checkLocalLaw: CHECK_LOCAL_LAW,
  };
}

function decide(row: Row, amounts: FormulaAmounts): Pick<DepositCap, "status" | "capCents" | "rule"> {
  if (row.status === "none_found") {
    const rule = "No state-wide cap found in a short search. That does not mean that there is none.";
    return { status: "no_cap_found", capCents: null, rule };
  }
  if (row.threshold && !reaches(row.threshold, amounts.contract_price)) {
    const rule = `No cap found at this price: the rule of the state is for ${sayThreshold(row.threshold)}. The rule: ${row.rule}`;
    return { status: "no_cap_found", capCents: null, rule };
  }
  const rule = row.applies_to ? `${row.rule} For: ${row.applies_to}.` : row.rule;
  if (!row.formula) return { status: "conditional", capCents: null, rule };
  const lacking = lacksAmounts(row.formula, amounts);
  if (lacking) return { status: "conditional", capCents: null, rule: `${rule} ${lacking}` };
  const capCents = Math.min(evaluate(row.formula, amounts), amounts.contract_price);
  return { status: row.status === "cap" ? "cap" : "conditional", capCents, rule };
}

function readAmounts(contract: Parameters<typeof depositCap>[0]): FormulaAmounts {
  const optional = (cents: number | undefined, name: string) =>
    cents === undefined ? null : requireCents(cents, name);
  return {
    contract_price: requireCents(contract.contractCents, "The contract price"),
    special_order_cost: optional(contract.specialOrderCents, "The special-order cost"),
    labor_cost: optional(contract.laborCents, "The labor cost"),
    materials_cost: optional(contract.materialsCents, "The materials cost"),
  };
}

function reaches(threshold: Threshold, cents: number): boolean {
  switch (threshold.op) {
    case "contract_price_greater_than_cents":
      return cents > threshold.cents;
    case "contract_price_at_least_cents":
      return cents >= threshold.cents;
    case "contract_price_from_to_below_cents":
      return cents >= threshold.from_cents && cents < threshold.below_cents;
  }
}

function sayThreshold(threshold: Threshold): string {
  switch (threshold.op) {
    case "contract_price_greater_than_cents":
      return `contracts above ${formatMoney(threshold.cents)}`;
    case "contract_price_at_least_cents":
      return `contracts of ${formatMoney(threshold.cents)} or more`;
    case "contract_price_from_to_below_cents":
      return `contracts from ${formatMoney(threshold.from_cents)} to under ${formatMoney(threshold.below_cents)}`;
  }
}
