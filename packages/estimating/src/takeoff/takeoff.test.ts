import { describe, expect, it } from "vitest";
import { existingQuantity, piecesFor, takeoff } from "./index.ts";
import { DECKING, deck, FRAMING, GUARD, polygon, STAIR } from "./zones.fixture.ts";

const bare = { framing: null, decking: null };
const area = (...corners: [number, number][]) =>
  takeoff(deck({ ...bare, outline: polygon(...corners) })).areaSqft;
const how = (t: ReturnType<typeof takeoff>, component: string, unit: string) =>
  t.existing.find((e) => e.component === component && e.unit === unit)?.how;

describe("area and outline", () => {
  // Source: the pentagon (1,6) (3,1) (7,2) (4,4) (8,5) of "Shoelace formula", Wikipedia, area 16.5; from memory.
  it("the encyclopedia's pentagon, in feet", () => {
    expect(area([12, 72], [36, 12], [84, 24], [48, 48], [96, 60])).toBe("16.5");
  });
  it("closed forms", () => {
    expect(area([0, 0], [36, 0], [0, 48])).toBe("6"); // half of 3 ft x 4 ft
    expect(area([0, 0], [120, 0], [96, 60], [24, 60])).toBe("40"); // (10 + 6) / 2 x 5
    const right = takeoff(deck({ ...bare, outline: polygon([0, 0], [36, 0], [0, 48]) }));
    expect(right.perimeterFt).toBe("12"); // 3 + 4 + 5
    const octagon = takeoff(
      deck({
        ...bare,
        outline: polygon([24, 0], [48, 0], [72, 24], [72, 48], [48, 72], [24, 72], [0, 48], [0, 24]),
      }),
    );
    expect(octagon.areaSqft).toBe("28"); // 36 less four corners of 2
    expect(Number(octagon.perimeterFt)).toBeCloseTo(8 + 8 * Math.SQRT2, 4);
  });
  it("L-shape, and cut-outs off the net area only", () => {
    const t = takeoff(
      deck({
        ...bare,
        outline: { shape: "l_shape", lengthIn: 192, widthIn: 144, notchLengthIn: 72, notchWidthIn: 48 },
        cutouts: [polygon([24, 24], [48, 24], [48, 60], [24, 60])],
      }),
    );
    expect([t.grossAreaSqft, t.areaSqft, t.perimeterFt]).toEqual(["168", "162", "56"]);
    expect(how(t, "decking", "sqft")).toBe("16 ft x 12 ft less a corner of 6 ft x 4 ft less 1 cut-out");
  });
  it("a size without a drawing is a bare rectangle", () => {
    const t = takeoff({ kind: "deck", geometry: null, lengthFt: "16.5", widthFt: "12", heightFt: "4" });
    expect([t.areaSqft, t.perimeterFt, t.findings]).toEqual(["198", "57", []]);
    expect(Object.values(t.counts).every((n) => n === null)).toBe(true);
    expect(t.existing.map((e) => [e.component, e.unit])).toEqual([
      ["decking", "sqft"],
      ["finish", "sqft"],
    ]);
    expect(
      takeoff({ kind: "stair", geometry: null, lengthFt: "16", widthFt: "3", heightFt: null }).existing,
    ).toEqual([]);
    expect(
      takeoff({ kind: "deck", geometry: null, lengthFt: "16", widthFt: null, heightFt: null }).areaSqft,
    ).toBeNull();
  });
});

