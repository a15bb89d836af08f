import type { Finding } from "@ledgerboard/contracts/assessment";
import { PLAUSIBILITY_RULES } from "@ledgerboard/estimating";
import { describe, expect, it } from "vitest";
import { countOf, mergeRemarks, placer, RULES_OF_THE_PAST, standInTheWay } from "./plausible.ts";

const passed = { why: "measured twice", by: "Wren", at: "2026-11-25T09:00:00Z" };
const finding = (change: Partial<Finding>): Finding => ({
  key: "more|line:a|quantity|is=9",
  ruleId: "more_than_exists",
  severity: "blocking",
  zoneId: "zone-1",
  lineageId: "a",
  field: "quantity",
  numbers: { is: "9" },
  words: "More is replaced than exists.",
  source: "Common practice, no source",
  passed: null,
  ...change,
});
const past = finding({ key: "past|line:a", ruleId: "hours_outside_past", severity: "note" });
const nothing = new Set<string>();

describe("remarks of the page and of the service", () => {
  it("stand as they are typed, with the reason given for the same numbers", () => {
    const stored = [finding({ passed }), finding({ key: "more|line:a|quantity|is=12", passed })];
    const merged = mergeRemarks([finding({})], stored, nothing);
    expect(merged).toEqual([finding({ passed })]);
    const other = finding({ key: "more|line:a|quantity|is=10" });
    expect(mergeRemarks([other], stored, nothing)[0]?.passed).toBeNull();
  });
  it("take over what only the past can tell, until the line is being changed", () => {
    expect(mergeRemarks([], [past], nothing)).toEqual([past]);
    expect(mergeRemarks([], [past], new Set(["a"]))).toEqual([]);
    expect(mergeRemarks([], [past], new Set(["b"]))).toEqual([past]);
    const ofZone = { ...past, lineageId: null, ruleId: "price_outside_past" };
    expect(mergeRemarks([], [ofZone], new Set(["b"]))).toEqual([]);
  });
  it("stand with the weightiest first", () => {
    const merged = mergeRemarks(
      [finding({ key: "n", severity: "note" }), finding({ key: "b" })],
      [past],
      nothing,
    );
    expect(merged.map(({ severity }) => severity)).toEqual(["blocking", "note", "note"]);
  });
  it("know the rules of the past by the names they have", () => {
    const names = PLAUSIBILITY_RULES.map(({ id }) => id);
    expect(names).toEqual(expect.arrayContaining([...RULES_OF_THE_PAST]));
    expect(names.filter((id) => id.endsWith("_past")).toSorted()).toEqual(RULES_OF_THE_PAST.toSorted());
  });
});

it("only blocking remarks without a reason stand in the way", () => {
  const all = [finding({}), finding({ key: "x", passed }), finding({ key: "w", severity: "warning" })];
  expect(standInTheWay(all).map(({ key }) => key)).toEqual([finding({}).key]);
  expect(countOf(all).map(({ severity, open }) => [severity, open.length])).toEqual([
    ["blocking", 1],
    ["warning", 1],
  ]);
});

it("a place of which the same is said keeps its list", () => {
  const place = placer();
  const first = place([finding({}), finding({ key: "z", lineageId: null })]);
  const next = place([finding({}), finding({ key: "z2", lineageId: null })]);
  expect(next.line("a")).toBe(first.line("a"));
  expect(next.zone("zone-1")).not.toBe(first.zone("zone-1"));
  expect(next.job).toEqual([]);
  const answered = place([finding({ passed })]);
  expect(answered.line("a")[0]?.passed).toEqual(passed);
});
