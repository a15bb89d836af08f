/** Arithmetic on local calendar days, `YYYY-MM-DD`. No clock and no time zone is involved. */

const DAY_MS = 86_400_000;
const utc = (day: string): number => Date.parse(`${day}T00:00:00Z`);

export const addDays = (day: string, days: number): string =>
  new Date(utc(day) + days * DAY_MS).toISOString().slice(0, 10);

/** Days from `from` to `to`, negative when `to` is earlier. */
export const daysBetween = (from: string, to: string): number => Math.round((utc(to) - utc(from)) / DAY_MS);

/** 1 Monday to 7 Sunday. */
export const weekday = (day: string): number => new Date(utc(day)).getUTCDay() || 7;

/** The first days of the months that begin after `from` and not after `to`. */
export function monthStarts(from: string, to: string): string[] {
  const starts: string[] = [];
  let [year = 0, month = 1] = from.split("-").map(Number);
  for (;;) {
    month += 1;
    if (month > 12) [year, month] = [year + 1, 1];
    const first = `${year}-${String(month).padStart(2, "0")}-01`;
    if (first > to) return starts;
    starts.push(first);
  }
}
