import { ratio } from "@ledgerboard/contracts/money";
import { type Action, type Component, type Unit, words } from "@ledgerboard/contracts/vocabulary";
import { EstimateInputError, type InputFinding } from "../input-error.ts";
import type { LinePrice, PriceableLine } from "../pricing/line.ts";
import type { LineRates } from "../pricing/rates.ts";
import { type Charge, type PricingTerms, priceRevision, type Standing } from "../pricing/revision.ts";

/** How much of a component building a zone new takes. Quantity is decimal text in its unit. */
export interface NewScope {
  zoneId: string;
  component: Component;
  action: Action;
  quantity: string;
  unit: Unit;
}

/** An assembly resolved against the price book of its day. */
export interface RebuildAssembly {
  code: string;
  component: Component;
  action: Action;
  unit: Unit;
  rates: LineRates;
}

/** A priced repair to show the rebuild beside: what priceRevision gives for lines that have zones. */
export interface PricedRepair {
  lines: readonly { zoneId: string; standing: Standing; price: Pick<LinePrice, "priceCents"> }[];
  totals: Pick<LinePrice, "priceCents">;
}

/** Repair beside rebuild, in cents. */
export interface Beside {
  repairCents: number;
  rebuildCents: number;
  /** Repair as a share of the rebuild, in basis points, rounded; null where nothing of the rebuild has a price. */
  shareBp: number | null;
  /** Whether every component had an assembly; otherwise the rebuild is priced too low. */
  complete: boolean;
}

export interface RebuildLine extends NewScope, PriceableLine {
  code: string;
  /** Whether the assembly of another line of the zone, named by `code`, brings it along; it then costs nothing more. */
  within: boolean;
  price: LinePrice;
}

export interface Rebuild {
  /** In the order of the scope; the action is that of the assembly. */
  lines: RebuildLine[];
  totals: LinePrice;
  /** Each component that the book cannot price, by its field in the scope. */
  missing: InputFinding[];
  /** By zone in the order they first appear in the scope, then those only repaired. Lines alone, without charges. */
  zones: ({ zoneId: string } & Beside)[];
  /** Whole jobs, with charges, whole packs, minimum charge and rounding. */
  total: Beside;
}

/** Replacing takes the old away too, which a rebuild has to; what is not there yet, a first coat say, is only added. */
const ACTIONS = ["replace", "add"] as const satisfies readonly Action[];
const actionsFor = ({ action }: NewScope): readonly Action[] =>
  action === "add" ? ACTIONS.toReversed() : ACTIONS;

/** The assembly for a component: the scope's own action first, then the preferred ones in their order, then the book's. */
function choose(
  scope: NewScope,
  assemblies: readonly RebuildAssembly[],
  prefer: readonly string[],
): RebuildAssembly | undefined {
  const fitting = assemblies.filter((a) => a.component === scope.component && a.unit === scope.unit);
  for (const action of actionsFor(scope)) {
    const able = fitting.filter((a) => a.action === action);
    const wanted = prefer.flatMap((code) => able.find((a) => a.code === code) ?? []);
    const chosen = wanted[0] ?? able[0];
    if (chosen) return chosen;
  }
  return undefined;
}

/**
 * What the assembly of another component may bring along: a rail its balusters and cap, a joist its hangers, a ledger
 * its flashing. A price book knows a material by its name alone, so it is read from there.
 */
const BROUGHT: Partial<Record<Component, { by: Component; named: RegExp }>> = {
  baluster: { by: "rail", named: /\bbalusters?\b/i },
  rail_cap: { by: "rail", named: /\bcap\b/i },
  joist_hanger: { by: "joist", named: /\bhangers?\b(?![- ]nail)/i },
  flashing: { by: "ledger", named: /\bflashing\b(?![- ]tape)/i },
};

/** The line of the same zone whose assembly brings this component along, so that it must not be priced twice. */
const bringerOf = <M extends NewScope & { rates: LineRates }>(
  { component, zoneId }: NewScope,
  matched: readonly (M | undefined)[],
): M | undefined => {
  const brought = BROUGHT[component];
  return matched.find(
    (m) =>
      brought !== undefined &&
      m?.zoneId === zoneId &&
      m.component === brought.by &&
      m.rates.materials.some(({ name }) => brought.named.test(name)),
  );
};

const byUnit = (unit: Unit) => `by the ${unit === "each" ? "piece" : words(unit)}`;

