import {
  BOARD_PATTERNS,
  BOARD_THICKNESSES,
  INFILLS,
  JOIST_DIRECTIONS,
  JOIST_SIZES,
  LUMBER_GROUPS,
  type ZoneGeometry,
} from "@ledgerboard/contracts/geometry";
import { ZONE_KINDS } from "@ledgerboard/contracts/vocabulary";
import fc from "fast-check";
import type { TakeoffZone } from "./types.ts";

export type Framing = NonNullable<ZoneGeometry["framing"]>;
export type Decking = NonNullable<ZoneGeometry["decking"]>;
export type Stair = ZoneGeometry["stairs"][number];
export type Guard = ZoneGeometry["guards"][number];

export const FRAMING: Framing = {
  joistDirection: "out",
  joistSpacingIn: 16,
  joistSize: "2x8",
  lumber: "southern_pine",
  ledger: true,
  beams: 1,
  posts: 3,
  overhangIn: 12,
};
export const DECKING: Decking = {
  pattern: "straight",
  thickness: "five_quarter",
  boardWidthIn: 5.5,
  gapIn: 0.125,
  borderRows: 0,
};
export const STAIR: Stair = {
  totalRiseIn: 52,
  risers: null,
  treadDepthIn: 10.25,
  widthIn: 48,
  stringers: 4,
  boardsPerTread: 2,
  closedRisers: false,
};
export const GUARD: Guard = {
  lengthIn: 144,
  heightIn: 36,
  onStair: false,
  postSpacingIn: 72,
  infill: "balusters",
  balusterWidthIn: 1.5,
  clearGapIn: 4,
  rails: 2,
  cap: true,
  gates: 0,
  gateWidthIn: 0,
};

/** A deck of 16 ft along the house by 12 ft, on a ledger, with nothing else unless `change` says so. */
export const deck = (change: Partial<ZoneGeometry> = {}): TakeoffZone => ({
  kind: "deck",
  geometry: {
    outline: { shape: "rectangle", lengthIn: 192, widthIn: 144 },
    cutouts: [],
    heightIn: 52,
    framing: FRAMING,
    decking: DECKING,
    stairs: [],
    guards: [],
    ...change,
  },
  lengthFt: null,
  widthFt: null,
  heightFt: null,
});
export const polygon = (...corners: [number, number][]) => ({
  shape: "polygon" as const,
  points: corners.map(([x, y]) => ({ x, y })),
});

/** Whole sixteenths up to `max` inches, as inches; zero and small sizes come often. */
export const tape = (max: number, min = 0) =>
  fc
    .oneof(
      fc.integer({ min: min * 16, max: max * 16 }),
      fc.integer({ min: min * 16, max: Math.min(max, min + 60) * 16 }),
    )
    .map((n) => n / 16);
const coordinate = fc.oneof(
  fc.integer({ min: -96_000, max: 96_000 }).map((n) => n / 16),
  fc.integer({ min: -8, max: 8 }).map((n) => n * 24),
);
const points = fc.array(fc.record({ x: coordinate, y: coordinate }), { minLength: 3, maxLength: 60 });
/** Any geometry the schema takes. */
export const anyGeometry: fc.Arbitrary<ZoneGeometry> = fc.record({
  outline: fc.option(
    fc.oneof(
      fc.record({ shape: fc.constant("rectangle" as const), lengthIn: tape(6000), widthIn: tape(6000) }),
      fc.record({
        shape: fc.constant("l_shape" as const),
        lengthIn: tape(6000),
        widthIn: tape(6000),
        notchLengthIn: tape(6000),
        notchWidthIn: tape(6000),
      }),
      fc.record({ shape: fc.constant("polygon" as const), points }),
      fc
        .array(fc.record({ x: coordinate, y: coordinate }), { minLength: 3, maxLength: 4 })
        .map((corners) => ({ shape: "polygon" as const, points: corners })),
    ),
    { freq: 8 },
  ),
  cutouts: fc.array(
    fc.record({
      points: fc.oneof(
        points,
        points.map((p) => p.slice(0, 3)),
      ),
    }),
    { maxLength: 10 },
  ),
  heightIn: fc.option(tape(1200)),
  framing: fc.option(
    fc.record({
      joistDirection: fc.constantFrom(...JOIST_DIRECTIONS),
      joistSpacingIn: tape(48),
      joistSize: fc.constantFrom(...JOIST_SIZES),
      lumber: fc.constantFrom(...LUMBER_GROUPS),
      ledger: fc.boolean(),
      beams: fc.nat(20),
      posts: fc.nat(200),
      overhangIn: tape(120),
    }),
    { freq: 8 },
  ),
  decking: fc.option(
    fc.record({
      pattern: fc.constantFrom(...BOARD_PATTERNS),
      thickness: fc.constantFrom(...BOARD_THICKNESSES),
      boardWidthIn: tape(24),
      gapIn: tape(2),
      borderRows: fc.nat(3),
    }),
    { freq: 8 },
  ),
  stairs: fc.array(
    fc.record({
      totalRiseIn: tape(600),
      risers: fc.option(fc.integer({ min: 1, max: 60 })),
      treadDepthIn: tape(36),
      widthIn: tape(480),
      stringers: fc.nat(40),
      boardsPerTread: fc.integer({ min: 1, max: 4 }),
      closedRisers: fc.boolean(),
    }),
    { maxLength: 10 },
  ),
  guards: fc.array(
    fc
      .record({
        lengthIn: tape(6000),
        heightIn: tape(96),
        onStair: fc.boolean(),
        postSpacingIn: tape(240),
        infill: fc.constantFrom(...INFILLS),
        balusterWidthIn: tape(12),
        clearGapIn: tape(24),
        rails: fc.nat(10),
        cap: fc.boolean(),
        gates: fc.nat(10),
        gateWidthIn: tape(96),
      })
      .chain((guard) =>
        fc
          .option(fc.nat(2), { nil: undefined })
          .map((sharedPosts) => (sharedPosts === undefined ? guard : { ...guard, sharedPosts })),
      ),
    { maxLength: 30 },
  ),
});
const feet = fc.option(
  fc.oneof(
    fc.nat(9_999_999).map((n) => `${n / 10_000}`),
    fc.string(),
    fc.constant("0"),
  ),
);
export const anyZone: fc.Arbitrary<TakeoffZone> = fc.record({
  kind: fc.constantFrom(...ZONE_KINDS),
  geometry: fc.option(anyGeometry, { freq: 8 }),
  lengthFt: feet,
  widthFt: feet,
  heightFt: feet,
});

/** A simple outline of house size: a star about a point, its corners in order of angle; concave ones among them. */
export const simplePolygon: fc.Arbitrary<{ x: number; y: number }[]> = fc
  .array(fc.tuple(fc.integer({ min: 40, max: 250 }), fc.integer({ min: 0, max: 9 })), {
    minLength: 5,
    maxLength: 12,
  })
  .map((rays) =>
    rays.map(([radius, jitter], i) => {
      const angle = (2 * Math.PI * (i + jitter / 20)) / rays.length;
      return {
        x: Math.round(radius * Math.cos(angle) * 16) / 16,
        y: Math.round(radius * Math.sin(angle) * 16) / 16,
      };
    }),
  );
