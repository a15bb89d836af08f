import { addDays, weekday } from "@ledgerboard/contracts/dates";
import { holidays } from "@ledgerboard/rules";
import { addWorkdays, isWorkday, type WorkCalendar } from "@ledgerboard/scheduling";

const formatters = new Map<string, Intl.DateTimeFormat>();

/** Milliseconds by which the clocks of a time zone are ahead of UTC at an instant. */
function ahead(ms: number, timezone: string): number {
  let formatter = formatters.get(timezone);
  if (!formatter) {
    formatter = new Intl.DateTimeFormat("sv-SE", {
      timeZone: timezone,
      dateStyle: "short",
      timeStyle: "medium",
    });
    formatters.set(timezone, formatter);
  }
  return Date.parse(`${formatter.format(ms).replace(" ", "T")}Z`) - ms;
}

/** The instant, in milliseconds since 1970, at which the clocks of a time zone show a day and minutes past midnight. */
export function instantOf(day: string, minutes: number, timezone: string): number {
  const shown = Date.parse(`${day}T00:00:00Z`) + minutes * 60_000;
  const first = shown - ahead(shown, timezone);
  return shown - ahead(first, timezone);
}

/** Federal holidays on which small contractors commonly close (common practice, no source), and the day after Thanksgiving. */
const CLOSED = new Set(["New Year's Day", "Memorial Day", "Independence Day", "Labor Day", "Christmas Day"]);

export function closedDays(from: string, to: string): { on: string; why: string }[] {
  const days: { on: string; why: string }[] = [];
  for (let year = Number(from.slice(0, 4)); year <= Number(to.slice(0, 4)); year++) {
    for (const { name, on, observed } of holidays(year)) {
      if (CLOSED.has(name)) days.push({ on: observed, why: name });
      if (name !== "Thanksgiving Day") continue;
      days.push({ on, why: name }, { on: addDays(on, 1), why: "Day after Thanksgiving" });
    }
  }
  return days.filter(({ on }) => on >= from && on <= to && weekday(on) < 6);
}

/** A run of a crew's days; both ends belong to it. */
export interface Run {
  startOn: string;
  endOn: string;
}

/** Days of the story, counted from today. What is on record lies before today, so that it is never ahead of the clock. */
export class Days {
  readonly today: string;
  readonly calendar: WorkCalendar;

  constructor(today: string, closures: WorkCalendar["closures"]) {
    this.today = today;
    this.calendar = { weekdays: [1, 2, 3, 4, 5], closures };
  }

  /** The last workday at least `days` calendar days ago; at least one. */
  ago(days: number): string {
    let day = addDays(this.today, -Math.max(1, Math.round(days)));
    while (!isWorkday(day, this.calendar)) day = addDays(day, -1);
    return day;
  }

  /** The workday `count` workdays before `day`. */
  back(day: string, count: number): string {
    let found = day;
    for (let left = count; left > 0; ) {
      found = addDays(found, -1);
      if (isWorkday(found, this.calendar)) left -= 1;
    }
    return found;
  }

  /** The `count`th workday from `day` on: 1 is the day itself where it is one. */
  on(day: string, count = 1): string {
    return addWorkdays(day, count, this.calendar);
  }

  /** A day that many calendar days from today, earlier when negative. */
  from(days: number): string {
    return addDays(this.today, days);
  }
}