describe("a 16 ft x 12 ft deck", () => {
  const t = takeoff(deck());
  // Source: reference record fasteners_exact (arithmetic on IRC 2018 R507.7, two fasteners at each bearing): 16 ft
  // boards over 12 ft, 16 in on center, 1/8 in gaps: 26 boards, 13 joist lines, 676 fasteners, 352.1 per 100 sq ft.
  it("agrees with the published count of boards, joists and fasteners", () => {
    expect(t.counts).toMatchObject({ boardRows: 26, joists: 13, crossings: 338, deckFasteners: 676 });
    expect(((t.counts.deckFasteners ?? 0) / Number(t.areaSqft)) * 100).toBeCloseTo(352.1, 1);
  });
  // Source: reference record linear_feet_per_sqft: 12 / (5.5 + 1/8) = 2.1333 ft of board a sq ft.
  it("agrees with the published coverage of boards, to the part of a row at the edge", () => {
    expect(t.counts.boardLf).toBe(416);
    expect((t.counts.boardLf ?? 0) / 192).toBeGreaterThanOrEqual(2.1333);
    expect((t.counts.boardLf ?? 0) / 192).toBeLessThan(2.1333 + 16 / 192);
  });
  it("hangs every joist at the ledger and rests it on the beam", () => {
    expect(t.counts).toMatchObject({
      hangers: 13,
      ledgerLf: 16,
      rimLf: 16,
      beamLf: 16,
      posts: 3,
      footings: 3,
      joistLf: 152.75,
    });
    expect(t.pieces.filter((p) => p.component === "joist")).toEqual([
      { component: "joist", section: "2x8", lengthIn: 141, count: 13 },
    ]);
    expect(how(t, "joist", "each")).toBe("13 x 11 ft 9 in");
  });
  it("makes a beam too long for one board of equal pieces, and still counts it as one line", () => {
    const wide = takeoff(deck({ outline: { shape: "rectangle", lengthIn: 288, widthIn: 144 } }));
    expect(wide.pieces.filter((p) => p.component === "beam")).toEqual([
      { component: "beam", section: "beam", lengthIn: 144, count: 2 },
    ]);
    expect([existingQuantity(wide, "beam", "each"), wide.counts.beamLf]).toEqual(["1", 24]);
    expect(piecesFor(wide, "beam", "1", "each").pieces).toEqual([
      { component: "beam", section: "beam", lengthIn: 144, count: 2 },
    ]);
  });
  it("without a beam hangs joists at both ends; standing free, at none", () => {
    expect(takeoff(deck({ framing: { ...FRAMING, beams: 0, posts: 0 } })).counts.hangers).toBe(26);
    const free = takeoff(deck({ framing: { ...FRAMING, ledger: false, beams: 2 } })).counts;
    expect(free).toMatchObject({ hangers: 0, ledgerLf: 0, rimLf: 32, beamLf: 32 });
  });
  it("joists along the house turn boards and frame", () => {
    const along = takeoff(
      deck({ framing: { ...FRAMING, ledger: false, beams: 3, joistDirection: "along" } }),
    );
    expect(along.counts).toMatchObject({
      joists: 10,
      boardRows: 35,
      boardLf: 420,
      rimLf: 24,
      beamLf: 36,
      crossings: 350,
    });
    expect(along.pieces.find((p) => p.component === "joist")).toMatchObject({ lengthIn: 189, count: 10 });
  });
  it("adds a joist for a short last bay unless it would overlap the one before", () => {
    const joists = (lengthIn: number) =>
      takeoff(deck({ outline: { shape: "rectangle", lengthIn, widthIn: 144 } })).counts.joists;
    expect([191, 192, 193, 193.5, 208].map(joists)).toEqual([13, 13, 13, 14, 14]);
  });
  it("a strip no wider than the gap gets no row of its own", () => {
    const rows = (widthIn: number) =>
      takeoff(deck({ outline: { shape: "rectangle", lengthIn: 192, widthIn } })).counts.boardRows;
    expect([5.5, 5.625, 5.6875, 180, 180.0625].map(rows)).toEqual([1, 1, 2, 32, 33]);
  });
  it("says of every row where it begins, so that one joist has one place in all of them", () => {
    const stepped = polygon([0, 0], [192, 0], [192, 144], [40, 144], [40, 72], [0, 72]);
    const straight = takeoff(deck({ outline: stepped })).boardRows;
    expect([...new Set(straight.map((row) => row.startIn))]).toEqual([0, 40]);
    const places = (row: (typeof straight)[number]) =>
      row.supportsIn.map((s) => row.startIn + s).slice(1, -1);
    const joists = Array.from({ length: 12 }, (_, k) => 16 * k);
    for (const row of straight) expect([...joists, 40]).toEqual(expect.arrayContaining(places(row)));
    for (const joistDirection of ["out", "along"] as const) {
      const diagonal = takeoff(
        deck({
          framing: { ...FRAMING, joistDirection, ledger: false, beams: 2 },
          decking: { ...DECKING, pattern: "diagonal" },
        }),
      ).boardRows;
      const lines = Array.from({ length: 14 }, (_, k) => Math.round(16 * k * Math.SQRT2 * 16) / 16);
      const known = [
        ...lines,
        Math.round(144 * Math.SQRT2 * 16) / 16,
        Math.round(192 * Math.SQRT2 * 16) / 16,
      ];
      expect(diagonal.length).toBeGreaterThan(40);
      for (const row of diagonal) expect(known).toEqual(expect.arrayContaining(places(row)));
    }
  });
  it("diagonal boards: 45 degrees, each joist √2 spacings apart", () => {
    const d = takeoff(deck({ decking: { ...DECKING, pattern: "diagonal" } }));
    expect(d.counts.boardRows).toBe(Math.ceil((192 + 144) / Math.SQRT2 / 5.625));
    const longest = d.boardRows.find((row) => row.supportsIn.length > 9);
    expect((longest?.supportsIn[5] ?? 0) - (longest?.supportsIn[4] ?? 0)).toBeCloseTo(16 * Math.SQRT2, 1);
    expect(Math.max(...d.boardRows.map((row) => row.lengthIn))).toBeLessThanOrEqual(
      144 * Math.SQRT2 + 5.5 + 1 / 16,
    );
  });
  it("cut-outs split rows, shorten joists and get headers with hangers", () => {
    // 2 ft wide at x = 60..84, y = 40..80: joists at 64 and 80 are cut, joists are added at 60 and 84.
    const t = takeoff(deck({ cutouts: [polygon([60, 40], [84, 40], [84, 80], [60, 80])] }));
    expect(t.counts).toMatchObject({ headers: 2, headerLf: 4, boardRows: 26, joists: 13 - 2 + 2 * 2 + 2 });
    expect(t.counts.hangers).toBe(15 + 4 + 4);
    const split = t.boardRows.filter((row) => row.lengthIn < 192);
    expect(split.map((row) => row.lengthIn)).toEqual(Array.from({ length: 6 }, () => [60, 108]).flat());
    expect(split[0]?.supportsIn).toEqual([0, 16, 32, 48, 60]);
    expect(split[1]?.supportsIn).toEqual([0, 12, 28, 44, 60, 76, 92, 108]);
  });
  it("an L-shape: shorter rows and joists past the step, a joist and rims at it", () => {
    const t = takeoff(
      deck({
        outline: { shape: "l_shape", lengthIn: 192, widthIn: 144, notchLengthIn: 90, notchWidthIn: 45 },
      }),
    );
    expect(t.counts.rimLf).toBe(16);
    expect(t.boardRows.map((row) => row.lengthIn)).toEqual([
      ...Array.from({ length: 18 }, () => 192),
      ...Array.from({ length: 8 }, () => 102),
    ]);
    // 0, 16, ... 96 and the step at 102 reach 144 in; 112 ... 192 reach 99 in.
    expect(t.pieces.filter((p) => p.component === "joist").map((p) => [p.lengthIn, p.count])).toEqual([
      [141, 8],
      [96, 6],
    ]);
  });
  it("a border frames the field", () => {
    const t = takeoff(deck({ decking: { ...DECKING, borderRows: 1 } }));
    expect(t.counts.borderLf).toBe(56);
    expect(t.boardRows[0]).toMatchObject({ lengthIn: 180.75 });
    expect(t.counts.boardRows).toBe(24);
    // Supports: both ends and the 11 joists between; border boards: 16 ft bear on 13, 12 ft on 10.
    expect(t.counts.crossings).toBe(24 * 13 + 2 * 13 + 2 * 10);
    expect(existingQuantity(t, "decking", "each")).toBe("28");
  });
  it("names the boards", () => {
    const section = (change: Partial<typeof DECKING>) =>
      takeoff(deck({ decking: { ...DECKING, ...change } })).pieces[0]?.section;
    expect(section({})).toBe("5/4x6");
    expect(section({ thickness: "two_by" })).toBe("2x6");
    expect(section({ boardWidthIn: 3.5 })).toBe("5/4x4");
    expect(section({ boardWidthIn: 3.125 })).toBe("5/4x3.125 in");
    expect(section({ thickness: "composite" })).toBe("composite board");
  });
});

