import { add, basisPoints, divide, multiply, type Ratio, ratio } from "@ledgerboard/contracts/money";
import type { MaterialUnit } from "@ledgerboard/contracts/vocabulary";

/** A pack as it is sold: how much of the material's unit is in it, and what it costs in cents. */
export interface Pack {
  size: string;
  cents: number;
}

/** A material as the price book holds it. Without packs it has no price yet. */
export interface BookMaterial {
  code: string;
  name: string;
  unit: MaterialUnit;
  /** For boards and timbers: the cross section that is cut to length, such as "2x8"; pack sizes are then lengths in ft. */
  section: string | null;
  packs: Pack[];
  /** Bought for the job in whole packs, so that what is left over is charged too; otherwise taken from stock. */
  wholePacks: boolean;
}

/** A material in a line: decimal amount for one unit of the line, before waste. */
export interface MaterialUse extends BookMaterial {
  perUnit: string;
  wasteBp: number;
}

export interface LaborUse {
  code: string;
  /** Decimal hours for one unit of the line. */
  hoursPerUnit: string;
  /** Decimal hours once for the line, whatever its quantity. */
  setupHours: string;
  /** Cents per hour before burden. */
  hourlyCents: number;
  /** Payroll taxes, insurance and the like, as a share of the hourly rate. */
  burdenBp: number;
}

/**
 * Everything a line is priced with: an assembly resolved against the price book of its day. It is copied onto the line,
 * so that the line can be priced, unfolded and simulated later whatever the book has come to say.
 */
export interface LineRates {
  materials: MaterialUse[];
  labor: LaborUse[];
  /** Decimal cents per unit for hauling away and tipping. */
  disposalUnitCents: string;
  /** Decimal cents per unit for hired or worn equipment. */
  equipmentUnitCents: string;
  /** Coefficient of variation of the labor hours: standard deviation as a share of the mean. */
  laborCvBp: number;
}

/** A decimal as an exact ratio. Throws RangeError when it is negative or malformed. */
export function amount(what: string, value: string | number): Ratio {
  const exact = ratio(value);
  if (exact.num < 0n) throw new RangeError(`${what} may not be negative; got ${value}.`);
  return exact;
}

/** A share in basis points as an exact ratio. Throws RangeError when it is negative or not whole. */
export function share(what: string, bp: number): Ratio {
  if (!Number.isInteger(bp) || bp < 0) {
    throw new RangeError(`${what} must be a whole number of basis points, not negative; got ${bp}.`);
  }
  return basisPoints(bp);
}

const ONE = ratio(1);

/** Rates are never changed once they are read, so what follows from them alone is worked out once. */
function once<K extends object, V>(work: (key: K) => V): (key: K) => V {
  const known = new WeakMap<K, V>();
  return (key) => {
    const before = known.get(key);
    if (before !== undefined) return before;
    const found = work(key);
    known.set(key, found);
    return found;
  };
}

/** Cents for one unit of a material at its cheapest pack; null where no pack has a price. */
export const unitCents = once((packs: readonly Pack[]): Ratio | null => {
  let best: Ratio | null = null;
  for (const { size, cents } of packs) {
    const exact = ratio(size);
    if (exact.num <= 0n) throw new RangeError(`A pack must hold something; got ${size}.`);
    if (!Number.isInteger(cents) || cents < 0)
      throw new RangeError(`Unit cost may not be negative; got ${cents}.`);
    const each = divide(ratio(cents), exact);
    if (!best || each.num * best.den < best.num * each.den) best = each;
  }
  return best;
});

/** What one unit of the line takes of a material, waste included, and what that costs; null without a price. */
export const unitOfMaterial = once((use: MaterialUse): { needed: Ratio; cents: Ratio | null } => {
  const needed = multiply(
    amount("Amount of material per unit", use.perUnit),
    add(ONE, share("Waste", use.wasteBp)),
  );
  const each = unitCents(use.packs);
  return { needed, cents: each && multiply(needed, each) };
});

/** Exact hours for one unit and to set up, and cents an hour with burden. */
export const unitOfLabor = once((use: LaborUse): { hours: Ratio; setup: Ratio; hourCents: Ratio } => ({
  hours: amount("Hours per unit", use.hoursPerUnit),
  setup: amount("Hours to set up", use.setupHours),
  hourCents: multiply(amount("Hourly rate", use.hourlyCents), add(ONE, share("Labor burden", use.burdenBp))),
}));

/** One text for materials that are the same purchase: code, packs and how they are bought. */
export const purchaseKey = once((use: MaterialUse): string =>
  [use.wholePacks, use.code, ...use.packs.map((p) => `${p.size}:${p.cents}`)].join(" "),
);

const sameNumber = (a: string, b: string): boolean => {
  if (a === b) return true;
  const [x, y] = [ratio(a), ratio(b)];
  return x.num * y.den === y.num * x.den;
};

const samePacks = (a: readonly Pack[], b: readonly Pack[]) =>
  a.length === b.length &&
  a.every((pack, i) => pack.cents === b[i]?.cents && sameNumber(pack.size, b[i]?.size ?? "0"));

const sameMaterial = (a: MaterialUse, b: MaterialUse | undefined) =>
  b !== undefined &&
  a.code === b.code &&
  a.wasteBp === b.wasteBp &&
  a.wholePacks === b.wholePacks &&
  sameNumber(a.perUnit, b.perUnit) &&
  samePacks(a.packs, b.packs);

const sameLabor = (a: LaborUse, b: LaborUse | undefined) =>
  b !== undefined &&
  a.code === b.code &&
  a.hourlyCents === b.hourlyCents &&
  a.burdenBp === b.burdenBp &&
  sameNumber(a.hoursPerUnit, b.hoursPerUnit) &&
  sameNumber(a.setupHours, b.setupHours);

/** Whether two lines are priced with the same rates: "1", "1.0" and "1.00" are one number, names do not count. */
export function sameRates(a: LineRates | null, b: LineRates | null): boolean {
  if (a === b) return true;
  if (!a || !b) return false;
  return (
    a.materials.length === b.materials.length &&
    a.labor.length === b.labor.length &&
    a.materials.every((use, i) => sameMaterial(use, b.materials[i])) &&
    a.labor.every((use, i) => sameLabor(use, b.labor[i])) &&
    sameNumber(a.disposalUnitCents, b.disposalUnitCents) &&
    sameNumber(a.equipmentUnitCents, b.equipmentUnitCents)
  );
}

export { sameNumber };
