/**
 * Local dates as ISO text, 'YYYY-MM-DD', years 1000 to 9999. A local date has no time zone, so every
 * sum is done on whole days in UTC and the clock of the machine never enters.
 */

const ISO_DATE = /^([1-9]\d{3})-(\d{2})-(\d{2})$/;
const MS_PER_DAY = 86_400_000;
const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"] as const;

const known = new Map<string, number>();
/** Some 27 years of days; lists ask for the same few hundred over and over. */
const KEPT = 10_000;

/** Whole days since 1 January 1970. Throws RangeError when the text is not a real calendar date. */
function dayNumber(date: string): number {
  let days = known.get(date);
  if (days === undefined) {
    days = countDays(date);
    if (known.size >= KEPT) known.clear();
    known.set(date, days);
  }
  return days;
}

function countDays(date: string): number {
  const [, year, month, day] = ISO_DATE.exec(date) ?? [];
  const ms = Date.UTC(Number(year), Number(month) - 1, Number(day));
  if (Number.isNaN(ms) || new Date(ms).toISOString().slice(0, 10) !== date) {
    throw new RangeError(`Not a date: "${date}". Write it as YYYY-MM-DD, for example 2026-11-30.`);
  }
  return ms / MS_PER_DAY;
}

/** Whether the text is a real calendar date, 'YYYY-MM-DD'. */
export function isDate(text: string): boolean {
  try {
    dayNumber(text);
    return true;
  } catch {
    return false;
  }
}

/** The date `days` whole days later (earlier when negative). Throws RangeError on a bad date, a part day or a year outside 1000 to 9999. */
export function addDays(date: string, days: number): string {
  const ms = (dayNumber(date) + days) * MS_PER_DAY;
  const year = new Date(ms).getUTCFullYear();
  if (!Number.isInteger(days) || !(year >= 1000 && year <= 9999)) {
    throw new RangeError(`Cannot move ${date} by ${days} days. Use whole days and years 1000 to 9999.`);
  }
  return new Date(ms).toISOString().slice(0, 10);
}

/** Whole days from `from` to `to`; negative when `to` is earlier. Throws RangeError on a bad date. */
export function daysBetween(from: string, to: string): number {
  return dayNumber(to) - dayNumber(from);
}

/** Day of the week, 1 = Monday to 7 = Sunday (ISO 8601). Throws RangeError on a bad date. */
export function weekday(date: string): number {
  return new Date(dayNumber(date) * MS_PER_DAY).getUTCDay() || 7;
}

/** Negative when a is earlier than b, zero when equal, positive when later. Throws RangeError on a bad date. */
export function compareDates(a: string, b: string): number {
  return daysBetween(b, a);
}

/** A date for people: '2026-11-30' -> "30 Nov 2026". Throws RangeError on a bad date. */
export function sayDate(date: string): string {
  dayNumber(date);
  return `${Number(date.slice(8))} ${MONTHS[Number(date.slice(5, 7)) - 1]} ${date.slice(0, 4)}`;
}
