import { ratio, toDecimal } from "@ledgerboard/contracts/money";
import { type Component, STRUCTURAL_COMPONENTS } from "@ledgerboard/contracts/vocabulary";
import {
  BRIDGE_STEPS,
  type Bridge,
  type BridgeStep,
  type ChangeKind,
  type ComparableLine,
  type Differences,
  type LineChange,
} from "./differences.ts";
import { type Match, matchLines } from "./match.ts";
import { judge, type MaterialityPolicy, type Verdict } from "./materiality.ts";
import {
  type LinePrice,
  type LineRates,
  NOTHING,
  type PricingTerms,
  priceRevision,
  priceUnbounded,
  sumHours,
} from "./pricing.ts";

export interface Comparison extends Differences {
  verdict: Verdict;
}

/** The lines of a revision and the terms of the price book it was priced with. */
export interface PricedScope {
  lines: readonly ComparableLine[];
  terms: PricingTerms;
}

const structuralComponents: ReadonlySet<Component> = new Set(STRUCTURAL_COMPONENTS);
const isStructural = (line: ComparableLine | null) =>
  line !== null && structuralComponents.has(line.component);

/** "1", "1.0" and "1.00" are one number. */
function sameNumber(a: string, b: string): boolean {
  if (a === b) return true;
  const [x, y] = [ratio(a), ratio(b)];
  return x.num * y.den === y.num * x.den;
}

function sameRates(a: LineRates | null, b: LineRates | null): boolean {
  if (a === b) return true;
  if (!a || !b) return false;
  return (
    sameNumber(a.materialUnitCents, b.materialUnitCents) &&
    a.wasteBp === b.wasteBp &&
    sameNumber(a.hoursPerUnit, b.hoursPerUnit) &&
    a.laborRateCode === b.laborRateCode &&
    a.laborHourlyCents === b.laborHourlyCents &&
    a.laborBurdenBp === b.laborBurdenBp
  );
}

/** Other work, so that quantity and rate of the two sides cannot be set against each other. */
const isOtherWork = (a: ComparableLine, b: ComparableLine) =>
  a.action !== b.action ||
  a.component !== b.component ||
  a.by !== b.by ||
  a.itemCode !== b.itemCode ||
  a.unit !== b.unit;

type Steps = Partial<Record<BridgeStep, number>>;

function comparePair(
  before: ComparableLine,
  after: ComparableLine,
  beforeCents: number,
  afterCents: number,
  oldTerms: PricingTerms,
): { kind: ChangeKind; steps: Steps } {
  if (isOtherWork(before, after)) return { kind: "action", steps: { action: afterCents - beforeCents } };

  const quantityMoved = !sameNumber(before.quantity, after.quantity);
  const ratesMoved = !sameRates(before.rates, after.rates);
  const atNewQuantity = quantityMoved
    ? priceUnbounded({ ...before, quantity: after.quantity }, oldTerms).priceCents
    : beforeCents;
  const atNewRates = ratesMoved ? priceUnbounded(after, oldTerms).priceCents : atNewQuantity;
  const steps = {
    quantity: atNewQuantity - beforeCents,
    rate: atNewRates - atNewQuantity,
    overhead_and_tax: afterCents - atNewRates,
  };
  if (quantityMoved) return { kind: "quantity", steps };
  if (ratesMoved || steps.overhead_and_tax !== 0) return { kind: "rate", steps };
  return { kind: before.evidence === after.evidence ? "unchanged" : "evidence", steps };
}

type Prices = ReadonlyMap<ComparableLine, LinePrice>;

function compareMatch(
  { before, after }: Match<ComparableLine>,
  oldPrices: Prices,
  newPrices: Prices,
  oldTerms: PricingTerms,
): LineChange {
  const old = (before && oldPrices.get(before)) ?? NOTHING;
  const next = (after && newPrices.get(after)) ?? NOTHING;
  const beforeCents = old.priceCents;
  const afterCents = next.priceCents;
  const deltaCents = afterCents - beforeCents;
  const { kind, steps }: { kind: ChangeKind; steps: Steps } = !before
    ? { kind: "added", steps: { added: deltaCents } }
    : !after
      ? { kind: "removed", steps: { removed: deltaCents } }
      : comparePair(before, after, beforeCents, afterCents, oldTerms);
  return {
    kind,
    before,
    after,
    beforeCents,
    afterCents,
    deltaCents,
    deltaHours: hoursBetween(old.hours, next.hours),
    structural: isStructural(before) || isStructural(after),
    steps: BRIDGE_STEPS.flatMap((step) => (steps[step] ? [{ step, cents: steps[step] }] : [])),
  };
}

function hoursBetween(before: string, after: string): string {
  const { num, den } = ratio(before);
  return sumHours([after, toDecimal({ num: -num, den })]);
}

function buildBridge(changes: readonly LineChange[], fromCents: number, toCents: number): Bridge {
  const sums = new Map<BridgeStep, number>(BRIDGE_STEPS.map((step) => [step, 0]));
  for (const { steps } of changes) {
    for (const { step, cents } of steps) sums.set(step, (sums.get(step) ?? 0) + cents);
  }
  return { fromCents, toCents, steps: [...sums].map(([step, cents]) => ({ step, cents })) };
}

/**
 * What changed between two revisions, line by line and as a price bridge, and whether the company's policy calls it
 * material. Both revisions are priced anew from the rates on their lines and their own terms.
 *
 * A pair whose action, component, item, unit or doer differs is other work ("action"), with its whole difference in
 * that step. Otherwise: quantity = new quantity at old rates and terms, less the old price; rate = new rates at old
 * terms, less that; overhead_and_tax = what the new terms add (overhead, tax and margin). A pair with new quantity and
 * new rates is "quantity"; a pair that only the terms moved is "rate". Pairs outside the price are compared too.
 *
 * Throws RangeError as priceLine does, and for a policy with negative or malformed limits.
 */
export function compareRevisions(
  before: PricedScope,
  after: PricedScope,
  policy: MaterialityPolicy,
): Comparison {
  const old = priceRevision(before, before.terms);
  const next = priceRevision(after, after.terms);
  const oldPrices = new Map(before.lines.map((line, i) => [line, old.lines[i]?.price ?? NOTHING]));
  const newPrices = new Map(after.lines.map((line, i) => [line, next.lines[i]?.price ?? NOTHING]));
  const changes = matchLines(before.lines, after.lines).map((match) =>
    compareMatch(match, oldPrices, newPrices, before.terms),
  );
  const bridge = buildBridge(changes, old.totals.priceCents, next.totals.priceCents);
  const hours = {
    before: old.totals.hours,
    after: next.totals.hours,
    delta: hoursBetween(old.totals.hours, next.totals.hours),
  };
  return { changes, bridge, hours, verdict: judge({ changes, bridge, hours }, policy) };
}
