import { ACTIONS, COMPONENTS, DOERS, UNITS } from "@ledgerboard/contracts/vocabulary";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  existingQuantity,
  piecesFor,
  type ScopedLine,
  scopeAgainstExisting,
  scopeForNew,
  takeoff,
} from "./index.ts";
import { DECKING, deck, GUARD, polygon, STAIR } from "./zones.fixture.ts";

const t = takeoff(deck({ stairs: [STAIR], guards: [GUARD] }));
let nextId = 0;
const line = (
  component: ScopedLine["component"],
  action: ScopedLine["action"],
  quantity: string,
  unit: ScopedLine["unit"],
  by: ScopedLine["by"] = "us",
): ScopedLine => {
  nextId += 1;
  return { id: `l${nextId}`, component, action, quantity, unit, by };
};
const row = (component: ScopedLine["component"], ...lines: ScopedLine[]) =>
  scopeAgainstExisting(t, lines).find((r) => r.component === component);

describe("existing and scoped side by side", () => {
  it("what is replaced, treated and left of 192 sq ft", () => {
    expect(
      row(
        "decking",
        line("decking", "replace", "100", "sqft", "owner"),
        line("decking", "clean", "60", "sqft"),
        line("decking", "refasten", "50.5", "sqft"),
      ),
    ).toMatchObject({
      existing: "192",
      kept: "0",
      treated: "60",
      replaced: "100",
      added: "0",
      left: "32",
      over: null,
      byOthers: "100",
    });
  });
  it.each<[string, ScopedLine[], string | null]>([
    ["exactly all", [line("joist", "replace", "13", "each")], null],
    [
      "one more than there is",
      [line("joist", "replace", "10", "each"), line("joist", "remove", "4", "each")],
      "1",
    ],
    ["a hair more", [line("joist", "replace", "13.0001", "each")], "0.0001"],
    [
      "kept and replaced together",
      [line("joist", "replace", "7", "each"), line("joist", "keep", "8", "each")],
      "2",
    ],
    ["one treatment of more than there is", [line("joist", "sister", "14", "each")], "1"],
    [
      "two treatments of the same",
      [line("joist", "treat", "13", "each"), line("joist", "sister", "13", "each")],
      null,
    ],
    [
      "new ones, treated too",
      [line("joist", "add", "2", "each"), line("joist", "treat", "15", "each")],
      null,
    ],
    ["blocks between", [line("joist", "reinforce", "24", "each")], null],
  ])("%s", (_name, lines, over) => expect(row("joist", ...lines)?.over).toBe(over));
  it("converts between units by what exists in both", () => {
    // 13 joists are 152.75 ft, so 23.5 ft are two of them.
    expect(
      row("joist", line("joist", "replace", "3", "each"), line("joist", "replace", "23.5", "lf")),
    ).toMatchObject({ unit: "each", replaced: "5", left: "8" });
    expect(row("joist", line("joist", "treat", "152.75", "lf"))).toMatchObject({
      unit: "lf",
      treated: "152.75",
      left: "0",
    });
  });
  it("leaves lots and unknown parts on rows without an existing quantity", () => {
    const rows = scopeAgainstExisting(t, [
      line("joist", "repair", "1", "lot"),
      line("joist", "repair", "2", "each"),
      line("band", "repair", "6", "lf"),
    ]);
    expect(rows.filter((r) => r.component === "joist").map((r) => [r.unit, r.existing, r.treated])).toEqual([
      ["each", "13", "2"],
      ["lot", null, "1"],
    ]);
    expect(rows.find((r) => r.component === "band")).toMatchObject({
      existing: null,
      left: null,
      over: null,
      treated: "6",
    });
  });
  it("shows parts nobody speaks of, a coat aside", () => {
    const rows = scopeAgainstExisting(t, []);
    expect(rows.every((r) => r.left === r.existing && r.lineIds.length === 0)).toBe(true);
    expect(rows.map((r) => r.component)).toEqual([
      "decking",
      "joist",
      "rim_joist",
      "beam",
      "post",
      "footing",
      "ledger",
      "joist_hanger",
      "guard_post",
      "rail_cap",
      "rail",
      "baluster",
      "stringer",
      "tread",
      "flashing",
      "fastener",
    ]);
  });
  it("names a quantity that is none", () => {
    expect(() =>
      scopeAgainstExisting(t, [
        line("joist", "replace", "1", "each"),
        line("joist", "replace", "-1", "each"),
      ]),
    ).toThrow(/lines\[1\]\.quantity/);
    expect(() => piecesFor(t, "joist", "many", "each")).toThrow(/quantity/);
  });
  it("every line is in exactly one row", () => {
    const anyLine = fc.record({
      id: fc.uuid(),
      component: fc.constantFrom(...COMPONENTS),
      action: fc.constantFrom(...ACTIONS),
      quantity: fc.nat(400_000).map((n) => String(n / 10_000)),
      unit: fc.constantFrom(...UNITS),
      by: fc.constantFrom(...DOERS),
    });
    fc.assert(
      fc.property(fc.uniqueArray(anyLine, { selector: (l) => l.id, maxLength: 30 }), (lines) => {
        const rows = scopeAgainstExisting(t, lines);
        expect(rows.flatMap((r) => r.lineIds).sort()).toEqual(lines.map((l) => l.id).sort());
        expect(new Set(rows.map((r) => `${r.component} ${r.unit}`)).size).toBe(rows.length);
        for (const r of rows)
          if (r.existing !== null && Number(r.replaced) > Number(r.existing)) expect(r.over).not.toBeNull();
      }),
    );
  });
});

