import { expect, test } from "vitest";
import { toInstant, toLocal } from "./zone-time.ts";

const NEW_YORK = "America/New_York";

test.each([
  ["winter", "2026-11-30T09:00", "2026-11-30T14:00:00.000Z"],
  ["summer", "2026-07-01T09:00", "2026-07-01T13:00:00.000Z"],
  ["midnight", "2026-11-30T00:00", "2026-11-30T05:00:00.000Z"],
  // United States law, 15 U.S.C. 260a: clocks go forward on the second Sunday of March, back on the first of November.
  ["the hour before spring forward", "2026-03-08T01:30", "2026-03-08T06:30:00.000Z"],
  ["the hour after spring forward", "2026-03-08T03:30", "2026-03-08T07:30:00.000Z"],
  ["the first of two", "2026-11-01T01:30", "2026-11-01T05:30:00.000Z"],
])("%s there and back", (_, local, instant) => {
  expect(toInstant(local, NEW_YORK)).toBe(instant);
  expect(toLocal(instant, NEW_YORK)).toBe(local);
});

test("a time the clock skips is the one an hour later", () => {
  expect(toLocal(toInstant("2026-03-08T02:30", NEW_YORK) ?? "", NEW_YORK)).toBe("2026-03-08T03:30");
});

test.each(["", "2026-11-30", "soon", "2026-13-40T09:00"])("%j is no time", (text) => {
  expect(toInstant(text, NEW_YORK)).toBeNull();
});

test("a place without summer time", () => {
  expect(toInstant("2026-07-01T09:00", "America/Phoenix")).toBe("2026-07-01T16:00:00.000Z");
});
