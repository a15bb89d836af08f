import { describe, expect, it } from "vitest";
import { compare, line, plain, rates, rot } from "./lines.fixture.ts";

describe("kinds of change", () => {
  it.each([
    ["the same", {}, "unchanged", 1000],
    [
      "written differently",
      { quantity: "10.0", rates: rates(100, { hoursPerUnit: "0.00" }) },
      "unchanged",
      1000,
    ],
    ["a new id and reason", { id: "other", reason: "seen on site" }, "unchanged", 1000],
    ["a new quantity", { quantity: "12" }, "quantity", 1200],
    ["a new quantity and rate", { quantity: "12", rates: rates(150) }, "quantity", 1800],
    ["a new rate", { rates: rates(150) }, "rate", 1500],
    ["rates taken away", { rates: null }, "rate", 0],
    ["another labor rate at the same money", { rates: rates(100, { laborRateCode: "LEAD" }) }, "rate", 1000],
    ["better evidence", { evidence: "measured" }, "evidence", 1000],
    ["another action", { action: "repair" }, "action", 1000],
    ["another component", { component: "joist" }, "action", 1000],
    ["another assembly", { assemblyCode: "D2", rates: rates(130) }, "action", 1300],
    ["another unit", { unit: "lf", quantity: "40" }, "action", 4000],
    ["left to the owner", { by: "owner" }, "action", 0],
    ["made an extra", { alternate: "Stain" }, "action", 0],
    ["an allowance inside the price", { allowance: rot() }, "allowance", 700],
    ["charged only if found", { allowance: rot({ charge: "if_found" }) }, "allowance", 0],
    ["an allowance and a new quantity", { quantity: "13", allowance: rot() }, "quantity", 750],
    ["disposal", { rates: { ...rates(100), disposalUnitCents: "20" } }, "rate", 1200],
    ["another spread of the hours", { rates: { ...rates(100), laborCvBp: 100 } }, "unchanged", 1000],
  ] as const)("%s", (_name, change, kind, afterCents) => {
    const { changes } = compare([line("a")], [line("a", change)]);
    expect(changes).toHaveLength(1);
    expect(changes[0]).toMatchObject({ kind, beforeCents: 1000, afterCents, deltaCents: afterCents - 1000 });
  });

  it("counts a changed pair that is not in the price", () => {
    const kept = line("a", { by: "owner" });
    expect(compare([kept], [{ ...kept, quantity: "20" }]).changes[0]).toMatchObject({
      kind: "quantity",
      deltaCents: 0,
      steps: [],
    });
  });

  it("pairs by lineage in the order of the first revision, then what was added", () => {
    const { changes } = compare(
      [line("a"), line("b"), line("c")],
      [line("d"), line("c", { quantity: "11" }), line("a")],
    );
    expect(changes.map((c) => [c.kind, (c.before ?? c.after)?.lineageId])).toEqual([
      ["unchanged", "a"],
      ["removed", "b"],
      ["quantity", "c"],
      ["added", "d"],
    ]);
  });

  it("pairs repeated lineage in order and leaves the surplus as added or removed", () => {
    const twice = [line("a", { quantity: "6" }), line("a", { quantity: "4" })];
    expect(compare([line("a")], twice).changes.map((c) => c.kind)).toEqual(["quantity", "added"]);
    expect(compare(twice, [line("a")]).changes.map((c) => c.kind)).toEqual(["quantity", "removed"]);
  });

  it("says so when only the company's terms moved a line's price", () => {
    const { changes } = compare([line("a")], [line("a")], plain, { ...plain, overheadBp: 1000 });
    expect(changes[0]).toMatchObject({
      kind: "rate",
      deltaCents: 100,
      steps: [{ step: "overhead_and_tax", cents: 100 }],
    });
  });

  it.each([
    [{ component: "joist" }, { component: "joist" }, true],
    [{ component: "joist" }, { component: "decking" }, true],
    [{ component: "decking" }, { component: "ledger" }, true],
    [{ component: "rail_cap" }, { component: "rail_cap" }, false],
  ] as const)("structural: %o then %o", (before, after, structural) => {
    expect(compare([line("a", before)], [line("a", after)]).changes[0]?.structural).toBe(structural);
  });
});

describe("the bridge", () => {
  it("takes the price from the first revision to the second in named steps", () => {
    const before = [
      line("gone", { quantity: "5" }),
      line("repair", { action: "replace" }),
      line("more"),
      line("dearer"),
      line("same"),
    ];
    const after = [
      line("repair", { action: "repair", rates: rates(40) }),
      line("more", { quantity: "13", rates: rates(110) }),
      line("dearer", { rates: rates(120) }),
      line("same"),
      line("new", { quantity: "2" }),
    ];
    // By hand, with 10% overhead coming in: gone -500; new +220; repair 1000 -> 440; more: +300, then 13 x 10 = +130,
    // then 10% of 1430 = +143; dearer: +200, then +120; same: +100.
    const { bridge, changes } = compare(before, after, plain, { ...plain, overheadBp: 1000 });
    expect(bridge).toEqual({
      fromCents: 4500,
      toCents: 4653,
      steps: [
        { step: "removed", cents: -500 },
        { step: "added", cents: 220 },
        { step: "action", cents: -560 },
        { step: "quantity", cents: 300 },
        { step: "rate", cents: 330 },
        { step: "allowance", cents: 0 },
        { step: "overhead_and_tax", cents: 363 },
        { step: "whole_job", cents: 0 },
      ],
    });
    expect(changes.find((c) => c.before?.lineageId === "more")?.steps).toEqual([
      { step: "quantity", cents: 300 },
      { step: "rate", cents: 130 },
      { step: "overhead_and_tax", cents: 143 },
    ]);
  });

  it("holds when an old rate at a new quantity is past any price that may be stored", () => {
    const before = line("a", { quantity: "1", rates: rates(10_000_00) });
    const { bridge } = compare([before], [{ ...before, quantity: "2000", rates: rates(100) }]);
    expect(bridge.steps.filter((s) => s.cents !== 0)).toEqual([
      { step: "quantity", cents: 1999 * 10_000_00 },
      { step: "rate", cents: 2000_00 - 2000 * 10_000_00 },
    ]);
  });

  it("counts a line given twice as two lines", () => {
    const twin = line("a");
    expect(compare([twin], [twin, twin]).bridge).toMatchObject({ fromCents: 1000, toCents: 2000 });
    expect(compare([twin], [twin, twin]).changes.map((c) => c.kind)).toEqual(["unchanged", "added"]);
  });

  it("lists all eight steps when nothing moved", () => {
    const { bridge } = compare([], []);
    expect(bridge.steps).toEqual(
      ["removed", "added", "action", "quantity", "rate", "allowance", "overhead_and_tax", "whole_job"].map(
        (step) => ({ step, cents: 0 }),
      ),
    );
  });
});

describe("hours", () => {
  it("adds up labor by line and in all", () => {
    const timed = (id: string, quantity: string, by: "us" | "others" = "us") =>
      line(id, { quantity, by, rates: rates(100, { hoursPerUnit: "0.125", laborHourlyCents: 4000 }) });
    const { hours, changes } = compare(
      [timed("a", "8"), timed("b", "4"), timed("c", "8")],
      [timed("a", "9"), timed("d", "2"), timed("c", "8", "others")],
    );
    expect(hours).toEqual({ before: "2.5", after: "1.375", delta: "-1.125" });
    expect(changes.map((c) => c.deltaHours)).toEqual(["0.125", "-0.5", "-1", "0.25"]);
  });
});
