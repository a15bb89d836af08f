import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { takeoff } from "@ledgerboard/estimating";
import { describe, expect, it } from "vitest";
import { placeGuards, runsAround } from "./runs.ts";
import { boundsOf, handlesOf, type Outline, reshape, ringOf, sidesOf } from "./shape.ts";
import { newGuard, startOf } from "./starts.ts";
import { fromTyped, toTyped } from "./typed.ts";

const RECTANGLE: Outline = { shape: "rectangle", lengthIn: 192, widthIn: 144 };
const ELL: Outline = { shape: "l_shape", lengthIn: 240, widthIn: 192, notchLengthIn: 96, notchWidthIn: 60 };

const area = (outline: Outline) =>
  takeoff({
    kind: "deck",
    geometry: { outline, cutouts: [], heightIn: null, framing: null, decking: null, stairs: [], guards: [] },
    lengthFt: null,
    widthFt: null,
    heightFt: null,
  }).areaSqft;

describe("outlines", () => {
  it.each([RECTANGLE, ELL])("drawn corner by corner have the area the takeoff counts: $shape", (outline) => {
    const polygon: Outline = { shape: "polygon", points: ringOf(outline) };
    expect(area(polygon)).toBe(area(outline));
  });

  it("keep what fits when they change their shape", () => {
    expect(reshape(ELL, "rectangle")).toEqual({ shape: "rectangle", lengthIn: 240, widthIn: 192 });
    expect(reshape(ELL, "polygon")).toEqual({ shape: "polygon", points: ringOf(ELL) });
    expect(reshape(RECTANGLE, "l_shape")).toMatchObject({
      lengthIn: 192,
      notchLengthIn: 64,
      notchWidthIn: 48,
    });
    expect(reshape(null, "polygon")).toMatchObject({ points: { length: 4 } });
  });

  it("know which sides stand on the house and where outside is", () => {
    const [house, right] = sidesOf(ringOf(RECTANGLE));
    expect(house).toMatchObject({ onHouse: true, lengthIn: 192, out: { y: -1 } });
    expect(right).toMatchObject({ onHouse: false, lengthIn: 144, out: { x: 1 } });
    const [back] = sidesOf([...ringOf(RECTANGLE)].reverse());
    expect(back?.out.y).toBe(1);
  });
});

describe("a zone nobody has measured", () => {
  const rough = { geometry: null, lengthFt: "12.5", widthFt: "10", heightFt: "3" };

  it("begins with its rough size", () => {
    const { geometry } = fromTyped(startOf({ ...rough, kind: "deck" }));
    expect(geometry.outline).toEqual({ shape: "rectangle", lengthIn: 150, widthIn: 120 });
    expect(geometry.heightIn).toBe(36);
  });

  it("has no surface where it is a stair", () => {
    expect(startOf({ ...rough, kind: "stair" }).outline).toBeNull();
  });
});

describe("handles", () => {
  it("resize a rectangle", () => {
    expect(handlesOf(RECTANGLE)[0]?.move({ x: 200, y: 150 })).toEqual({
      shape: "rectangle",
      lengthIn: 200,
      widthIn: 150,
    });
    expect(handlesOf(RECTANGLE)[0]?.move({ x: 0, y: 150 })).toBe(RECTANGLE);
  });

  it("move each corner of an L alone", () => {
    for (const handle of handlesOf(ELL)) {
      const moved = handle.move({ x: handle.at.x + 6, y: handle.at.y + 6 });
      const corner = ringOf(moved).find((p) => p.x === handle.at.x + 6 && p.y === handle.at.y + 6);
      expect(corner, handle.name).toBeDefined();
    }
    expect(handlesOf(ELL)[1]?.move({ x: 300, y: 20 })).toBe(ELL);
  });

  it("move one corner of a polygon, within what can be kept", () => {
    const polygon: Outline = { shape: "polygon", points: ringOf(ELL) };
    const moved = handlesOf(polygon)[3]?.move({ x: -9000, y: 12 });
    expect(moved).toMatchObject({
      points: polygon.points.map((p, i) => (i === 3 ? { x: -6000, y: 12 } : p)),
    });
  });
});

describe("guards on the plan", () => {
  const run = (lengthIn: number): ZoneGeometry["guards"][number] => {
    const empty: ZoneGeometry = {
      outline: null,
      cutouts: [],
      heightIn: null,
      framing: null,
      decking: null,
      stairs: [],
      guards: [],
    };
    const [guard] = fromTyped({ ...toTyped(empty), guards: [newGuard()] }).geometry.guards;
    if (!guard) throw new Error("One was given.");
    return { ...guard, lengthIn };
  };

  it("stand on the sides of their length, never on the house", () => {
    const sides = sidesOf(ringOf(RECTANGLE));
    const placed = placeGuards(sides, [run(144), run(188.5), run(144), run(100)]);
    expect([...placed]).toEqual([
      [1, 0],
      [2, 1],
      [3, 2],
    ]);
  });

  it("run around every open side and share their corner posts", () => {
    expect(runsAround(sidesOf(ringOf(RECTANGLE)))).toEqual([
      { lengthIn: 144, sharedPosts: 0 },
      { lengthIn: 192, sharedPosts: 1 },
      { lengthIn: 144, sharedPosts: 1 },
    ]);
    const free = ringOf(RECTANGLE).map(({ x, y }) => ({ x, y: y + 60 }));
    expect(runsAround(sidesOf(free)).map((r) => r.sharedPosts)).toEqual([0, 1, 1, 2]);
    expect(boundsOf(free)).toEqual({ left: 0, right: 192, near: 60, far: 204 });
  });
});
