import { describe, expect, it } from "vitest";
import { flatRates } from "../pricing/rates.fixture.ts";
import { compareRevisions } from "./compare.ts";
import type { ComparableLine } from "./differences.ts";
import type { MaterialityPolicy } from "./materiality.ts";

const terms = { overheadBp: 0, marginBp: 0, materialTaxBp: 0, minimumChargeCents: 0, roundUpToCents: 0 };
const strict: MaterialityPolicy = {
  amountCents: 500_00,
  percentBp: 1000,
  hours: "8",
  structuralAction: true,
};

/** One unit that costs `cents` and takes `hours` (labor itself free), so that price and hours move independently. */
const line = (cents: number, change: Partial<ComparableLine> = {}, hours = "0"): ComparableLine => ({
  id: "1",
  lineageId: "a",
  zoneId: "z1",
  zoneName: "Lower deck",
  component: "decking",
  action: "replace",
  assemblyCode: null,
  unit: "lot",
  evidence: "assumed",
  reasonCode: null,
  reason: null,
  quantity: "1",
  by: "us",
  rates: flatRates({
    materialUnitCents: String(cents),
    wasteBp: 0,
    hoursPerUnit: hours,
    laborRateCode: "CARP",
    laborHourlyCents: 0,
    laborBurdenBp: 0,
  }),
  ...change,
});
const judge = (before: ComparableLine[], after: ComparableLine[], policy = strict) =>
  compareRevisions({ lines: before, terms }, { lines: after, terms }, policy).verdict;
const rule = (name: string, ...args: Parameters<typeof judge>) => {
  const verdict = judge(...args);
  const found = verdict.rules.find((r) => r.rule === name);
  if (!found) throw new Error(`no rule ${name}`);
  expect(verdict.material).toBe(verdict.rules.some((r) => r.fired));
  return found;
};

describe("price rule", () => {
  it("reads like a sentence", () => {
    expect(rule("price", [line(11_907_00)], [line(9597_00)])).toEqual({
      rule: "price",
      fired: true,
      measured: "−$2,310 (19.4%)",
      limit: "the larger of $500 and 10%",
      words: "Price moved −$2,310 (19.4%); limit is the larger of $500 and 10%.",
    });
  });

  it.each([
    ["a cent under the amount", 1000_00, 1499_99, false],
    ["the amount exactly", 1000_00, 1500_00, true],
    ["the amount exactly, down", 1000_00, 500_00, true],
    ["past the amount, a cent under the percent", 10_000_00, 10_999_99, false],
    ["the percent exactly", 10_000_00, 11_000_00, true],
    ["the percent exactly, down", 10_000_00, 9000_00, true],
  ])("%s", (_name, before, after, fired) => {
    expect(rule("price", [line(before)], [line(after)]).fired).toBe(fired);
  });

  it("compares the percent exactly, not as printed", () => {
    // 10% of $5,000.05 is 50000.5 cents, so 50000 is under it and 50001 is over.
    expect(rule("price", [line(500_005)], [line(550_005)]).fired).toBe(false);
    expect(rule("price", [line(500_005)], [line(550_006)]).fired).toBe(true);
  });

  it("does not print a percent that seems to reach the limit when it does not", () => {
    expect(rule("price", [line(10_000_00)], [line(10_999_99)]).measured).toBe("+$999.99 (just under 10%)");
    expect(rule("price", [line(10_000_00)], [line(11_000_00)]).measured).toBe("+$1,000 (10%)");
    expect(rule("price", [line(10_000_00)], [line(10_990_00)]).measured).toBe("+$990 (9.9%)");
  });

  it("says from nothing when there was no price", () => {
    expect(rule("price", [], [line(600_00)])).toMatchObject({
      fired: true,
      measured: "+$600 (from nothing)",
      words: "Price moved +$600 (from nothing); limit is the larger of $500 and 10%.",
    });
  });

  it("never fires on no change, even with limits of zero", () => {
    const zero = { ...strict, amountCents: 0, percentBp: 0 };
    expect(rule("price", [line(600_00)], [line(600_00)], zero)).toMatchObject({
      fired: false,
      words: "Price did not move; limit is the larger of $0 and 0%.",
    });
    expect(rule("price", [line(600_00)], [line(600_01)], zero)).toMatchObject({
      fired: true,
      measured: "+$0.01 (under 0.1%)",
    });
  });
});

