import { weekday } from "@ledgerboard/contracts/dates";
import { formatMoney } from "@ledgerboard/contracts/money";
import { words } from "@ledgerboard/contracts/vocabulary";

export { words };

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const LONG_MONTHS = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
];
const WEEKDAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
const parts = (day: string) => {
  const [year = 0, month = 1, date = 1] = day.slice(0, 10).split("-").map(Number);
  return { year, month, date };
};

/** Money as people read it: "$1,250", "−$5.20". Takes cents or the API's money. */
export const money = (amount: number | { cents: number }): string =>
  formatMoney(typeof amount === "number" ? amount : amount.cents);

/** A difference of money, always with its sign: "+$610", "−$4,780", "$0". */
export const moneyChange = (amount: number | { cents: number }): string => {
  const cents = typeof amount === "number" ? amount : amount.cents;
  return cents > 0 ? `+${money(cents)}` : money(cents);
};

/** "30 Nov", and with a year when it is another than that of `today`: "30 Nov 2026". */
export function day(value: string, today?: string): string {
  const { year, month, date } = parts(value);
  const far = today !== undefined && parts(today).year !== year;
  return `${date} ${MONTHS[month - 1]}${far ? ` ${year}` : ""}`;
}

/** "18 December". */
export const dayInWords = (value: string): string =>
  `${parts(value).date} ${LONG_MONTHS[parts(value).month - 1]}`;

/** "Mon 30 Nov 2026". */
export const longDay = (value: string): string =>
  `${WEEKDAYS[weekday(value.slice(0, 10)) - 1]} ${day(value)} ${parts(value).year}`;

/** "Mon 30". */
export const weekdayAndDate = (value: string): string =>
  `${WEEKDAYS[weekday(value) - 1]} ${parts(value).date}`;

/** A run of days: "3–10 Nov", "28 Nov–4 Dec", "5 Nov". */
export function dayRange(from: string, to: string): string {
  if (from === to) return day(from);
  const [a, b] = [parts(from), parts(to)];
  if (a.year === b.year && a.month === b.month) return `${a.date}–${day(to)}`;
  return `${day(from)}–${day(to)}`;
}

/** An instant as the company's clock shows it: "30 Nov, 2:15 pm". */
export function moment(instant: string, timeZone: string): string {
  const text = new Intl.DateTimeFormat("en-US", {
    timeZone,
    month: "short",
    day: "numeric",
    hour: "numeric",
    minute: "2-digit",
  }).formatToParts(new Date(instant));
  const get = (type: string) => text.find((part) => part.type === type)?.value ?? "";
  return `${get("day")} ${get("month")}, ${get("hour")}:${get("minute")} ${get("dayPeriod").toLowerCase()}`;
}

const grouped = (digits: string): string => digits.replace(/\B(?=(\d{3})+(?!\d))/g, ",");

/** An exact decimal for reading, with its unit: ("1200.5", "sqft") -> "1,200.5 sq ft". A bare count has no unit. */
export function quantity(value: string, unit?: string): string {
  const [whole = "0", fraction] = value.split(".");
  const number = grouped(whole) + (fraction ? `.${fraction}` : "");
  return unit && unit !== "each" ? `${number} ${words(unit)}` : number;
}

/** What stands behind a number that is typed in this unit: nothing behind a bare count. */
export const unitSuffix = (unit: string): string => (unit === "each" ? "" : words(unit));

/** What a price of one is said to be for: "each", "a sq ft", "an hour". */
export const forOne = (unit: string): string =>
  unit === "each" ? "each" : `${unit === "hour" ? "an" : "a"} ${words(unit)}`;

/** Hours to read, to a hundredth, half up: "12.5000" -> "12.5 h", "3.9433" -> "3.94 h", "0.001" -> "under 0.01 h". */
export const hours = (value: string): string => {
  const short = toHundredths(value);
  return short === "0" && /[1-9]/.test(value) ? "under 0.01 h" : `${quantity(short)} h`;
};

/** The digits of a decimal not below zero, rounded half up to two places; done on the digits, as in `numbers.ts`. */
function toHundredths(value: string): string {
  const [whole = "0", fraction = ""] = value.split(".");
  const kept =
    BigInt(whole + fraction.slice(0, 2).padEnd(2, "0")) + (Number(fraction[2] ?? 0) >= 5 ? 1n : 0n);
  const digits = String(kept).padStart(3, "0");
  const end = digits.slice(-2).replace(/0+$/, "");
  return digits.slice(0, -2) + (end && `.${end}`);
}

/** Basis points as percent: 1250 -> "12.5%". */
export const percent = (bp: number): string => `${Math.trunc(bp / 100)}${hundredths(Math.abs(bp % 100))}%`;
const hundredths = (rest: number) =>
  rest === 0 ? "" : `.${String(rest).padStart(2, "0").replace(/0$/, "")}`;

const SMALL = [
  "no",
  "one",
  "two",
  "three",
  "four",
  "five",
  "six",
  "seven",
  "eight",
  "nine",
  "ten",
  "eleven",
  "twelve",
];

/** Counts up to twelve in words, larger ones in figures: "seven", "41", "9,874". */
export const count = (value: number): string => SMALL[value] ?? grouped(String(value));

/** `plural(2, "job")` is "two jobs", `plural(41, "inquiry", "inquiries")` is "41 inquiries". */
export const plural = (value: number, one: string, many = `${one}s`): string =>
  `${count(value)} ${value === 1 ? one : many}`;

/** First letter large: for a sentence that begins with a count or a vocabulary word. */
export const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
