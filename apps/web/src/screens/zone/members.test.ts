import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { takeoff } from "@ledgerboard/estimating";
import { describe, expect, it } from "vitest";
import { beamStrokes, boardStrokes, joistStrokes, postPlaces } from "./members.ts";
import { fit } from "./projection.ts";
import { boundsOf, ringOf } from "./shape.ts";

const GEOMETRY: ZoneGeometry = {
  outline: { shape: "rectangle", lengthIn: 195, widthIn: 144 },
  cutouts: [],
  heightIn: 36,
  framing: {
    joistDirection: "out",
    joistSpacingIn: 16,
    joistSize: "2x8",
    lumber: "southern_pine",
    ledger: true,
    beams: 2,
    posts: 5,
    overhangIn: 24,
  },
  decking: { pattern: "straight", thickness: "two_by", boardWidthIn: 5.5, gapIn: 0.125, borderRows: 0 },
  stairs: [],
  guards: [],
};
const box = boundsOf(ringOf(GEOMETRY.outline));
const { framing, decking } = GEOMETRY;
if (!framing || !decking) throw new Error("The fixture has both.");
const counted = takeoff({ kind: "deck", geometry: GEOMETRY, lengthFt: null, widthFt: null, heightFt: null });

describe("what is drawn", () => {
  it("has as many joists and board rows as the takeoff counts", () => {
    expect(joistStrokes(box, framing)).toHaveLength(counted.counts.joists ?? -1);
    expect(boardStrokes(box, decking, framing)).toHaveLength((counted.counts.boardRows ?? -1) - 1);
  });

  it("has beams where the takeoff measures them, and every post", () => {
    const beams = beamStrokes(box, framing);
    expect(beams.map(([from]) => from.y)).toEqual([60, 120]);
    const posts = postPlaces(beams, framing.posts);
    expect(posts).toHaveLength(5);
    expect(posts.filter((p) => p.y === 60)).toHaveLength(3);
    expect(beamStrokes(box, { ...framing, overhangIn: 150 })).toEqual([]);
  });

  it("leaves out what nobody can have meant", () => {
    expect(joistStrokes(box, { ...framing, joistSpacingIn: 0 })).toEqual([]);
    expect(boardStrokes(box, { ...decking, boardWidthIn: 0 }, framing)).toEqual([]);
  });

  it("is to scale, and a place on it leads back to its inches", () => {
    const p = fit(box, 700, 500);
    expect((p.x(195) - p.x(0)) / (p.y(144) - p.y(0))).toBeCloseTo(195 / 144);
    const back = p.back(p.x(37), p.y(101));
    expect([back.x, back.y]).toEqual([expect.closeTo(37), expect.closeTo(101)]);
  });
});
