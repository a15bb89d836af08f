import { MAX_CENTS } from "@ledgerboard/contracts/money";
import { type AgreedPrice, type Allowance, agreedPrice, expectedQuantity } from "./allowance.ts";
import {
  checkTerms,
  type LinePrice,
  type LineTerms,
  NOTHING,
  type PriceableLine,
  priceLine,
  priceOfCosts,
  totalPrice,
} from "./line.ts";
import { type Purchase, purchasesOf, wholePackCents } from "./purchases.ts";

/** Terms of a price book for a whole revision. Cents, whole, not negative. */
export interface PricingTerms extends LineTerms {
  /** No job is done for less; 0 for no minimum. */
  minimumChargeCents: number;
  /** The price is rounded up to a whole multiple of this; 0 or 1 for none. */
  roundUpToCents: number;
}

/** A scope line as a revision holds it. */
export interface RevisionLine extends PriceableLine {
  /** Name of the optional extra this line belongs to; null for the base scope. */
  alternate?: string | null;
  /** For concealed work: what is known of it before it is opened. */
  allowance?: Allowance | null;
}

/** A cost of the whole job rather than of a component: a permit, a trip, a dumpster. */
export interface Charge {
  kind: "permit" | "travel" | "equipment" | "disposal" | "other";
  words: string;
  costCents: number;
  /** Passed on at cost, without overhead and margin, as permit fees often are. */
  atCost: boolean;
}

/**
 * How a line stands: in the base price; an optional extra; charged only if found; not ours to charge (owner, others);
 * or without rates.
 */
export type Standing = "base" | "alternate" | "if_found" | "not_ours" | "unpriced";

/** What the whole job adds to its lines and charges, each with the figures it came from. */
export type Adjustment =
  | {
      kind: "whole_packs";
      price: LinePrice;
      purchases: Purchase[];
      /** What the base lines come to, and what they come to with whole packs; the price is the difference. */
      before: LinePrice;
      after: LinePrice;
    }
  | { kind: "minimum_charge"; price: LinePrice; beforeCents: number }
  | { kind: "rounding"; price: LinePrice; beforeCents: number };

export interface PricedRevision<L extends RevisionLine, C extends Charge> {
  /** What it was priced with. */
  terms: PricingTerms;
  /** The lines in order. `price` is what a line adds where it stands; a line charged only if found adds nothing. */
  lines: (L & { price: LinePrice; standing: Standing; agreed: AgreedPrice | null })[];
  charges: (C & { price: LinePrice })[];
  adjustments: Adjustment[];
  /** Optional extras in the order they first appear, each the sum of its lines. */
  alternates: { name: string; price: LinePrice }[];
  /** What the base scope buys, by material. */
  purchases: Purchase[];
  /** Base lines, charges and adjustments: sums of rounded amounts. */
  totals: LinePrice;
}

export function standingOf(line: RevisionLine): Standing {
  if (line.by !== "us") return "not_ours";
  if (!line.rates) return "unpriced";
  if (line.allowance?.charge === "if_found") return "if_found";
  return line.alternate ? "alternate" : "base";
}

/** The line at the quantity that is priced: the expected one for an allowance inside the price. */
export const pricedQuantity = <L extends RevisionLine>(line: L): L =>
  line.allowance?.charge === "included"
    ? { ...line, quantity: expectedQuantity(line.quantity, line.allowance) }
    : line;

function priceScopeLine<L extends RevisionLine>(line: L, terms: PricingTerms) {
  const standing = standingOf(line);
  const price = standing === "if_found" ? { ...NOTHING } : priceLine(pricedQuantity(line), terms);
  return {
    ...line,
    price,
    standing,
    agreed: line.allowance ? agreedPrice(line, line.allowance, terms) : null,
  };
}

/** Price of a cost of the whole job: at cost, or with overhead and margin. Throws RangeError outside 0 to MAX_CENTS. */
export function priceCharge(charge: Charge, terms: LineTerms): LinePrice {
  const { costCents } = charge;
  checkWhole("A charge", costCents);
  if (charge.atCost) return { ...NOTHING, equipmentCents: costCents, costCents, priceCents: costCents };
  const direct = { materialCents: 0, laborCents: 0, disposalCents: 0, hours: "0" };
  return priceOfCosts({ ...direct, equipmentCents: costCents }, terms);
}

const priceOnly = (cents: number): LinePrice => ({ ...NOTHING, priceCents: cents });

/**
 * What whole packs add to the base lines. Everything is priced once more from the sums of the direct costs, and the
 * difference is what is added, the cents of rounding each line by itself among it: so the total never falls when a
 * quantity grows, which it would if the leftover were rounded on its own. Null where nothing is bought in whole packs.
 */