describe("pieces for a part", () => {
  it("3 of 13 joists are 3 pieces", () => {
    expect(piecesFor(t, "joist", "3", "each")).toEqual({
      pieces: [{ component: "joist", section: "2x8", lengthIn: 141, count: 3 }],
      boardRows: [],
      missing: "0",
    });
    expect(piecesFor(t, "joist", "15", "each")).toMatchObject({ pieces: [{ count: 13 }], missing: "2" });
  });
  it("the longest first", () => {
    const cut = takeoff(deck({ cutouts: [polygon([60, 40], [84, 40], [84, 80], [60, 80])] }));
    expect(piecesFor(cut, "joist", "14", "each").pieces.map((p) => [p.lengthIn, p.count])).toEqual([
      [141, 13],
      [61, 1],
    ]);
  });
  it("100 of 192 sq ft are 14 rows, all are all", () => {
    const some = piecesFor(t, "decking", "100", "sqft");
    expect(some.pieces).toEqual([{ component: "decking", section: "5/4x6", lengthIn: 192, count: 14 }]); // 13 rows: 96 sq ft
    expect(some.boardRows).toEqual(t.boardRows.slice(0, 14));
    expect(piecesFor(t, "decking", "192", "sqft").boardRows).toEqual(t.boardRows);
    expect(piecesFor(t, "decking", "41", "lf").boardRows).toHaveLength(3);
    const framed = takeoff(deck({ decking: { ...DECKING, borderRows: 1 } }));
    expect(piecesFor(framed, "decking", "192", "sqft").pieces).toEqual(
      framed.pieces.filter((p) => p.component === "decking"),
    );
  });
  it("splices rims and ledgers to the length wanted, keeps rails and treads whole", () => {
    expect(piecesFor(t, "ledger", "10", "lf").pieces).toEqual([
      { component: "ledger", section: "2x8", lengthIn: 120, count: 1 },
    ]);
    // Half of a 12 ft railing with two rails in two sections: two rails of one section.
    expect(piecesFor(t, "rail", "6", "lf").pieces).toEqual([
      { component: "rail", section: "2x4", lengthIn: 68.5, count: 2 },
    ]);
    expect(piecesFor(t, "tread", "2", "each").pieces).toMatchObject([{ lengthIn: 48, count: 4 }]);
  });
  it("has none where nothing is cut from lengths", () => {
    expect(piecesFor(t, "joist_hanger", "4", "each")).toEqual({ pieces: [], boardRows: [], missing: "4" });
    expect(piecesFor(t, "decking", "1", "lot")).toEqual({ pieces: [], boardRows: [], missing: "1" });
  });
});

describe("the same zone new", () => {
  it("is every component counted, once, from the ground up", () => {
    const scope = scopeForNew(t);
    expect(scope.map((s) => s.component)).toEqual([
      "footing",
      "post",
      "flashing",
      "ledger",
      "beam",
      "joist",
      "joist_hanger",
      "rim_joist",
      "decking",
      "stringer",
      "tread",
      "guard_post",
      "rail",
      "baluster",
      "rail_cap",
      "finish",
    ]);
    for (const s of scope) expect(existingQuantity(t, s.component, s.unit)).toBe(s.quantity);
    expect(
      scopeAgainstExisting(
        t,
        scope.map((s, i) => ({ ...s, id: String(i), by: "us" })),
      ).every((r) => r.over === null),
    ).toBe(true);
  });
});
