import { addDays, compareDates, weekday } from "@ledgerboard/contracts/dates";
import { divide, multiply, ratio } from "@ledgerboard/contracts/money";

/** Which days a crew works: weekdays 1 = Monday to 7 = Sunday, less the named closed days. */
export interface WorkCalendar {
  weekdays: readonly number[];
  closures: readonly { on: string; why: string }[];
}

/** A crew on a job for a run of days; both ends belong to the run. */
export interface CrewBooking {
  id: string;
  crewId: string;
  startOn: string;
  endOn: string;
}

/** Ten years: no real calendar closes for so long, so a longer search means the calendar is wrong. */
const LONGEST_SEARCH_DAYS = 3_660;
const LONGEST_RUN = 1_000;

/** Whether the crew works on that date. Throws RangeError on a bad date. */
export function isWorkday(date: string, calendar: WorkCalendar): boolean {
  return calendar.weekdays.includes(weekday(date)) && !calendar.closures.some((c) => c.on === date);
}

/**
 * The last day of a run of `crewDays` workdays that begins on the first workday on or after `start`.
 * `crewDays` is a whole number from 1 to 1,000. Throws RangeError outside that range, on a bad date, and
 * when the calendar leaves no workday to place the run on.
 */
export function addWorkdays(start: string, crewDays: number, calendar: WorkCalendar): string {
  if (!Number.isInteger(crewDays) || crewDays < 1 || crewDays > LONGEST_RUN) {
    throw new RangeError(
      `A run must be a whole number of crew days from 1 to ${LONGEST_RUN}, not ${crewDays}.`,
    );
  }
  let day = start;
  let left = crewDays;
  let idle = 0;
  for (;;) {
    if (isWorkday(day, calendar)) {
      left -= 1;
      idle = 0;
      if (left === 0) return day;
    } else {
      idle += 1;
      if (idle > LONGEST_SEARCH_DAYS) {
        throw new RangeError("The calendar has no workdays. Give the crew at least one weekday to work on.");
      }
    }
    day = addDays(day, 1);
  }
}

/** How many workdays lie from `from` to `to`, both counted; 0 when `to` is earlier. Throws RangeError on a bad date. */
export function workdaysBetween(from: string, to: string, calendar: WorkCalendar): number {
  let count = 0;
  for (let day = from; compareDates(day, to) <= 0; day = addDays(day, 1)) {
    if (isWorkday(day, calendar)) count += 1;
  }
  return count;
}

/**
 * The bookings that share a crew and at least one day with the candidate. A booking with the candidate's
 * own id is left out, so that a booking can be moved over its old days. Throws RangeError when the
 * candidate ends before it starts.
 */
export function bookingConflicts<T extends CrewBooking>(bookings: readonly T[], candidate: CrewBooking): T[] {
  if (compareDates(candidate.endOn, candidate.startOn) < 0) {
    throw new RangeError(`The booking ends on ${candidate.endOn}, before it starts on ${candidate.startOn}.`);
  }
  return bookings.filter(
    (b) =>
      b.crewId === candidate.crewId &&
      b.id !== candidate.id &&
      compareDates(b.startOn, candidate.endOn) <= 0 &&
      compareDates(candidate.startOn, b.endOn) <= 0,
  );
}

/**
 * Crew days a job takes: labor hours shared by the crew, rounded up to whole days, at least one.
 * `hours` is decimal text of labor hours (one person, one hour), zero or more; `crewSize` whole people, one
 * or more; `hoursPerDay` the hours one person works in a day, above 0 to 24, decimals as text ("7.5").
 * Exact: 48 hours for 3 people is 2 days, 48.01 is 3. Throws RangeError outside those ranges.
 */
export function crewDays(hours: string, crewSize: number, hoursPerDay: number | string = 8): number {
  const work = ratio(hours);
  const day = ratio(hoursPerDay);
  if (work.num < 0n) throw new RangeError(`Hours cannot be below zero: ${hours}.`);
  if (!Number.isInteger(crewSize) || crewSize < 1) {
    throw new RangeError(`A crew needs at least one person, not ${crewSize}.`);
  }
  if (day.num <= 0n || day.num > 24n * day.den) {
    throw new RangeError(`Hours in a day must be above 0 and at most 24, not ${hoursPerDay}.`);
  }
  const days = divide(work, multiply(ratio(crewSize), day));
  const whole = Number((days.num + days.den - 1n) / days.den);
  return Math.max(1, whole);
}
