const calendars = new Map<string, Intl.DateTimeFormat>();

/** The calendar day of an instant in a time zone, as YYYY-MM-DD. Throws RangeError on a zone nobody knows. */
export function localDay(instant: Date, timezone: string): string {
  let calendar = calendars.get(timezone);
  if (!calendar) {
    // Asked at every request; making one costs more than a hundred uses of it.
    calendar = new Intl.DateTimeFormat("en-CA", { timeZone: timezone, dateStyle: "short" });
    calendars.set(timezone, calendar);
  }
  return calendar.format(instant);
}

export function isTimezone(timezone: string): boolean {
  try {
    new Intl.DateTimeFormat("en-US", { timeZone: timezone });
    return true;
  } catch {
    return false;
  }
}

/** A calendar day as Prisma wants it for a `date` column. */
export const toDate = (day: string): Date => new Date(`${day}T00:00:00Z`);
/** A `date` column as Prisma gives it, back to YYYY-MM-DD. */
export const toDay = (date: Date): string => date.toISOString().slice(0, 10);
