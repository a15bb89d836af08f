import { describe, expect, test } from "vitest";
import { addDays, compareDates, daysBetween, sayDate, weekday } from "./dates.ts";

describe("outside checks", () => {
  test("weekdays agree with Intl (the ICU calendar) on every day of 2023 to 2030", () => {
    const icu = new Intl.DateTimeFormat("en-US", { weekday: "short", timeZone: "UTC" });
    const names = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
    let days = 0;
    for (let d = "2023-01-01"; d <= "2030-12-31"; d = addDays(d, 1)) {
      expect(names[weekday(d) - 1], d).toBe(icu.format(new Date(`${d}T12:00:00Z`)));
      days += 1;
    }
    expect(days).toBe(2922); // eight years, two of them leap: 8 x 365 + 2
  });

  // The holidays that 5 USC 6103(a) fixes to a weekday, dates as in shared/federal-holidays.json.
  test.each([
    ["2026-01-19", 1, "Birthday of Martin Luther King, Jr., third Monday"],
    ["2026-05-25", 1, "Memorial Day, last Monday"],
    ["2026-11-26", 4, "Thanksgiving Day, fourth Thursday"],
    ["2027-09-06", 1, "Labor Day, first Monday"],
  ])("%s is ISO weekday %i: %s", (date, day) => expect(weekday(date)).toBe(day));
});

test("leap years follow the 4, 100, 400 rule", () => {
  expect(addDays("2024-02-28", 1)).toBe("2024-02-29");
  expect(addDays("2026-02-28", 1)).toBe("2026-03-01");
  expect(addDays("2100-02-28", 1)).toBe("2100-03-01");
  expect(addDays("2000-02-28", 1)).toBe("2000-02-29");
});

test("a day is a day across the clock changes of spring and autumn", () => {
  expect(daysBetween("2026-03-07", "2026-03-09")).toBe(2);
  expect(daysBetween("2026-11-01", "2026-10-31")).toBe(-1);
  expect(addDays("2026-01-01", -1)).toBe("2025-12-31");
});

test("dates sort", () => {
  expect(compareDates("2026-11-30", "2026-12-01")).toBeLessThan(0);
  expect(compareDates("2026-12-01", "2026-12-01")).toBe(0);
  expect(compareDates("2027-01-01", "2026-12-31")).toBeGreaterThan(0);
});

test("dates are said in plain words", () => {
  expect(sayDate("2026-11-30")).toBe("30 Nov 2026");
  expect(sayDate("2027-01-04")).toBe("4 Jan 2027");
});

test.each(["2026-02-30", "2026-13-01", "2026-1-1", "0026-01-01", "", "today", "2026-11-30T00:00:00Z"])(
  "%s is refused as a date",
  (bad) => {
    expect(() => weekday(bad)).toThrow(RangeError);
    expect(() => addDays(bad, 1)).toThrow(/YYYY-MM-DD/);
    expect(() => sayDate(bad)).toThrow(RangeError);
  },
);

test.each([0.5, Number.NaN, Number.POSITIVE_INFINITY, 9_000_000])("moving by %d days is refused", (days) => {
  expect(() => addDays("2026-11-30", days)).toThrow(RangeError);
});
