import { describe, expect, test } from "vitest";
import data from "../../../shared/deck-code.json" with { type: "json" };
import { mixedMetals, neededProtection, protects } from "./corrosion.ts";
import { deckingWaste, joistSpacingCheck } from "./decking.ts";
import { filmFinish, finishWait } from "./finishing.ts";
import { guardHeightCheck, guardNeeded, guardOpeningCheck } from "./guards.ts";
import { ledgerEdges, ledgerFastenerCount, ledgerFastenerSpacing } from "./ledger.ts";
import { overhangCheck, overhangLimit } from "./overhang.ts";
import {
  handrailHeightCheck,
  handrailNeeded,
  openRiserCheck,
  riserCheck,
  stairWidthCheck,
  stringerSpacingCheck,
  stringerSpanCheck,
  treadCheck,
  variationCheck,
} from "./stairs.ts";

test("every value says where it comes from and how it is known", () => {
  for (const [id, record] of Object.entries(data.values)) {
    expect(record.source.length, id).toBeGreaterThan(3);
    expect(record.basis, id).toMatch(/^(page-seen|memory|common-practice)$/);
    expect(record.confidence, id).toMatch(/^(high|medium|low)$/);
    expect("address" in record, id).toBe(record.basis === "page-seen");
  }
});

describe("outside check: IRC 2018 limits, as county pages print them (addresses in shared/deck-code.json)", () => {
  test.each([
    ["guard at 30 in above the ground", guardNeeded(30), true, /30 in/],
    ["guard above it", guardNeeded(30.0625), false, /needs a guard/],
    ["guard of 36 in", guardHeightCheck({ heightIn: 36, onStair: false }), true, /least/],
    ["guard under it", guardHeightCheck({ heightIn: 35.9375, onStair: false }), false, /35 15\/16 in high/],
    ["stair guard of 34 in", guardHeightCheck({ heightIn: 34, onStair: true }), true, /stair guard/],
    ["stair guard under it", guardHeightCheck({ heightIn: 33, onStair: true }), false, /34 in is the least/],
    ["gap of 3 15/16 in", guardOpeningCheck({ openingIn: 3.9375, onStair: false }), true, /stop a 4 in/],
    ["a gap of exactly 4 in fails", guardOpeningCheck({ openingIn: 4, onStair: false }), false, /through/],
    ["4 in along a stair", guardOpeningCheck({ openingIn: 4, onStair: true }), true, /4 3\/8 in/],
    ["4 3/8 in along a stair", guardOpeningCheck({ openingIn: 4.375, onStair: true }), false, /through/],
    ["riser of 7 3/4 in", riserCheck(7.75), true, /7 3\/4 in/],
    ["riser above it", riserCheck(7.8125), false, /7 13\/16 in/],
    ["tread of 10 in", treadCheck(10), true, /10 in/],
    ["tread under it", treadCheck(9.9375), false, /least/],
    ["open riser", openRiserCheck(4), false, /sphere/],
    ["closed enough", openRiserCheck(3.9375), true, /sphere/],
    ["stair of 36 in", stairWidthCheck(36), true, /36 in wide/],
    ["narrower", stairWidthCheck(35), false, /35 in wide/],
    ["three risers", handrailNeeded(3), true, /3 risers/],
    ["four risers", handrailNeeded(4), false, /handrail/],
    ["handrail low", handrailHeightCheck(33.5), false, /34 to 38/],
    ["handrail high", handrailHeightCheck(38.5), false, /34 to 38/],
    ["handrail between", handrailHeightCheck(36), true, /34 to 38/],
    ["cut stringer of 6 ft", stringerSpanCheck({ runIn: 72, cut: true }), true, /6 ft/],
    ["longer", stringerSpanCheck({ runIn: 73, cut: true }), false, /post/],
    ["solid stringer", stringerSpanCheck({ runIn: 159, cut: false }), true, /13 ft 3 in/],
  ] as const)("%s", (_, check, ok, words) => {
    expect(check.ok).toBe(ok);
    expect(check.words).toMatch(words);
    expect(check.source).not.toBe("");
    expect(check.checkLocalCode).toMatch(/local code and licensed practice decide/i);
  });

  test("risers of one flight may differ by 3/8 in", () => {
    expect(variationCheck("risers", [7, 7.375, 7.25])).toMatchObject({ ok: true, measured: 0.375 });
    expect(variationCheck("risers", [7, 7.4375])).toMatchObject({ ok: false });
    expect(variationCheck("treads", [10, 10.5])?.words).toMatch(/differ by 1\/2 in/);
    expect(variationCheck("treads", [10])).toBeNull();
  });

  test("stringers stand at most 18 in apart", () => {
    expect(stringerSpacingCheck({ widthIn: 36, stringers: 3 })).toMatchObject({ ok: true, measured: 18 });
    expect(stringerSpacingCheck({ widthIn: 36, stringers: 2 })).toMatchObject({ ok: false, measured: 36 });
    expect(stringerSpacingCheck({ widthIn: 36, stringers: 1 })).toBeNull();
  });

  test.each([
    ["five_quarter", "straight", 16],
    ["five_quarter", "diagonal", 12],
    ["two_by", "straight", 24],
    ["two_by", "diagonal", 16],
  ] as const)("%s boards laid %s: joists at %i in (R507.7)", (thickness, pattern, limit) => {
    expect(joistSpacingCheck({ thickness, pattern, joistSpacingIn: limit })).toMatchObject({
      ok: true,
      limit,
    });
    expect(joistSpacingCheck({ thickness, pattern, joistSpacingIn: limit + 1 })).toMatchObject({ ok: false });
  });

  test("composite boards go by their listing", () => {
    expect(joistSpacingCheck({ thickness: "composite", pattern: "straight", joistSpacingIn: 24 })).toBeNull();
  });
});

