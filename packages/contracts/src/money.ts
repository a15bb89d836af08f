/**
 * Exact money and quantity arithmetic. Money is integer cents; quantities, hours and rates are decimal
 * strings. Everything in between is a ratio of two BigInts, rounded once, half-up (ties away from zero).
 */

/** Largest amount any stored field may hold: ten million dollars, so sums stay far inside 2^53. */
export const MAX_CENTS = 1_000_000_000;

/** An exact ratio. `den` is always positive. */
export interface Ratio {
  readonly num: bigint;
  readonly den: bigint;
}

const DECIMAL = /^-?\d{1,12}(\.\d{1,6})?$/;

/** Decimals already read: an estimate has few different ones and reads each many times over. */
const known = new Map<string, Ratio>();
const MOST_KNOWN = 5000;

/** Exact value of a decimal string such as "12.5". Throws RangeError on anything else (exponents, blanks, > 6 decimals). */
export function ratio(value: string | number | bigint): Ratio {
  if (typeof value === "bigint") return { num: value, den: 1n };
  if (typeof value === "number") {
    if (!Number.isSafeInteger(value))
      throw new RangeError(`Not a whole number: ${value}. Pass decimals as text.`);
    return { num: BigInt(value), den: 1n };
  }
  const before = known.get(value);
  if (before) return before;
  if (!DECIMAL.test(value)) throw new RangeError(`Not a decimal number: "${value}".`);
  const [whole = "0", fraction = ""] = value.split(".");
  const exact = { num: BigInt(whole + fraction), den: 10n ** BigInt(fraction.length) };
  if (known.size >= MOST_KNOWN) known.clear();
  known.set(value, exact);
  return exact;
}

export function multiply(...factors: Ratio[]): Ratio {
  let num = 1n;
  let den = 1n;
  for (const factor of factors) {
    num *= factor.num;
    if (factor.den !== 1n) den *= factor.den;
  }
  return { num, den };
}

/** Denominators are powers of ten as a rule, so that one divides the other and sums do not grow out of hand. */
export function add(...terms: Ratio[]): Ratio {
  let num = 0n;
  let den = 1n;
  for (const term of terms) {
    if (term.den === den) num += term.num;
    else if (den % term.den === 0n) num += term.num * (den / term.den);
    else if (term.den % den === 0n) {
      num = num * (term.den / den) + term.num;
      den = term.den;
    } else {
      num = num * term.den + term.num * den;
      den *= term.den;
    }
  }
  return { num, den };
}

/** a / b. Throws RangeError when b is zero. */
export function divide(a: Ratio, b: Ratio): Ratio {
  if (b.num === 0n) throw new RangeError("Division by zero.");
  const sign = b.num < 0n ? -1n : 1n;
  return { num: a.num * b.den * sign, den: a.den * b.num * sign };
}

/** 1250 basis points -> 1.125 when added to one, 0.125 alone. */
export const basisPoints = (bp: number): Ratio => ({ num: BigInt(bp), den: 10_000n });

/** The one rounding rule of the house: half-up to a whole number, ties away from zero. */
export function roundHalfUp({ num, den }: Ratio): bigint {
  const negative = num < 0n;
  const n = negative ? -num : num;
  const rounded = (2n * n + den) / (2n * den);
  return negative ? -rounded : rounded;
}

/** Rounds an exact number of cents to whole cents. Throws RangeError outside the safe integer range. */
export function toCents(value: Ratio): number {
  const cents = Number(roundHalfUp(value));
  if (!Number.isSafeInteger(cents)) throw new RangeError("Amount of money out of range.");
  return cents;
}

/** Decimal text of a ratio, rounded half-up to `places` and without trailing zeros: "12.5". */
export function toDecimal(value: Ratio, places = 4): string {
  const scale = 10n ** BigInt(places);
  const scaled = roundHalfUp({ num: value.num * scale, den: value.den });
  const negative = scaled < 0n;
  const digits = (negative ? -scaled : scaled).toString().padStart(places + 1, "0");
  const whole = digits.slice(0, digits.length - places);
  const fraction = digits.slice(digits.length - places).replace(/0+$/, "");
  return `${negative ? "-" : ""}${whole}${fraction ? `.${fraction}` : ""}`;
}

const formatters = new Map<string, Intl.NumberFormat>();

/** Making a formatter costs more than a hundred uses of it, so each is made once. */
function formatter(currency: string, digits: number): Intl.NumberFormat {
  const key = `${currency}${digits}`;
  let known = formatters.get(key);
  if (!known) {
    known = new Intl.NumberFormat("en-US", { style: "currency", currency, minimumFractionDigits: digits });
    formatters.set(key, known);
  }
  return known;
}

/** Money for people: 125000 -> "$1,250" ("$1,250.50" when there are cents, "−$5" below zero). */
export function formatMoney(cents: number, currency = "USD"): string {
  const text = formatter(currency, cents % 100 === 0 ? 0 : 2).format(Math.abs(cents) / 100);
  return cents < 0 ? `−${text}` : text;
}
