import { add, divide, multiply, type Ratio, ratio, toDecimal } from "@ledgerboard/contracts/money";
import {
  type Action,
  COMPONENTS,
  type Component,
  type Doer,
  type Unit,
} from "@ledgerboard/contracts/vocabulary";
import { EstimateInputError } from "../input-error.ts";
import { existingQuantity } from "./existing.ts";
import type { Takeoff } from "./types.ts";
import { USUAL_UNIT } from "./units.ts";

/** What of a scope line is set against what exists. Quantity is decimal text, not negative. */
export interface ScopedLine {
  id: string;
  component: Component;
  action: Action;
  quantity: string;
  unit: Unit;
  by: Doer;
}

/** One component's existing and scoped quantities side by side, all in `unit`, as decimal text. */
export interface ScopeRow {
  component: Component;
  unit: Unit;
  /** Null when the takeoff does not tell. */
  existing: string | null;
  kept: string;
  /** Cleaned, finished, refastened, repaired and so on: the largest of these, as several may treat the same part. */
  treated: string;
  /** Replaced or removed. */
  replaced: string;
  added: string;
  /** Existing parts no line speaks of: existing less replaced less the larger of kept and treated, not below zero. */
  left: string | null;
  /** By how much the lines exceed what exists, or null when they do not. */
  over: string | null;
  /** How much of what is replaced or added someone else does: the owner or others. */
  byOthers: string;
  lineIds: string[];
}

const ZERO = ratio(0);
const negate = ({ num, den }: Ratio): Ratio => ({ num: -num, den });
const above = (a: Ratio, b: Ratio) => a.num * b.den > b.num * a.den;
const larger = (a: Ratio, b: Ratio) => (above(a, b) ? a : b);

type Bucket = "kept" | "treated" | "replaced" | "added";
function bucket(action: Action): Bucket {
  if (action === "keep") return "kept";
  if (action === "add") return "added";
  return action === "replace" || action === "remove" ? "replaced" : "treated";
}

interface Scoped {
  line: ScopedLine;
  quantity: Ratio;
}

const total = (scoped: readonly Scoped[]) => add(ZERO, ...scoped.map((s) => s.quantity));

function makeRow(
  component: Component,
  unit: Unit,
  existing: string | null,
  scoped: readonly Scoped[],
): ScopeRow {
  const of = (b: Bucket) => scoped.filter((s) => bucket(s.line.action) === b);
  const [kept, replaced, added] = [total(of("kept")), total(of("replaced")), total(of("added"))];
  const sums = new Map<Action, Ratio>();
  for (const { line, quantity } of of("treated"))
    sums.set(line.action, add(sums.get(line.action) ?? ZERO, quantity));
  const treated = [...sums.values()].reduce(larger, ZERO);
  // Reinforcing adds parts such as blocks, of which there may be more than of what they reinforce.
  const bounded = [...sums].reduce(
    (most, [action, sum]) => (action === "reinforce" ? most : larger(most, sum)),
    ZERO,
  );

  let left: Ratio | null = null;
  let over: Ratio | null = null;
  if (existing !== null) {
    const there = ratio(existing);
    left = larger(ZERO, add(there, negate(replaced), negate(larger(kept, treated))));
    const excess = larger(
      add(replaced, kept, negate(there)),
      add(bounded, negate(there), negate(added)), // what is added may be finished too
    );
    over = above(excess, ZERO) ? excess : null;
  }
  const byOthers = total([...of("replaced"), ...of("added")].filter((s) => s.line.by !== "us"));
  return {
    component,
    unit,
    existing,
    kept: toDecimal(kept),
    treated: toDecimal(treated),
    replaced: toDecimal(replaced),
    added: toDecimal(added),
    left: left && toDecimal(left),
    over: over && toDecimal(over),
    byOthers: toDecimal(byOthers),
    lineIds: scoped.map((s) => s.line.id),
  };
}

function exactQuantities(lines: readonly ScopedLine[]): Scoped[] {
  const bad = lines.flatMap(({ quantity }, i) =>
    /^\d{1,12}(\.\d{1,6})?$/.test(quantity)
      ? []
      : [
          {
            field: `lines[${i}].quantity`,
            words: `"${quantity}" is no quantity; enter a number such as 12 or 12.5.`,
          },
        ],
  );
  if (bad.length > 0) throw new EstimateInputError(bad);
  return lines.map((line) => ({ line, quantity: ratio(line.quantity) }));
}

/**
 * Sets scope lines against what exists: a row for each component that is there (finish
 * aside) or in the lines, in the order of the
 * trade's list. A component scoped in one unit is shown in it; scoped in several, in its usual unit, the others
 * converted by what exists in both (13 joists are 152.75 ft), and those that cannot be converted on rows of their own.
 * Exact arithmetic, rounded to four places at the end. Throws EstimateInputError for a quantity that is no number.
 */
export function scopeAgainstExisting(
  takeoff: Pick<Takeoff, "existing">,
  lines: readonly ScopedLine[],
): ScopeRow[] {
  const scoped = exactQuantities(lines);
  return COMPONENTS.flatMap((component) => {
    const here = scoped.filter((s) => s.line.component === component);
    const known = takeoff.existing.filter((e) => e.component === component);
    const units = [...new Set(here.map((s) => s.line.unit))];
    // A coat is no part that could be overlooked: it has a row only when a line speaks of it.
    if (here.length === 0 && (known.length === 0 || component === "finish")) return [];

    const convertible = units.filter((unit) => existingQuantity(takeoff, component, unit) !== null);
    const usual =
      existingQuantity(takeoff, component, USUAL_UNIT[component]) === null
        ? known[0]?.unit
        : USUAL_UNIT[component];
    const main = units.length === 1 ? units[0] : (usual ?? units[0]);
    if (main === undefined) return [];
    const there = existingQuantity(takeoff, component, main);
    const toMain = ({ line, quantity }: Scoped): Scoped => {
      const from = existingQuantity(takeoff, component, line.unit);
      if (line.unit === main || there === null || from === null) return { line, quantity };
      return { line, quantity: divide(multiply(quantity, ratio(there)), ratio(from)) };
    };
    const inMain = here.filter((s) => s.line.unit === main || convertible.includes(s.line.unit));
    const apart = units.filter((unit) => unit !== main && !convertible.includes(unit));
    return [
      ...(inMain.length > 0 || known.length > 0 ? [makeRow(component, main, there, inMain.map(toMain))] : []),
      ...apart.map((unit) =>
        makeRow(
          component,
          unit,
          null,
          here.filter((s) => s.line.unit === unit),
        ),
      ),
    ];
  });
}
