import {
  add,
  basisPoints,
  divide,
  multiply,
  type Ratio,
  ratio,
  toCents,
  toDecimal,
} from "@ledgerboard/contracts/money";
import type { InputFinding } from "../input-error.ts";
import { type LineTerms, type PriceableLine, priceLine } from "./line.ts";
import { amount, sameNumber } from "./rates.ts";

/**
 * What is known of concealed work before it is opened. The line's own quantity is the likeliest amount if there is
 * anything; low and high bound it. All are decimal text in the line's unit.
 */
export interface Allowance {
  /** Chance that there is anything at all, in basis points, 0 to 10000. */
  chanceBp: number;
  lowQuantity: string;
  highQuantity: string;
  /** Most that the customer pays for at the agreed unit price without a new agreement. */
  capQuantity: string;
  /** In the fixed price at its expected cost, or charged at the agreed unit price only if it is found. */
  charge: "included" | "if_found";
}

/** Whether two allowances say the same of the same work: "1" and "1.0" are one number. */
export function sameAllowance(a: Allowance | null, b: Allowance | null): boolean {
  if (a === b) return true;
  if (!a || !b) return false;
  return (
    a.charge === b.charge &&
    a.chanceBp === b.chanceBp &&
    sameNumber(a.lowQuantity, b.lowQuantity) &&
    sameNumber(a.highQuantity, b.highQuantity) &&
    sameNumber(a.capQuantity, b.capQuantity)
  );
}

/** The customer's side of concealed work: so much a unit, and never more than the cap without asking him. */
export interface AgreedPrice {
  unitPriceCents: number;
  capQuantity: string;
  capCents: number;
}

export function allowanceFindings(quantity: string, allowance: Allowance): InputFinding[] {
  const [low, likely, high, cap] = [
    allowance.lowQuantity,
    quantity,
    allowance.highQuantity,
    allowance.capQuantity,
  ].map((q) => ratio(q)) as [Ratio, Ratio, Ratio, Ratio];
  const above = (a: Ratio, b: Ratio) => a.num * b.den > b.num * a.den;
  const findings: InputFinding[] = [];
  if (!Number.isInteger(allowance.chanceBp) || allowance.chanceBp < 0 || allowance.chanceBp > 10_000)
    findings.push({ field: "allowance.chanceBp", words: "A chance from 0% to 100%." });
  if (above(low, likely))
    findings.push({ field: "allowance.lowQuantity", words: "The least is more than the likeliest amount." });
  if (above(likely, high))
    findings.push({ field: "allowance.highQuantity", words: "The most is less than the likeliest amount." });
  if (cap.num <= 0n)
    findings.push({
      field: "allowance.capQuantity",
      words: "Say up to how much the customer agrees to pay.",
    });
  return findings;
}

/** Throws RangeError where no price can be made of it; what is only unlikely is left to allowanceFindings. */
function checkAllowance(quantity: string, allowance: Allowance): void {
  const { chanceBp, lowQuantity, highQuantity, capQuantity } = allowance;
  if (!Number.isInteger(chanceBp) || chanceBp < 0 || chanceBp > 10_000)
    throw new RangeError(`A chance must be from 0% to 100%, in whole basis points; got ${chanceBp}.`);
  for (const text of [quantity, lowQuantity, highQuantity, capQuantity]) amount("Quantity", text);
}

/**
 * Expected amount of concealed work: chance x (low + likely + high) / 3, the mean of a triangular distribution, to
 * four places. Throws RangeError for negative or malformed quantities and for a chance outside 0 to 10000.
 * Source: "Triangular distribution", Wikipedia, https://en.wikipedia.org/wiki/Triangular_distribution.
 */
export function expectedQuantity(quantity: string, allowance: Allowance): string {
  checkAllowance(quantity, allowance);
  const total = add(ratio(allowance.lowQuantity), ratio(quantity), ratio(allowance.highQuantity));
  return toDecimal(multiply(basisPoints(allowance.chanceBp), divide(total, ratio(3))), 4);
}

/**
 * The agreed unit price: the price of the likeliest amount divided by it, half-up to the cent; and the cap in money.
 * Null for a line that is not in the price or whose likeliest amount is nothing. Throws RangeError as
 * expectedQuantity and priceLine do.
 */
export function agreedPrice(line: PriceableLine, allowance: Allowance, terms: LineTerms): AgreedPrice | null {
  checkAllowance(line.quantity, allowance);
  const quantity = ratio(line.quantity);
  if (line.by !== "us" || !line.rates || quantity.num === 0n) return null;
  const unitPriceCents = toCents(divide(ratio(priceLine(line, terms).priceCents), quantity));
  return {
    unitPriceCents,
    capQuantity: allowance.capQuantity,
    capCents: toCents(multiply(ratio(unitPriceCents), ratio(allowance.capQuantity))),
  };
}
