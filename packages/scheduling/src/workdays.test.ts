import { addDays } from "@ledgerboard/contracts/dates";
import { describe, expect, test } from "vitest";
import { addWorkdays, bookingConflicts, crewDays, isWorkday, workdaysBetween } from "./workdays.ts";

const week = { weekdays: [1, 2, 3, 4, 5], closures: [{ on: "2026-11-26", why: "Thanksgiving Day" }] };

describe("workdays", () => {
  test("weekends and closed days are not worked", () => {
    expect(isWorkday("2026-11-25", week)).toBe(true); // Wednesday
    expect(isWorkday("2026-11-26", week)).toBe(false); // closed Thursday
    expect(isWorkday("2026-11-28", week)).toBe(false); // Saturday
    expect(isWorkday("2026-11-28", { weekdays: [6], closures: [] })).toBe(true);
  });

  test.each([
    ["2026-11-23", 1, "2026-11-23", "a one-day run on a workday ends where it starts"],
    ["2026-11-25", 2, "2026-11-27", "the closed Thursday is passed over"],
    ["2026-11-25", 3, "2026-11-30", "closed Thursday, then the weekend"],
    ["2026-11-28", 1, "2026-11-30", "a start on Saturday moves to Monday"],
    ["2026-12-31", 2, "2027-01-01", "over the year"],
  ])("from %s, %i crew days end on %s: %s", (start, n, end) => {
    expect(addWorkdays(start, n, week)).toBe(end);
  });

  test("outside check: 260 or 261 weekdays in a year, counted by Date.getUTCDay", () => {
    const open = { weekdays: [1, 2, 3, 4, 5], closures: [] };
    for (const year of [2024, 2025, 2026, 2027, 2028]) {
      let expected = 0;
      for (let t = Date.UTC(year, 0, 1); t < Date.UTC(year + 1, 0, 1); t += 86_400_000) {
        const day = new Date(t).getUTCDay();
        if (day !== 0 && day !== 6) expected += 1;
      }
      expect(workdaysBetween(`${year}-01-01`, `${year}-12-31`, open)).toBe(expected);
    }
  });

  test("a run of n crew days holds n workdays, whatever day it is asked for", () => {
    for (let start = "2026-11-01"; start <= "2026-12-31"; start = addDays(start, 1)) {
      for (const n of [1, 2, 5, 9]) {
        const end = addWorkdays(start, n, week);
        expect(workdaysBetween(start, end, week), `${start} + ${n}`).toBe(n);
        expect(isWorkday(end, week)).toBe(true);
      }
    }
  });

  test("between counts both ends and is 0 backwards", () => {
    expect(workdaysBetween("2026-11-23", "2026-11-23", week)).toBe(1);
    expect(workdaysBetween("2026-11-24", "2026-11-23", week)).toBe(0);
  });

  test("a calendar without workdays is refused in plain words, not searched for ever", () => {
    expect(() => addWorkdays("2026-11-23", 1, { weekdays: [], closures: [] })).toThrow(RangeError);
    expect(() => addWorkdays("2026-11-23", 1, { weekdays: [], closures: [] })).toThrow(/no workdays/);
  });

  test.each([0, -1, 1.5, 1001, Number.NaN])("a run of %d days is refused", (n) => {
    expect(() => addWorkdays("2026-11-23", n, week)).toThrow(/whole number of crew days/);
  });
});

describe("booking conflicts", () => {
  const booked = [
    { id: "a", crewId: "red", startOn: "2026-12-01", endOn: "2026-12-03" },
    { id: "b", crewId: "red", startOn: "2026-12-04", endOn: "2026-12-04" },
    { id: "c", crewId: "blue", startOn: "2026-12-01", endOn: "2026-12-04" },
  ];
  const hits = (candidate: { id: string; crewId: string; startOn: string; endOn: string }) =>
    bookingConflicts(booked, candidate).map((b) => b.id);

  test.each([
    ["2026-12-03", "2026-12-03", ["a"], "one shared day"],
    ["2026-12-03", "2026-12-04", ["a", "b"], "across two"],
    ["2026-11-30", "2026-12-10", ["a", "b"], "around both"],
    ["2026-12-02", "2026-12-02", ["a"], "inside"],
    ["2026-11-27", "2026-11-30", [], "ends the day before"],
    ["2026-12-05", "2026-12-06", [], "starts the day after"],
  ])("%s to %s meets %j: %s", (startOn, endOn, expected) => {
    expect(hits({ id: "new", crewId: "red", startOn, endOn })).toEqual(expected);
  });

  test("another crew does not conflict, and a booking does not conflict with itself", () => {
    expect(hits({ id: "new", crewId: "green", startOn: "2026-12-01", endOn: "2026-12-04" })).toEqual([]);
    expect(hits({ id: "a", crewId: "red", startOn: "2026-12-02", endOn: "2026-12-03" })).toEqual([]);
  });

  test("a booking that ends before it starts is refused", () => {
    expect(() => hits({ id: "n", crewId: "red", startOn: "2026-12-02", endOn: "2026-12-01" })).toThrow(
      RangeError,
    );
  });
});

describe("crew days", () => {
  test.each([
    ["48", 3, 8, 2],
    ["48.01", 3, 8, 3],
    ["48.000001", 3, 8, 3],
    ["0", 2, 8, 1],
    ["0.5", 2, 8, 1],
    ["16", 2, 8, 1],
    ["22.5", 1, "7.5", 3], // 22.5 / 7.5 is exactly 3
    ["0.3", 1, "0.1", 3], // 0.3 / 0.1 is above 3 in binary floating point
    ["999999999999", 1, 8, 125_000_000_000],
  ])("%s hours, crew of %i, %s hours a day: %i days", (hours, size, perDay, days) => {
    expect(crewDays(hours, size, perDay)).toBe(days);
  });

  test("eight hours a day unless told otherwise", () => expect(crewDays("17", 2)).toBe(2));

  test.each([
    ["-1", 2, 8],
    ["8", 0, 8],
    ["8", 1.5, 8],
    ["8", 2, 0],
    ["8", 2, 25],
    ["eight", 2, 8],
  ])("%s hours, crew of %d, %d hours a day is refused", (hours, size, perDay) => {
    expect(() => crewDays(hours, size, perDay)).toThrow(RangeError);
  });
});