describe("stairs", () => {
  // Source: reference record riser_formula on IRC R311.7.5.1 (from memory): 52 in is 7 rises of 7.429 in, 6 treads.
  it("agrees with the published example", () => {
    const t = takeoff(deck({ stairs: [STAIR] }));
    expect(t.stairs[0]).toMatchObject({ risers: 7, treads: 6, treadBoards: 12 });
    expect(t.stairs[0]?.riserHeightIn).toBeCloseTo(7.429, 3);
    expect(t.counts.stringerLengthIn).toBeCloseTo(7 * Math.hypot(52 / 7, 10.25), 1);
    expect(existingQuantity(t, "tread", "each")).toBe("6");
    expect(existingQuantity(t, "tread", "lf")).toBe("48");
    expect(existingQuantity(t, "stringer", "each")).toBe("4");
    expect(existingQuantity(t, "riser", "each")).toBeNull();
    // 338 board bearings and 12 tread boards on 4 stringers.
    expect(existingQuantity(t, "fastener", "each")).toBe(String(2 * (338 + 48)));
  });
  it("keeps a count made on site, closes risers, finishes treads", () => {
    const t = takeoff({
      ...deck({ ...bare, outline: null, stairs: [{ ...STAIR, risers: 6, closedRisers: true }] }),
      kind: "stair",
    });
    expect(t.counts).toMatchObject({ risers: 6, treads: 5, boardRows: null, guardPosts: null });
    expect(existingQuantity(t, "riser", "lf")).toBe("24");
    // 5 treads of 48 x 10 1/4 in and 52 in of rise, 48 in wide.
    expect(Number(existingQuantity(t, "finish", "sqft"))).toBeCloseTo((5 * 48 * 10.25 + 52 * 48) / 144, 3);
  });
});

