import { weekday } from "@ledgerboard/contracts/dates";
import { describe, expect, test } from "vitest";
import table from "../../../shared/federal-holidays.json" with { type: "json" };
import { holidays } from "./holidays.ts";

const DAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];

describe("outside check: the table in shared/federal-holidays.json, which agrees with an independent library", () => {
  test.each(table.rows)("$holiday $date, observed $observed_date", (row) => {
    const found = holidays(Number(row.date.slice(0, 4))).find((h) => h.name === row.holiday);
    expect(found).toEqual({ name: row.holiday, on: row.date, observed: row.observed_date });
    expect(DAYS[weekday(row.date) - 1]).toBe(row.weekday);
    expect(DAYS[weekday(row.observed_date) - 1]).toBe(row.observed_weekday);
  });

  test("2026 and 2027 hold nothing besides", () => {
    for (const year of [2026, 2027]) {
      expect(holidays(year).map((h) => h.on)).toEqual(
        table.rows.map((r) => r.date).filter((d) => d.startsWith(`${year}`)),
      );
    }
  });
});

test("eleven a year, in order, observed on a working weekday no more than a day away", () => {
  for (let year = 2021; year <= 2199; year += 1) {
    const days = holidays(year);
    expect(days).toHaveLength(11);
    expect(days.map((h) => h.on)).toEqual(days.map((h) => h.on).toSorted());
    for (const h of days) {
      expect(weekday(h.observed), `${h.name} ${year}`).toBeLessThan(6);
      expect(Math.abs(Date.parse(h.observed) - Date.parse(h.on))).toBeLessThanOrEqual(86_400_000);
      expect(h.observed === h.on).toBe(weekday(h.on) < 6);
    }
  }
});

test.each([2020, 2200, 2026.5, Number.NaN])("the year %d is refused", (year) => {
  expect(() => holidays(year)).toThrow(RangeError);
});