describe("hours rule", () => {
  const timed = (hours: string) => line(100, {}, hours);
  it.each([
    ["under", "2", "9.9999", false, "Labor moved +7.9999 hours; limit is 8 hours."],
    ["at the limit", "2", "10", true, "Labor moved +8 hours; limit is 8 hours."],
    ["at the limit, down", "10", "2", true, "Labor moved −8 hours; limit is 8 hours."],
    ["no move", "2", "2", false, "Labor did not move; limit is 8 hours."],
    ["one hour", "2", "3", false, "Labor moved +1 hour; limit is 8 hours."],
  ])("%s", (_name, before, after, fired, words) => {
    expect(rule("hours", [timed(before)], [timed(after)])).toMatchObject({ fired, words });
  });

  it("does not fire when the policy sets no limit", () => {
    expect(rule("hours", [timed("2")], [timed("200")], { ...strict, hours: null })).toEqual({
      rule: "hours",
      fired: false,
      measured: "+198 hours",
      limit: "no limit",
      words: "Labor moved +198 hours; the policy sets no limit.",
    });
  });

  it("a limit of zero still needs a move", () => {
    expect(rule("hours", [timed("2")], [timed("2")], { ...strict, hours: "0" }).fired).toBe(false);
  });
});

describe("structural rule", () => {
  const joist = (change: Partial<ComparableLine> = {}) =>
    line(100, { component: "joist", action: "keep", ...change });
  it.each([
    ["action changed", [joist()], [joist({ action: "sister" })], true],
    ["action changed to keep", [joist({ action: "replace" })], [joist()], true],
    ["only the quantity changed", [joist()], [joist({ quantity: "2" })], false],
    [
      "only who does it changed",
      [joist({ action: "replace" })],
      [joist({ action: "replace", by: "owner" })],
      false,
    ],
    [
      "only the assembly changed",
      [joist({ action: "replace" })],
      [joist({ action: "replace", assemblyCode: "J" })],
      false,
    ],
    ["component became structural", [line(100)], [joist({ action: "replace" })], true],
    ["kept line added", [], [joist()], false],
    ["kept line removed", [joist()], [], false],
    ["worked line added", [], [joist({ action: "add" })], true],
    ["worked line removed", [joist({ action: "repair" })], [], true],
    ["not structural", [line(100)], [line(100, { action: "repair" })], false],
  ])("%s", (_name, before, after, fired) => {
    expect(rule("structural_action", before, after).fired).toBe(fired);
  });

  it("names the lines", () => {
    const before = [joist(), line(100, { lineageId: "b", component: "rim_joist", action: "replace" })];
    const after = [
      joist({ action: "sister" }),
      line(100, { lineageId: "c", component: "post", action: "add", zoneName: "Porch" }),
    ];
    expect(rule("structural_action", before, after)).toEqual({
      rule: "structural_action",
      fired: true,
      measured: "3 lines",
      limit: "none",
      words:
        "Structural work changed on 3 lines: Lower deck joist (keep, now sister); Lower deck rim joist (replace, " +
        "taken out); Porch post (add, new). Any such change counts.",
    });
  });

  it("names five lines and counts the rest", () => {
    const many = Array.from({ length: 7 }, (_, i) =>
      joist({ lineageId: `j${i}`, zoneName: `Bay ${i + 1}`, action: "add" }),
    );
    expect(rule("structural_action", [], many).words).toBe(
      "Structural work changed on 7 lines: Bay 1 joist (add, new); Bay 2 joist (add, new); Bay 3 joist (add, new); " +
        "Bay 4 joist (add, new); Bay 5 joist (add, new); and 2 more. Any such change counts.",
    );
  });

  it("says what the component became", () => {
    expect(rule("structural_action", [line(100)], [joist({ action: "replace" })]).words).toBe(
      "Structural work changed on 1 line: Lower deck decking (replace, now joist replace). Any such change counts.",
    );
  });

  it("says when nothing structural changed, and when the policy does not ask", () => {
    expect(rule("structural_action", [joist()], [joist()]).words).toBe("No structural work changed.");
    const relaxed = { ...strict, structuralAction: false };
    expect(rule("structural_action", [joist()], [joist({ action: "sister" })], relaxed)).toEqual({
      rule: "structural_action",
      fired: false,
      measured: "1 line",
      limit: "no limit",
      words:
        "Structural work changed on 1 line: Lower deck joist (keep, now sister). The policy does not count such changes.",
    });
  });
});

describe("policy", () => {
  it.each([
    ["amount", { amountCents: -1 }],
    ["fraction of a cent", { amountCents: 0.5 }],
    ["percent", { percentBp: -1 }],
    ["hours", { hours: "-1" }],
    ["hours text", { hours: "eight" }],
  ])("refuses a bad %s", (_name, change) => {
    expect(() => judge([line(1)], [line(1)], { ...strict, ...change })).toThrow(RangeError);
  });

  it("lists every rule, fired or not, in the same order", () => {
    expect(judge([], []).rules.map((r) => [r.rule, r.fired])).toEqual([
      ["price", false],
      ["hours", false],
      ["structural_action", false],
    ]);
  });
});