function missingFinding(scope: NewScope, assemblies: readonly RebuildAssembly[], at: number): InputFinding {
  const other = assemblies.find(
    (a) => a.component === scope.component && ACTIONS.some((action) => action === a.action),
  );
  const what = `${words(scope.component)} ${byUnit(scope.unit)}`;
  return {
    field: `scope[${at}].${other ? "unit" : "component"}`,
    words: other
      ? `The price book replaces ${words(scope.component)} ${byUnit(other.unit)} only; add an assembly for ${what}.`
      : `The price book has no assembly to replace or add ${what}; add one to price the rebuild whole.`,
  };
}

function quantityFindings(scope: readonly NewScope[]): InputFinding[] {
  return scope.flatMap(({ quantity }, i) => {
    try {
      if (ratio(quantity).num >= 0n) return [];
    } catch {
      // Falls through to the same words as for a quantity below zero.
    }
    return [
      {
        field: `scope[${i}].quantity`,
        words: `Must be a quantity such as 12.5, not below 0; got "${quantity}".`,
      },
    ];
  });
}

function beside(repairCents: number, rebuildCents: number, complete: boolean): Beside {
  const shareBp = rebuildCents > 0 ? Math.round((repairCents * 10_000) / rebuildCents) : null;
  return { repairCents, rebuildCents, shareBp, complete };
}

function besideByZone(
  scope: readonly NewScope[],
  lines: readonly RebuildLine[],
  incomplete: ReadonlySet<string>,
  repair: PricedRepair,
): Rebuild["zones"] {
  const base = repair.lines.filter((line) => line.standing === "base");
  const sum = (of: readonly { zoneId: string; price: { priceCents: number } }[], zoneId: string) =>
    of.reduce((total, line) => total + (line.zoneId === zoneId ? line.price.priceCents : 0), 0);
  return [...new Set([...scope, ...base].map(({ zoneId }) => zoneId))].map((zoneId) => ({
    zoneId,
    ...beside(sum(base, zoneId), sum(lines, zoneId), !incomplete.has(zoneId)),
  }));
}

/**
 * Prices building zones new, to be shown beside their repair. Each component of the scope is matched to an assembly of
 * the same unit: one that replaces it, or else one that adds it, and the other way round where the scope only adds; of
 * several, the first that `prefer` names (say those the repair uses), or else the first in the book. What the assembly
 * of another line brings along (balusters and cap with a rail) is listed there at no further price. The lines are
 * priced as any revision is, with the charges a rebuild has (a permit, a dumpster) on top. Components the book cannot
 * price are reported and left out, so the rebuild then stands too low. Without `repair`, it counts as nothing.
 *
 * Throws EstimateInputError for a quantity that is malformed or below zero, RangeError as priceRevision does.
 */
export function priceRebuild(
  input: {
    scope: readonly NewScope[];
    assemblies: readonly RebuildAssembly[];
    prefer?: readonly string[];
    charges?: readonly Charge[];
    repair?: PricedRepair;
  },
  terms: PricingTerms,
): Rebuild {
  const { scope, assemblies, prefer = [], charges = [] } = input;
  const repair = input.repair ?? { lines: [], totals: { priceCents: 0 } };
  const findings = quantityFindings(scope);
  if (findings.length > 0) throw new EstimateInputError(findings);
  const missing: InputFinding[] = [];
  const incomplete = new Set<string>();
  const chosen = scope.map((item) => {
    const assembly = choose(item, assemblies, prefer);
    if (!assembly) return undefined;
    const { code, action, rates } = assembly;
    return { ...item, action, code, rates, by: "us" as const };
  });
  const matched = scope.flatMap((item, i): Omit<RebuildLine, "price">[] => {
    const bringer = bringerOf(item, chosen);
    if (bringer) return [{ ...item, code: bringer.code, rates: null, by: "us" as const, within: true }];
    const line = chosen[i];
    if (line) return [{ ...line, within: false }];
    missing.push(missingFinding(item, assemblies, i));
    incomplete.add(item.zoneId);
    return [];
  });
  const { lines, totals } = priceRevision({ lines: matched, charges }, terms);
  return {
    lines: lines.map(({ standing: _standing, agreed: _agreed, ...line }) => line),
    totals,
    missing,
    zones: besideByZone(scope, lines, incomplete, repair),
    total: beside(repair.totals.priceCents, totals.priceCents, missing.length === 0),
  };
}
