/**
 * Typed numbers and their exact stored form. Everything is done on the digits: no floating point touches
 * money, percents or quantities.
 */

/** A number a person typed, as plain digits: "1,250.50" -> "1250.50". Null when it is not a number. */
function plain(text: string, decimals: number): string | null {
  const bare = text.replace(/[\s$%]/g, "");
  const grouped = /^\d{1,3}(,\d{3})+(\.\d*)?$/.test(bare);
  const digits = grouped ? bare.replaceAll(",", "") : bare;
  const match = /^(\d{0,9})(?:\.(\d*))?$/.exec(digits);
  if (!match || (!match[1] && !match[2])) return null;
  if ((match[2] ?? "").length > decimals) return null;
  return digits;
}

/** Whole units of 10^-places: scaled("12.5", 2) is 1250. Null when it is not such a number. */
export function scaled(text: string, places: number): number | null {
  const digits = plain(text, places);
  if (digits === null) return null;
  const [whole = "", fraction = ""] = digits.split(".");
  const value = Number(`${whole}${fraction.padEnd(places, "0")}`);
  return Number.isSafeInteger(value) ? value : null;
}

/** The inverse of `scaled`, without needless zeros: unscaled(1250, 2) is "12.5". */
export function unscaled(value: number, places: number): string {
  const digits = String(Math.abs(value)).padStart(places + 1, "0");
  const whole = digits.slice(0, digits.length - places);
  const fraction = digits.slice(digits.length - places).replace(/0+$/, "");
  return `${value < 0 ? "-" : ""}${whole}${fraction && `.${fraction}`}`;
}

/** Dollars as typed ("$1,250.50") to cents. Null when it is not an amount. */
export const parseDollars = (text: string): number | null => scaled(text, 2);

/** Cents as an amount to edit: 125050 -> "1250.50", 125000 -> "1250". */
export function editDollars(cents: number): string {
  const text = unscaled(cents, 2);
  return /\.\d$/.test(text) ? `${text}0` : text;
}

/** Percent as typed to basis points: "12.5" -> 1250. Null when it is not a percent of at most two decimals. */
export const parsePercent = (text: string): number | null => scaled(text, 2);
export const editPercent = (bp: number): string => unscaled(bp, 2);

/** A quantity as typed to the exact decimal text the service takes: "1,200.50" -> "1200.5". Null when not one. */
export function parseDecimal(text: string, decimals = 4): string | null {
  const digits = plain(text, decimals);
  if (digits === null) return null;
  const [whole = "", fraction = ""] = digits.split(".");
  const end = fraction.replace(/0+$/, "");
  return `${whole.replace(/^0+(?=\d)/, "") || "0"}${end && `.${end}`}`;
}
