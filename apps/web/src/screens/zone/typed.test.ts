import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { zoneGeometry } from "@ledgerboard/contracts/geometry";
import { describe, expect, it } from "vitest";
import { newDecking, newFraming, newGuard, newStair } from "./starts.ts";
import { flatten, fromTyped, toTyped, unitAt } from "./typed.ts";

const DECK: ZoneGeometry = {
  outline: {
    shape: "polygon",
    points: [
      { x: 0, y: 0 },
      { x: 192, y: 0 },
      { x: 192.5, y: 144.0625 },
      { x: -54.5, y: 144 },
    ],
  },
  cutouts: [],
  heightIn: null,
  framing: {
    joistDirection: "out",
    joistSpacingIn: 16,
    joistSize: "2x8",
    lumber: "southern_pine",
    ledger: true,
    beams: 1,
    posts: 3,
    overhangIn: 18,
  },
  decking: {
    pattern: "straight",
    thickness: "five_quarter",
    boardWidthIn: 5.5,
    gapIn: 0.125,
    borderRows: 1,
  },
  stairs: [
    {
      totalRiseIn: 42.5,
      risers: null,
      treadDepthIn: 10.25,
      widthIn: 36,
      stringers: 3,
      boardsPerTread: 2,
      closedRisers: true,
    },
  ],
  guards: [],
};

describe("geometry in the fields", () => {
  it("comes back as it was", () => {
    expect(fromTyped(toTyped(DECK))).toEqual({ geometry: DECK, faults: [] });
  });

  it("is shown in feet and inches", () => {
    const typed = toTyped(DECK);
    expect(typed.framing?.joistSpacingIn).toBe(`16"`);
    expect(typed.stairs[0]?.treadDepthIn).toBe(`10 1/4"`);
  });

  it("takes what is left empty for nothing, so that a half-finished drawing can be kept", () => {
    const typed = toTyped(DECK);
    const stair = typed.stairs[0];
    if (!typed.framing || !stair) throw new Error("The fixture has both.");
    typed.framing.joistSpacingIn = "";
    typed.framing.posts = null;
    stair.totalRiseIn = " ";
    const { geometry, faults } = fromTyped(typed);
    expect(faults).toEqual([]);
    expect(geometry.framing).toMatchObject({ joistSpacingIn: 0, posts: 0 });
    expect(geometry.stairs[0]).toMatchObject({ totalRiseIn: 0, risers: null });
    expect(zoneGeometry.safeParse(geometry).success).toBe(true);
  });

  it("names the field whose text is no length", () => {
    const typed = toTyped(DECK);
    if (typed.stairs[0]) typed.stairs[0].widthIn = "three";
    expect(fromTyped(typed).faults).toEqual([
      { field: "geometry.stairs[0].widthIn", words: "“three” is not read as a length." },
    ]);
  });

  it("knows which fields are in feet", () => {
    expect(unitAt("geometry.heightIn")).toBe("ft");
    expect(unitAt("geometry.cutouts[0].points[1].x")).toBe("ft");
    expect(unitAt("geometry.guards[3].lengthIn")).toBe("ft");
    expect(unitAt("geometry.guards[3].heightIn")).toBe("in");
    expect(unitAt("geometry.stairs[0].widthIn")).toBe("in");
  });

  it("begins with parts that the service takes", () => {
    const typed = {
      ...toTyped({ ...DECK, framing: null, decking: null, stairs: [], guards: [] }),
      framing: newFraming(),
      decking: newDecking(),
      stairs: [newStair(`3' 6"`)],
      guards: [newGuard()],
    };
    const { geometry, faults } = fromTyped(typed);
    expect(faults).toEqual([]);
    expect(zoneGeometry.safeParse(geometry).success).toBe(true);
    expect(geometry.stairs[0]?.totalRiseIn).toBe(42);
  });

  it("lays every field out by its path", () => {
    const flat = flatten(toTyped(DECK));
    expect(flat.get("geometry.outline.points[3].x")).toBe(`−4' 6 1/2"`);
    expect(flat.get("geometry.stairs[0].risers")).toBe("");
  });
});
