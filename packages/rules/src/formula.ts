/**
 * The small language in which shared/deposit-caps.json writes its caps: whole cents, fractions cut off to the
 * cent below.
 */
export type Formula =
  | { fixed_cents: number }
  | { fraction_of: AmountName; num: number; den: number }
  | { amount: AmountName }
  | { op: "min" | "max" | "add"; args: Formula[] };

type AmountName = "contract_price" | "special_order_cost" | "labor_cost" | "materials_cost";

/** Whole cents; null where the amount was not given. */
export interface FormulaAmounts {
  contract_price: number;
  special_order_cost: number | null;
  labor_cost: number | null;
  materials_cost: number | null;
}

/** The value of a formula in whole cents. An amount that was not given counts as nothing. */
export function evaluate(formula: Formula, amounts: FormulaAmounts): number {
  return Number(exact(formula, amounts));
}

function exact(formula: Formula, amounts: FormulaAmounts): bigint {
  if ("fixed_cents" in formula) return BigInt(formula.fixed_cents);
  if ("amount" in formula) return BigInt(amounts[formula.amount] ?? 0);
  if ("fraction_of" in formula) {
    return (BigInt(amounts[formula.fraction_of] ?? 0) * BigInt(formula.num)) / BigInt(formula.den);
  }
  const [first = 0n, ...rest] = formula.args.map((arg) => exact(arg, amounts));
  return rest.reduce((a, b) => {
    if (formula.op === "add") return a + b;
    return (formula.op === "min") === a < b ? a : b;
  }, first);
}

/** Says what to give when not one amount the formula rests on is known; null when it can be worked out. */
export function lacksAmounts(formula: Formula, amounts: FormulaAmounts): string | null {
  const bases = fractionsOf(formula);
  if (bases.length === 0 || bases.some((name) => amounts[name] !== null)) return null;
  return `Give the ${bases.map((name) => name.replace("_", " ")).join(" and the ")} to work out the cap.`;
}

function fractionsOf(formula: Formula): AmountName[] {
  if ("args" in formula) return formula.args.flatMap(fractionsOf);
  return "fraction_of" in formula ? [formula.fraction_of] : [];
}