describe("overhangs (AWC DCA 6 Table 2)", () => {
  const pine = { lumber: "southern_pine", size: "2x8" } as const;
  test.each([
    [{ ...pine, spacingIn: 16, mainSpanIn: 142 }, 24, "table"],
    [{ ...pine, spacingIn: 16, mainSpanIn: 80 }, 20, "quarter of the span"],
    [{ ...pine, spacingIn: 20, mainSpanIn: null }, 24, "table"],
    [{ lumber: "southern_pine", size: "2x12", spacingIn: 14, mainSpanIn: null }, 50, "table"],
    [{ lumber: "mixed_softwoods", size: "2x10", spacingIn: 8, mainSpanIn: null }, 34, "table"],
    [{ lumber: "southern_pine", size: "2x6", spacingIn: 16, mainSpanIn: 100 }, 25, "quarter of the span"],
    [{ lumber: "redwood_cedar", size: "2x8", spacingIn: 16, mainSpanIn: null }, null, null],
    [{ ...pine, spacingIn: 30, mainSpanIn: null }, null, null],
  ] as const)("%o: %s in by the %s", (joist, limitIn, decidedBy) => {
    expect(overhangLimit(joist)).toMatchObject({ limitIn, decidedBy });
  });

  test("are checked where there is a limit", () => {
    const joist = { ...pine, spacingIn: 16, mainSpanIn: 142 };
    expect(overhangCheck({ ...joist, overhangIn: 24 })).toMatchObject({ ok: true });
    expect(overhangCheck({ ...joist, overhangIn: 25 })?.words).toMatch(/2 ft 1 in past the beam; 2 ft is/);
    expect(overhangCheck({ ...pine, mainSpanIn: 80, spacingIn: 16, overhangIn: 21 })?.words).toMatch(
      /quarter/,
    );
    expect(
      overhangCheck({ lumber: "redwood_cedar", size: "2x8", spacingIn: 16, mainSpanIn: null, overhangIn: 9 }),
    ).toBeNull();
  });
});

describe("ledger fasteners (state rule text CR 15-043 Table 6, as IRC 2018 R507.9.1.3)", () => {
  test.each([
    [120, "half_inch_lag", 18],
    [121, "half_inch_lag", 15],
    [60, "half_inch_bolt", 36],
    [216, "half_inch_bolt_with_washers", 16],
  ] as const)("joists of %i in, %s: every %i in", (joistSpanIn, fastener, limitIn) => {
    expect(ledgerFastenerSpacing({ joistSpanIn, fastener })).toMatchObject({ limitIn });
  });
  test.each([0, 217])("a joist span of %i in is not in the table", (joistSpanIn) => {
    const answer = ledgerFastenerSpacing({ joistSpanIn, fastener: "half_inch_bolt" });
    expect(answer.limitIn).toBeNull();
    expect(answer.words).toMatch(/licensed engineer/);
  });
  test("count: one at each end, 2 in in, and none wider apart", () => {
    expect(ledgerFastenerCount(184, 18)).toBe(11);
    expect(ledgerFastenerCount(185, 18)).toBe(12);
    expect(ledgerFastenerCount(3, 18)).toBe(1);
  });
  test("edges", () => {
    expect(ledgerEdges()).toMatchObject({
      ledger: { top: 2, bottom: 0.75 },
      bandJoist: { top: 0.75, bottom: 2 },
    });
  });
});

describe("corrosion, finish and waste", () => {
  test("salt water asks for stainless, treated wood for hot-dip galvanized", () => {
    expect(neededProtection({ nearSaltWater: true })).toMatchObject({ least: "stainless", basis: "memory" });
    expect(neededProtection({ nearSaltWater: true }).words).toMatch(/300 ft/);
    expect(neededProtection({ nearSaltWater: false })).toMatchObject({ least: "hot_dip_galvanized" });
    expect(protects("stainless", "hot_dip_galvanized")).toBe(true);
    expect(protects("hot_dip_galvanized", "hot_dip_galvanized")).toBe(true);
    expect(protects("electroplated", "hot_dip_galvanized")).toBe(false);
    expect(mixedMetals().words).toMatch(/do not go into one connection/);
  });
  test("new treated lumber waits 7 to 60 days; film finishes peel underfoot", () => {
    expect(finishWait()).toMatchObject({ leastDays: 7, mostDays: 60, basis: "page-seen" });
    expect(filmFinish()).toMatchObject({ basis: "page-seen" });
  });
  test("waste by pattern, more with a border", () => {
    expect(deckingWaste("straight", 0)).toEqual({ lowBp: 500, highBp: 1000 });
    expect(deckingWaste("diagonal", 1)).toEqual({ lowBp: 1500, highBp: 2000 });
  });
});
