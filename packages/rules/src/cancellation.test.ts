import { describe, expect, test } from "vitest";
import worked from "../../../shared/worked-cancellations.json" with { type: "json" };
import { cancellation } from "./cancellation.ts";

const home = (signedOn: string) => cancellation({ signedOn, signedAt: "home", contractCents: 1_192_000 });

describe("outside check: dates counted from 16 CFR 429.0 and 429.1, in shared/worked-cancellations.json", () => {
  test("there are sixteen", () => expect(worked.rows).toHaveLength(16));

  test.each(worked.rows)("$no. signed $signed: $why", (row) => {
    const right = home(row.signed);
    expect(right.lastDay).toBe(row.last_day_conservative);
    expect(right.literalLastDay).toBe(row.last_day_literal);
    expect(right.unsure).toBe(row.readings_differ);
    // Days the worked example skips in its literal count are skipped here too, for the same reason.
    for (const line of row.count_literal) {
      const [, on, why] = /^(\S+) \S+ skipped: (.+)$/.exec(line) ?? [];
      if (on) expect(right.skipped).toContainEqual({ on, why });
    }
  });
});

test("an observed day is named as one", () => {
  expect(home("2026-07-01").skipped).toEqual([
    { on: "2026-07-03", why: "Independence Day (observed)" },
    { on: "2026-07-04", why: "Independence Day" },
    { on: "2026-07-05", why: "Sunday" },
  ]);
  expect(home("2027-12-29").skipped).toContainEqual({ on: "2027-12-31", why: "New Year's Day (observed)" });
});

test("the day after Thanksgiving counts", () => {
  expect(home("2026-11-25")).toMatchObject({ applies: true, lastDay: "2026-11-30", unsure: false });
});

test("the last day is never earlier than the third day, nor than the literal count", () => {
  for (let t = Date.UTC(2026, 0, 1); t < Date.UTC(2030, 0, 1); t += 86_400_000) {
    const signed = new Date(t).toISOString().slice(0, 10);
    const right = home(signed);
    const third = new Date(t + 3 * 86_400_000).toISOString().slice(0, 10);
    expect((right.lastDay ?? "") >= (right.literalLastDay ?? "9"), signed).toBe(true);
    expect((right.literalLastDay ?? "") >= third, signed).toBe(true);
    expect(
      right.skipped.some((s) => s.on === right.lastDay),
      signed,
    ).toBe(false);
  }
});

describe("where the right applies", () => {
  test.each([
    ["home", 2_500, true],
    ["home", 2_499, false],
    ["remote", 2_500, true],
    ["office", 1_000_000, false],
  ] as const)("signed at %s for %i cents: %s", (signedAt, contractCents, applies) => {
    const right = cancellation({ signedOn: "2026-11-25", signedAt, contractCents });
    expect(right.applies).toBe(applies);
    expect(right.lastDay === null).toBe(!applies);
    expect(right.rule).not.toBe("");
    expect(right).toMatchObject({
      source: "16 CFR 429.0, 429.1; 5 USC 6103",
      checkLocalLaw: "Check local law.",
    });
  });
});

test.each(["2026-02-30", "tomorrow", "", "2020-06-18"])("signed on %s is refused", (signedOn) => {
  expect(() => home(signedOn)).toThrow(RangeError);
});

test("a price below zero is refused", () => {
  expect(() => cancellation({ signedOn: "2026-11-25", signedAt: "home", contractCents: -1 })).toThrow(
    RangeError,
  );
});
