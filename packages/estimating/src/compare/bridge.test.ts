import { describe, expect, it } from "vitest";
import { material, only } from "../pricing/rates.fixture.ts";
import type { Charge } from "../pricing/revision.ts";
import { compareRevisions } from "./compare.ts";
import type { ComparableLine } from "./differences.ts";
import { compare, lenient, line, plain, rates, rot } from "./lines.fixture.ts";

describe("allowances in the bridge", () => {
  const steps = (before: Partial<ComparableLine>, after: Partial<ComparableLine>, to = plain) =>
    compare([line("a", before)], [line("a", after)], plain, to).changes[0]?.steps.map((s) => [
      s.step,
      s.cents,
    ]);

  it("separates quantity, rate, allowance and terms", () => {
    // By hand: half of (1 + 10 + 31) / 3 = 7 at 100 = 700; with 13: 7.5 = 750; at 200: 1500; charged in full chance:
    // 15 = 3000; with 10% overhead: 3300.
    const before = { allowance: rot() };
    const after = { quantity: "13", rates: rates(200), allowance: rot({ chanceBp: 10_000 }) };
    expect(steps(before, after, { ...plain, overheadBp: 1000 })).toEqual([
      ["quantity", 50],
      ["rate", 750],
      ["allowance", 1500],
      ["overhead_and_tax", 300],
    ]);
  });

  it("what is charged only if found moves no money, whatever its quantity and rate", () => {
    const allowance = rot({ charge: "if_found" });
    const { changes, bridge } = compare(
      [line("a", { allowance }), line("gone", { allowance })],
      [line("a", { allowance, quantity: "30", rates: rates(900) }), line("new", { allowance })],
    );
    expect(changes.map((c) => [c.kind, c.deltaCents, c.steps])).toEqual([
      ["quantity", 0, []],
      ["removed", 0, []],
      ["added", 0, []],
    ]);
    expect(bridge.steps.every((s) => s.cents === 0)).toBe(true);
  });

  it("taking it into the price, or out of it, is the allowance step", () => {
    const found = { allowance: rot({ charge: "if_found" }) };
    expect(steps(found, { allowance: rot() })).toEqual([["allowance", 700]]);
    expect(steps({ allowance: rot() }, found)).toEqual([["allowance", -700]]);
    expect(steps({}, found)).toEqual([["allowance", -1000]]);
  });

  it("what is outside the price on both sides does not enter the bridge on the way", () => {
    const found = { allowance: rot({ charge: "if_found" }) };
    expect(steps({ rates: null }, found)).toEqual([]);
    expect(steps(found, { rates: null })).toEqual([]);
  });

  it.each([
    ["chance", { chanceBp: 5001 }, "allowance"],
    ["low", { lowQuantity: "1.01" }, "allowance"],
    ["high", { highQuantity: "31.01" }, "allowance"],
    ["cap, which moves no money", { capQuantity: "11" }, "allowance"],
    ["nothing but how the numbers are written", { lowQuantity: "1.0", capQuantity: "10.00" }, "unchanged"],
  ])("sees another %s", (_name, change, kind) => {
    const allowance = rot(change);
    expect(compare([line("a", { allowance: rot() })], [line("a", { allowance })]).changes[0]?.kind).toBe(
      kind,
    );
  });
});

describe("extras in the bridge", () => {
  it("move no money, but are compared", () => {
    const extra = (id: string, change: Partial<ComparableLine> = {}) =>
      line(id, { alternate: "Stain", ...change });
    const { changes, bridge, hours } = compare(
      [line("base"), extra("a"), extra("gone")],
      [line("base"), extra("a", { rates: rates(500, { hoursPerUnit: "1" }) }), extra("new")],
    );
    expect(changes.map((c) => [c.kind, c.deltaCents])).toEqual([
      ["unchanged", 0],
      ["rate", 0],
      ["removed", 0],
      ["added", 0],
    ]);
    expect(bridge).toMatchObject({ fromCents: 1000, toCents: 1000 });
    expect(hours.delta).toBe("0");
  });

  it("taken into the base scope is other work, with its whole price", () => {
    const { changes } = compare([line("a", { alternate: "Stain" })], [line("a", { alternate: null })]);
    expect(changes[0]).toMatchObject({ kind: "action", steps: [{ step: "action", cents: 1000 }] });
  });
});

describe("the step of the whole job", () => {
  const ferry: Charge = { kind: "travel", words: "Ferry", costCents: 120, atCost: true };
  const wholeJob = (...[before, after]: Parameters<typeof compareRevisions>) => {
    const { bridge, changes } = compareRevisions(before, after, lenient);
    expect(bridge.steps.slice(0, -1).reduce((sum, s) => sum + s.cents, 0)).toBe(
      changes.reduce((sum, c) => sum + c.deltaCents, 0),
    );
    return [bridge.toCents - bridge.fromCents, bridge.steps.at(-1)] as const;
  };
  const at = (lines: ComparableLine[], terms = plain, charges: Charge[] = []) => ({ lines, terms, charges });

  it.each([
    ["a charge", at([line("a")]), at([line("a")], plain, [ferry]), 120, 120],
    ["a minimum charge", at([line("a")]), at([line("a")], { ...plain, minimumChargeCents: 1500 }), 500, 500],
    ["rounding", at([line("a")]), at([line("a")], { ...plain, roundUpToCents: 700 }), 400, 400],
    // By hand: 1000 up to 1050 before, 1100 up to 1400 after: 350 in all, 100 of it by the line.
    [
      "what is left of the rounding when a line moves",
      at([line("a")], { ...plain, roundUpToCents: 350 }),
      at([line("a", { quantity: "11" })], { ...plain, roundUpToCents: 350 }),
      350,
      250,
    ],
  ])("holds %s", (_name, before, after, delta, cents) => {
    expect(wholeJob(before, after, lenient)).toEqual([delta, { step: "whole_job", cents }]);
    expect(wholeJob(after, before, lenient)).toEqual([-delta, { step: "whole_job", cents: -cents }]);
  });

  it("holds what whole packs leave over: one more of a box already paid for moves nothing in all", () => {
    const nail = material("0", { packs: [{ size: "50", cents: 5000 }], wholePacks: true });
    const nails = (quantity: string) => at([line("a", { quantity, rates: only(nail) })]);
    expect(wholeJob(nails("10"), nails("11"), lenient)).toEqual([0, { step: "whole_job", cents: -100 }]);
    expect(wholeJob(nails("50"), nails("51"), lenient)).toEqual([5000, { step: "whole_job", cents: 4900 }]);
  });
});
