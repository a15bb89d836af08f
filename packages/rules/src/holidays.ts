import { addDays, weekday } from "@ledgerboard/contracts/dates";

/** A federal holiday: the date in the statute, and the day off when that date falls on a weekend. */
export interface FederalHoliday {
  name: string;
  on: string;
  observed: string;
}

/** Juneteenth joined the list in June 2021; the years before had another list. */
const FIRST_YEAR = 2021;
const LAST_YEAR = 2199;

const SATURDAY = 6;
const SUNDAY = 7;

/**
 * The eleven federal holidays whose statutory date falls in `year` (2021 to 2199), in order of date. The
 * observed day of New Year's Day can lie in the year before.
 *
 * Dates: 5 USC 6103(a) as amended by Pub. L. 117-17. Observed days: 6103(b) moves a Saturday to the Friday
 * before, Executive Order 11582 a Sunday to the Monday after. Inauguration Day (6103(c), Washington area
 * only) and days closed by a president's order are left out. Throws RangeError for any other year.
 */
export function holidays(year: number): FederalHoliday[] {
  if (!Number.isInteger(year) || year < FIRST_YEAR || year > LAST_YEAR) {
    throw new RangeError(`Federal holidays are known for ${FIRST_YEAR} to ${LAST_YEAR}, not for ${year}.`);
  }
  return [
    fixed("New Year's Day", `${year}-01-01`),
    nth("Birthday of Martin Luther King, Jr.", `${year}-01-01`, 1, 3),
    nth("Washington's Birthday", `${year}-02-01`, 1, 3),
    lastMonday("Memorial Day", `${year}-05-31`),
    fixed("Juneteenth National Independence Day", `${year}-06-19`),
    fixed("Independence Day", `${year}-07-04`),
    nth("Labor Day", `${year}-09-01`, 1, 1),
    nth("Columbus Day", `${year}-10-01`, 1, 2),
    fixed("Veterans Day", `${year}-11-11`),
    nth("Thanksgiving Day", `${year}-11-01`, 4, 4),
    fixed("Christmas Day", `${year}-12-25`),
  ];
}

function fixed(name: string, on: string): FederalHoliday {
  const day = weekday(on);
  const shift = day === SATURDAY ? -1 : day === SUNDAY ? 1 : 0;
  return { name, on, observed: addDays(on, shift) };
}

function nth(name: string, firstOfMonth: string, day: number, count: number): FederalHoliday {
  const toFirst = (day - weekday(firstOfMonth) + 7) % 7;
  const on = addDays(firstOfMonth, toFirst + 7 * (count - 1));
  return { name, on, observed: on };
}

function lastMonday(name: string, lastOfMonth: string): FederalHoliday {
  const on = addDays(lastOfMonth, 1 - weekday(lastOfMonth));
  return { name, on, observed: on };
}