describe("guards", () => {
  // Source: reference record baluster_formula on IRC 2018 R312.1.3: posts 72 in on center, 1 1/2 in balusters, 4 in
  // sphere: 12 balusters, openings of 3.8846 in; one less gives 4.3333 in.
  it("agrees with the published example", () => {
    const t = takeoff(deck({ guards: [GUARD] }));
    expect(t.guards[0]).toMatchObject({ sections: 2, posts: 3, clearWidthIn: 68.5, balustersPerSection: 12 });
    expect(t.guards[0]?.balusterGapIn).toBeCloseTo(3.8846, 4);
    expect(t.counts).toMatchObject({ guardLf: 12, capLf: 12, balusters: 24 });
    expect(t.counts.railLf).toBeCloseTo((4 * 68.5) / 12, 3);
  });
  it("gates hang between posts and take their width from the run", () => {
    const t = takeoff(deck({ guards: [{ ...GUARD, gates: 1, gateWidthIn: 36 }] }));
    expect(t.counts).toMatchObject({ guardLf: 9, guardSections: 2, guardPosts: 4, gates: 1, capLf: 9 });
  });
  it("counts a corner post once", () => {
    const three = [{ ...GUARD }, { ...GUARD, sharedPosts: 2 }, { ...GUARD }];
    expect(takeoff(deck({ guards: three })).counts.guardPosts).toBe(7);
  });
  it("lattice by area, rails without balusters", () => {
    const t = takeoff(
      deck({
        guards: [
          { ...GUARD, infill: "lattice" },
          { ...GUARD, infill: "rails_only", cap: false },
        ],
      }),
    );
    expect(existingQuantity(t, "lattice", "sqft")).toBe(String((2 * 68.5 * 36) / 144));
    expect(t.counts).toMatchObject({ balusters: 0, capLf: 12, guardPosts: 6 });
  });
});
