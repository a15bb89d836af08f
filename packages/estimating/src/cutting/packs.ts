import { add, multiply, type Ratio, ratio, toDecimal } from "@ledgerboard/contracts/money";
import { EstimateInputError, type InputFinding } from "../input-error.ts";

/** A pack as it is sold: how much is in it (decimal text, at most six decimals, above zero) and its price. */
export interface Pack {
  size: string;
  cents: number;
}

export interface PackCover {
  /** The packs to buy, the best price per unit first; sizes that are not bought are left out. */
  packs: (Pack & { count: number })[];
  cents: number;
  /** What is in all of them, as decimal text in the same unit as `needed`. */
  boughtQuantity: string;
}

interface Sold {
  pack: Pack;
  /** Size in the smallest unit that makes every size whole. */
  size: number;
  cents: number;
  /** How many of it are ever worth buying beside the best-priced pack. */
  most: number;
}

/** More mixes than this are not looked through; see coverPacks. */
const MIXES = 20_000;

/**
 * The cheapest whole packs that together hold at least `needed`.
 *
 * Exact, by looking through every mix that a bound on price does not rule out: a pack that is not the best priced per
 * unit is worth buying at most so often that its extra price stays below one best-priced pack, and never so often that
 * best-priced packs would hold the same. Both limits depend on the packs alone. Where even so there would be more than
 * 20,000 mixes, the packs with the worst price per unit are left out until there are not: the result then is the
 * cheapest among the packs kept, and at most one best-priced pack above the cheapest of all. Never falls as `needed`
 * rises, in either case. Costs microseconds.
 *
 * @param needed decimal text, zero or more, at most six decimals, in the unit of the pack sizes.
 * @param packs any number in any order; cents are whole and zero or more.
 * @throws EstimateInputError naming each field that cannot be used.
 */
export function coverPacks(needed: string, packs: readonly Pack[]): PackCover {
  const { need, sold } = read(needed, packs);
  if (need === 0) return { packs: [], cents: 0, boughtQuantity: "0" };
  const counts = cheapestMix(need, worthMixing(sold));
  const bought = sold.flatMap(({ pack }, i) => (counts[i] ? [{ ...pack, count: counts[i] }] : []));
  return {
    packs: bought,
    cents: bought.reduce((sum, p) => sum + p.cents * p.count, 0),
    boughtQuantity: toDecimal(add(...bought.map((p) => multiply(ratio(p.size), ratio(p.count)))), 6),
  };
}

function decimal(text: string): Ratio | undefined {
  try {
    return ratio(text);
  } catch {
    return undefined;
  }
}

/** The input in whole numbers, packs from the best price per unit to the worst. */
function read(needed: string, packs: readonly Pack[]): { need: number; sold: Sold[] } {
  const findings: InputFinding[] = [];
  const fault = (field: string, words: string) => findings.push({ field, words });
  const need = decimal(needed);
  if (!need || need.num < 0n)
    fault("needed", `Give the quantity needed as a number of zero or more, not "${needed}".`);
  const sizes = packs.map(({ size, cents }, i) => {
    const exact = decimal(size);
    if (!exact || exact.num <= 0n)
      fault(`packs[${i}].size`, `Give the pack size as a number above zero, not "${size}".`);
    if (!Number.isSafeInteger(cents) || cents < 0)
      fault(`packs[${i}].cents`, `Give the price as whole cents of zero or more, not ${cents}.`);
    return exact;
  });
  if (packs.length === 0 && need && need.num > 0n) fault("packs", "Give at least one pack that is sold.");
  if (findings.length > 0 || !need) throw new EstimateInputError(findings);

  let scale = need.den;
  for (const size of sizes) if (size && size.den > scale) scale = size.den;
  const whole = (exact: Ratio) => Number((exact.num * scale) / exact.den);
  const sold = packs.map((pack, i) => ({
    pack,
    size: whole(sizes[i] ?? ratio(0)),
    cents: pack.cents,
    most: Number.POSITIVE_INFINITY,
  }));
  sold.sort((a, b) => perUnit(a) - perUnit(b) || b.size - a.size || a.cents - b.cents);
  const best = sold[0];
  const amount = whole(need);
  const most = Math.max(0, ...sold.map((s) => Math.ceil(amount / s.size) * Math.max(1, s.cents)));
  if (
    amount + Math.max(0, ...sold.map((s) => s.size)) > Number.MAX_SAFE_INTEGER ||
    most > Number.MAX_SAFE_INTEGER
  )
    throw new EstimateInputError([
      { field: "needed", words: `${needed} is more than can be priced exactly.` },
    ]);
  if (best) {
    for (const one of sold.slice(1)) {
      const extra = one.cents - one.size * perUnit(best);
      const byPrice = extra > 0 ? Math.floor((best.cents / extra) * (1 + 1e-9)) : Number.POSITIVE_INFINITY;
      one.most = Math.min(byPrice, best.size / divisor(one.size, best.size) - 1);
    }
  }
  return { need: amount, sold };
}

const perUnit = (sold: Sold) => sold.cents / sold.size;

function divisor(a: number, b: number): number {
  return b === 0 ? a : divisor(b, a % b);
}

/** The packs from the best priced on whose mixes are few enough to be looked through. */
function worthMixing(sold: Sold[]): Sold[] {
  let mixes = 1;
  let kept = 1;
  while (kept < sold.length && mixes * ((sold[kept]?.most ?? 0) + 1) <= MIXES) {
    mixes *= (sold[kept]?.most ?? 0) + 1;
    kept += 1;
  }
  return sold.slice(0, kept);
}

/** How many of each to buy. The worst priced are tried from few to many; the best priced fills what is left. */
function cheapestMix(need: number, sold: Sold[]): number[] {
  const [best] = sold;
  if (!best) return [];
  // A shade under the true price per unit, so that no mix is ruled out by rounding.
  const unit = perUnit(best) * (1 - 1e-12);
  let cheapest = Number.POSITIVE_INFINITY;
  let counts: number[] = [];
  const current = sold.map(() => 0);
  const look = (index: number, left: number, cents: number): void => {
    const one = sold[index];
    if (index === 0 || !one || left <= 0) {
      const count = left > 0 ? Math.ceil(left / best.size) : 0;
      const total = cents + count * best.cents;
      if (total >= cheapest) return;
      cheapest = total;
      counts = [...current];
      counts[0] = count;
      return;
    }
    const most = Math.min(one.most, Math.ceil(left / one.size));
    for (let count = 0; count <= most; count++) {
      const rest = left - count * one.size;
      const spent = cents + count * one.cents;
      if (spent + Math.max(0, rest) * unit >= cheapest) break;
      current[index] = count;
      look(index - 1, rest, spent);
    }
    current[index] = 0;
  };
  look(sold.length - 1, need, 0);
  return counts;
}
