import { ratio, toDecimal } from "@ledgerboard/contracts/money";
import {
  BRIDGE_STEPS,
  type BridgeStep,
  type Component,
  STRUCTURAL_COMPONENTS,
} from "@ledgerboard/contracts/vocabulary";
import { sameAllowance } from "../pricing/allowance.ts";
import { type LinePrice, NOTHING, priceUnbounded, sumHours } from "../pricing/line.ts";
import { sameNumber, sameRates } from "../pricing/rates.ts";
import {
  type Charge,
  type PricingTerms,
  pricedQuantity,
  priceRevision,
  type Standing,
  standingOf,
} from "../pricing/revision.ts";
import type { Bridge, ChangeKind, ComparableLine, Differences, LineChange } from "./differences.ts";
import { type Match, matchLines } from "./match.ts";
import { judge, type MaterialityPolicy, type Verdict } from "./materiality.ts";

export interface Comparison extends Differences {
  verdict: Verdict;
}

/** The lines of a revision and the terms of the price book it was priced with. */
export interface PricedScope {
  lines: readonly ComparableLine[];
  charges?: readonly Charge[];
  terms: PricingTerms;
}

const structuralComponents: ReadonlySet<Component> = new Set(STRUCTURAL_COMPONENTS);
const isStructural = (line: ComparableLine | null) =>
  line !== null && structuralComponents.has(line.component);

/** Other work, so that quantity and rate of the two sides cannot be set against each other. */
const isOtherWork = (a: ComparableLine, b: ComparableLine) =>
  a.action !== b.action ||
  a.component !== b.component ||
  a.by !== b.by ||
  a.assemblyCode !== b.assemblyCode ||
  (a.alternate ?? null) !== (b.alternate ?? null) ||
  a.unit !== b.unit;

/** What a line adds to the base price; extras and what is charged only if found add nothing. */
const contribution = (line: ComparableLine, terms: PricingTerms): number =>
  standingOf(line) === "base" ? priceUnbounded(pricedQuantity(line), terms).priceCents : 0;

type Steps = Partial<Record<BridgeStep, number>>;

function comparePair(
  before: ComparableLine,
  after: ComparableLine,
  beforeCents: number,
  afterCents: number,
  oldTerms: PricingTerms,
): { kind: ChangeKind; steps: Steps } {
  if (isOtherWork(before, after)) return { kind: "action", steps: { action: afterCents - beforeCents } };

  // A pair outside the price on both sides must not seem to enter it and leave it again on the way.
  const outside = standingOf(before) !== "base" && standingOf(after) !== "base";
  const worth = (line: ComparableLine) => (outside ? 0 : contribution(line, oldTerms));
  const quantityMoved = !sameNumber(before.quantity, after.quantity);
  const ratesMoved = !sameRates(before.rates, after.rates);
  const allowanceMoved = !sameAllowance(before.allowance ?? null, after.allowance ?? null);
  const atNewQuantity = quantityMoved ? worth({ ...before, quantity: after.quantity }) : beforeCents;
  const atNewRates = ratesMoved ? worth({ ...after, allowance: before.allowance ?? null }) : atNewQuantity;
  const atNewAllowance = allowanceMoved ? worth(after) : atNewRates;
  const steps = {
    quantity: atNewQuantity - beforeCents,
    rate: atNewRates - atNewQuantity,
    allowance: atNewAllowance - atNewRates,
    overhead_and_tax: afterCents - atNewAllowance,
  };
  if (quantityMoved) return { kind: "quantity", steps };
  if (ratesMoved) return { kind: "rate", steps };
  if (allowanceMoved) return { kind: "allowance", steps };
  if (steps.overhead_and_tax !== 0) return { kind: "rate", steps };
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
  const byLines = [...sums.values()].reduce((a, b) => a + b, 0);
  sums.set("whole_job", toCents - fromCents - byLines);
  return { fromCents, toCents, steps: [...sums].map(([step, cents]) => ({ step, cents })) };
}

/** What each line adds to the base price. */
function basePrices(scope: PricedScope, priced: readonly { price: LinePrice; standing: Standing }[]): Prices {
  return new Map(
    scope.lines.map((line, i) => {
      const one = priced[i];
      return [line, one?.standing === "base" ? one.price : NOTHING];
    }),
  );
}

/**
 * What changed between two revisions, line by line and as a price bridge, and whether the company's policy calls it
 * material. Both revisions are priced anew from the rates on their lines and their own terms.
 *
 * A pair whose action, component, assembly, unit, doer or alternate differs is other work ("action"), with its whole
 * difference in that step. Otherwise: quantity = new quantity at old rates, allowance and terms, less the old price;
 * rate = new rates, less that; allowance = what the new chance, bounds or way of charging concealed work moves;
 * overhead_and_tax = what the new terms add (overhead, tax and margin); whole_job = charges, whole packs, minimum charge
 * and rounding, which belong to no line. A pair is named by the first of quantity, rate and allowance that moved; one
 * that only the terms moved is "rate". Pairs outside the price are compared too.
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
  const oldPrices = basePrices(before, old.lines);
  const newPrices = basePrices(after, next.lines);
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
