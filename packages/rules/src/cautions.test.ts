import { COMPONENTS, type Component } from "@ledgerboard/contracts/vocabulary";
import { describe, expect, test } from "vitest";
import { workCautions } from "./cautions.ts";

const ids = (yearBuilt: number | null, components: Component[], salt = false) =>
  workCautions({ yearBuilt, components, salt }).map((c) => c.id);

describe("which cautions are printed", () => {
  test.each<[string, number | null, Component[], boolean, string[]]>([
    [
      "house of 1977 (40 CFR 745.103: built before 1978)",
      1977,
      ["rail"],
      false,
      ["lead_paint", "falls", "old_treated_wood"],
    ],
    ["house of 1978", 1978, ["rail"], false, ["falls", "old_treated_wood"]],
    ["year not known is treated as old", null, ["rail"], false, ["lead_paint", "falls", "old_treated_wood"]],
    [
      "house of 2004: old stock was still sold (CPSC/EPA guidance)",
      2004,
      ["joist"],
      false,
      ["falls", "old_treated_wood"],
    ],
    ["house of 2005", 2005, ["joist"], false, ["falls"]],
    ["footings are dug, at ground level, not of wood", 2005, ["footing"], false, ["call_before_dig"]],
    ["posts are dug and stand high", 2005, ["post"], false, ["falls", "call_before_dig"]],
    ["skirting at ground level", 1990, ["skirting"], false, ["old_treated_wood"]],
    ["fasteners alone are not treated wood", 1990, ["fastener"], false, ["falls"]],
    ["salt water near by", 2010, ["joist_hanger"], true, ["falls", "salt"]],
    ["salt, but no metal in the work", 2010, ["finish"], true, ["falls"]],
    ["no work, no caution", 1950, [], true, []],
  ])("%s", (_, year, components, salt, expected) => expect(ids(year, components, salt)).toEqual(expected));

  test("everything at an old house by the sea", () => {
    expect(ids(1950, [...COMPONENTS], true)).toEqual([
      "lead_paint",
      "falls",
      "old_treated_wood",
      "call_before_dig",
      "salt",
    ]);
  });
});

test("each caution has words and a source, and defers to local codes and licensed practice", () => {
  for (const c of workCautions({ yearBuilt: null, components: [...COMPONENTS], salt: true })) {
    expect(c.words.length).toBeGreaterThan(40);
    expect(c.source).toMatch(/CFR|USC|IRC|CPSC/);
    expect(c.defer).toMatch(/local codes/i);
    expect(c.defer).toMatch(/licensed practice/);
  }
});
