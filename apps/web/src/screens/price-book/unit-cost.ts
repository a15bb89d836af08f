import { divide, multiply, ratio, toDecimal } from "@ledgerboard/contracts/money";
import { scaled, unscaled } from "../../ui/numbers.ts";

/** Dollars with at least two decimals: "4.2" -> "4.20", "2.855" stays. */
function withCents(dollars: string): string {
  const [whole = "0", fraction = ""] = dollars.split(".");
  return `${whole}.${fraction.padEnd(2, "0")}`;
}

/** Cents a unit as dollars to read or edit: "285.5" -> "2.855", "420" -> "4.20". Fractions of a cent are kept. */
export const editUnitCost = (cents: string): string => withCents(unscaled(scaled(cents, 4) ?? 0, 6));

/** Dollars a unit as typed to decimal cents: "2.855" -> "285.5". Null when it is no such amount. */
export function parseUnitCost(text: string): string | null {
  const millionths = scaled(text, 6);
  return millionths === null ? null : unscaled(millionths, 4);
}

/** What a unit costs in a pack, in dollars to a hundredth of a cent: 1899 cents for 350 -> "0.0543". */
export const perUnit = (size: string, cents: number): string =>
  withCents(toDecimal(divide(ratio(cents), multiply(ratio(size), ratio(100))), 4));