function wholePacks(base: LinePrice, purchases: readonly Purchase[], terms: PricingTerms): Adjustment | null {
  if (!purchases.some((p) => p.wholePacks && p.packs.length > 0)) return null;
  const leftoverCents = wholePackCents(purchases);
  const { laborCents, disposalCents, equipmentCents, hours } = base;
  const after = priceOfCosts(
    {
      materialCents: base.materialCents + leftoverCents,
      laborCents,
      disposalCents,
      equipmentCents,
      hours,
    },
    terms,
  );
  if (leftoverCents === 0 && after.priceCents === base.priceCents) return null;
  const price = {
    ...NOTHING,
    materialCents: leftoverCents,
    taxCents: after.taxCents - base.taxCents,
    overheadCents: after.overheadCents - base.overheadCents,
    costCents: after.costCents - base.costCents,
    priceCents: after.priceCents - base.priceCents,
  };
  return {
    kind: "whole_packs",
    price,
    purchases: purchases.filter((p) => p.leftoverCents > 0),
    before: base,
    after,
  };
}

function adjust(
  base: LinePrice,
  charges: LinePrice,
  purchases: readonly Purchase[],
  terms: PricingTerms,
): Adjustment[] {
  const adjustments: Adjustment[] = [];
  let soFar = base.priceCents + charges.priceCents;
  const packs = wholePacks(base, purchases, terms);
  if (packs) {
    adjustments.push(packs);
    soFar += packs.price.priceCents;
  }
  if (soFar === 0) return adjustments;
  if (soFar < terms.minimumChargeCents) {
    const price = priceOnly(terms.minimumChargeCents - soFar);
    adjustments.push({ kind: "minimum_charge", price, beforeCents: soFar });
    soFar = terms.minimumChargeCents;
  }
  const step = terms.roundUpToCents;
  const missing = step > 1 ? (step - (soFar % step)) % step : 0;
  if (missing > 0) adjustments.push({ kind: "rounding", price: priceOnly(missing), beforeCents: soFar });
  return adjustments;
}

function checkWhole(what: string, cents: number): void {
  if (!Number.isInteger(cents) || cents < 0 || cents > MAX_CENTS)
    throw new RangeError(`${what} must be whole cents from 0 to ${MAX_CENTS}; got ${cents}.`);
}

/**
 * Prices a revision: its lines, what the whole job costs besides, what whole packs cost above what the lines use, the
 * minimum charge, and the rounding up to a round price. Optional extras are priced beside the base, by their lines
 * alone. Work charged only if found adds nothing and gets its agreed unit price. A job without anything to charge
 * stays at zero.
 *
 * Throws RangeError as priceLine does, for bad terms also when there are no lines, and for negative charges.
 */
export function priceRevision<L extends RevisionLine, C extends Charge = Charge>(
  revision: { lines: readonly L[]; charges?: readonly C[] },
  terms: PricingTerms,
): PricedRevision<L, C> {
  checkTerms(terms);
  checkWhole("Minimum charge", terms.minimumChargeCents);
  checkWhole("Rounding step", terms.roundUpToCents);
  const lines = revision.lines.map((line) => priceScopeLine(line, terms));
  const charges = (revision.charges ?? []).map((charge) => ({
    ...charge,
    price: priceCharge(charge, terms),
  }));
  const base = lines.filter((line) => line.standing === "base");
  const purchases = purchasesOf(base.map((line) => pricedQuantity(line)));
  const byLines = totalPrice(base.map(({ price }) => price));
  const byCharges = totalPrice(charges.map(({ price }) => price));
  const adjustments = adjust(byLines, byCharges, purchases, terms);
  const names = new Set(
    lines.flatMap((l) => (l.standing === "alternate" && l.alternate ? [l.alternate] : [])),
  );
  const alternates = [...names].map((name) => ({
    name,
    price: totalPrice(
      lines.flatMap((l) => (l.standing === "alternate" && l.alternate === name ? [l.price] : [])),
    ),
  }));
  const totals = totalPrice([byLines, byCharges, ...adjustments.map(({ price }) => price)]);
  return { terms, lines, charges, adjustments, alternates, purchases, totals };
}

/** The margin in basis points, rounded up, at which a cost comes to at least this price; 9000 at most, 0 at least. */
export function marginForPrice(costCents: number, priceCents: number): number {
  if (priceCents <= costCents || priceCents <= 0) return 0;
  const share = Math.ceil(((priceCents - costCents) * 10_000) / priceCents);
  return Math.min(share, 9000);
}
