import { addDays, daysBetween, weekday } from "@ledgerboard/contracts/dates";
import { expect, it } from "vitest";
import { monthStarts } from "./days.ts";
import * as f from "./format.ts";

it("writes days and runs of days", () => {
  expect(f.day("2026-11-30")).toBe("30 Nov");
  expect(f.day("2027-01-05", "2026-11-30")).toBe("5 Jan 2027");
  expect(f.longDay("2026-11-30")).toBe("Mon 30 Nov 2026");
  expect(f.dayRange("2026-11-03", "2026-11-10")).toBe("3–10 Nov");
  expect(f.dayRange("2026-11-28", "2026-12-04")).toBe("28 Nov–4 Dec");
  expect(f.dayRange("2026-11-28", "2026-11-28")).toBe("28 Nov");
});
it("writes an instant by the clock of the company", () => {
  expect(f.moment("2026-11-30T19:15:00Z", "America/New_York")).toBe("30 Nov, 2:15 pm");
});
it("writes money, changes, quantities and percent", () => {
  expect(f.money({ cents: 125050 })).toBe("$1,250.50");
  expect(f.moneyChange(61000)).toBe("+$610");
  expect(f.moneyChange(-478000)).toBe("−$4,780");
  expect(f.quantity("1200.5", "sqft")).toBe("1,200.5 sq ft");
  expect(f.quantity("26", "each")).toBe("26");
  expect(f.percent(1250)).toBe("12.5%");
  expect(f.percent(1205)).toBe("12.05%");
});
it("says what a price of one is for, and what stands behind a typed number", () => {
  expect(["each", "sqft", "hour"].map(f.forOne)).toEqual(["each", "a sq ft", "an hour"]);
  expect(["each", "lf"].map(f.unitSuffix)).toEqual(["", "ft"]);
});
it.each([
  ["12.5", "12.5 h"],
  ["12.5000", "12.5 h"],
  ["3.9433", "3.94 h"],
  ["2.808", "2.81 h"],
  ["2.005", "2.01 h"],
  ["0.9999", "1 h"],
  ["1234.999", "1,235 h"],
  ["40", "40 h"],
  ["0", "0 h"],
  ["0.0000", "0 h"],
  ["0.004", "under 0.01 h"],
])("writes %s hours as %s", (value, text) => expect(f.hours(value)).toBe(text));
it("counts in words up to twelve", () => {
  expect(f.plural(1, "job")).toBe("one job");
  expect(f.plural(12, "job")).toBe("twelve jobs");
  expect(f.plural(9874, "inquiry", "inquiries")).toBe("9,874 inquiries");
});
it("reckons with days over months, leap days and clock changes", () => {
  expect(addDays("2028-02-28", 1)).toBe("2028-02-29");
  expect(addDays("2026-11-01", 1)).toBe("2026-11-02");
  expect(daysBetween("2026-10-31", "2026-11-29")).toBe(29);
  expect(weekday("2026-11-29")).toBe(7);
  expect(monthStarts("2026-11-29", "2027-02-01")).toEqual(["2026-12-01", "2027-01-01", "2027-02-01"]);
});
