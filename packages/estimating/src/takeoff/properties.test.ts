import { zoneGeometry } from "@ledgerboard/contracts/geometry";
import { COMPONENTS, UNITS } from "@ledgerboard/contracts/vocabulary";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { existingQuantity, piecesFor, scopeForNew, takeoff } from "./index.ts";
import {
  anyGeometry,
  anyZone,
  DECKING,
  deck,
  FRAMING,
  GUARD,
  polygon,
  STAIR,
  simplePolygon,
  tape,
} from "./zones.fixture.ts";

const rectangle = (lengthIn: number, widthIn: number) => ({ shape: "rectangle" as const, lengthIn, widthIn });
const pattern = fc.constantFrom("straight" as const, "diagonal" as const);
const direction = fc.constantFrom("out" as const, "along" as const);
const outlineOf = (points: { x: number; y: number }[]) =>
  polygon(...points.map(({ x, y }): [number, number] => [x, y]));
/** Feet of all pieces of a component. */
const piecesLf = (t: ReturnType<typeof takeoff>, component: string) =>
  t.pieces.filter((p) => p.component === component).reduce((lf, p) => lf + (p.count * p.lengthIn) / 12, 0);

describe("any input", () => {
  it("the arbitrary makes what the schema takes", () => {
    fc.assert(
      fc.property(anyGeometry, (g) => {
        expect(zoneGeometry.safeParse(g).error).toBeUndefined();
      }),
      { numRuns: 50 },
    );
  });
  it("never throws, and every number it gives is one", () => {
    fc.assert(
      fc.property(anyZone, (zone) => {
        const t = takeoff(zone);
        for (const n of Object.values(t.counts))
          expect(n === null || (Number.isFinite(n) && n >= 0)).toBe(true);
        for (const q of [t.areaSqft, t.grossAreaSqft, t.perimeterFt, ...t.existing.map((e) => e.quantity)])
          expect(q === null || /^\d+(\.\d{1,4})?$/.test(q)).toBe(true);
        for (const p of t.pieces) {
          expect(p.count).toBeGreaterThan(0);
          expect(p.lengthIn * 16).toBe(Math.round(p.lengthIn * 16));
          expect(p.lengthIn).toBeGreaterThan(0);
        }
        for (const { field, words } of t.findings)
          expect(`${field} ${words}`).not.toMatch(/undefined|NaN|\[-1\]/);
        expect(new Set(t.existing.map((e) => `${e.component} ${e.unit}`)).size).toBe(t.existing.length);
        scopeForNew(t);
        for (const component of COMPONENTS)
          for (const unit of UNITS) expect(piecesFor(t, component, "3", unit).missing).toMatch(/^\d/);
      }),
      { numRuns: 150 },
    );
  }, 60_000);
});

describe("area", () => {
  it("does not depend on the starting corner, the direction around or the place", () => {
    fc.assert(
      fc.property(simplePolygon, fc.nat(12), fc.integer({ min: -500, max: 500 }), (points, turn, move) => {
        const at = (p: typeof points) => {
          const { areaSqft, perimeterFt, findings } = takeoff(deck({ outline: outlineOf(p), framing: null }));
          expect(findings).toEqual([]);
          return { areaSqft, perimeterFt };
        };
        const k = turn % points.length;
        const plain = at(points);
        expect(at([...points.slice(k), ...points.slice(0, k)])).toEqual(plain);
        expect(at([...points].reverse())).toEqual(plain);
        expect(at(points.map(({ x, y }) => ({ x: x + move, y: y - move / 16 })))).toEqual(plain);
      }),
    );
  });
  it("is Pick's theorem on a grid of feet: interior points + boundary points / 2 - 1", () => {
    // Source: "Pick's theorem", Wikipedia, from memory.
    const gcd = (a: number, b: number): number => (b === 0 ? Math.abs(a) : gcd(b, a % b));
    const grid = fc.array(fc.tuple(fc.nat(9), fc.nat(9)), { minLength: 3, maxLength: 6 });
    let checked = 0;
    fc.assert(
      fc.property(grid, (feet) => {
        const t = takeoff(
          deck({
            outline: polygon(...feet.map(([x, y]): [number, number] => [x * 12, y * 12])),
            framing: null,
          }),
        );
        if (t.areaSqft === null || t.findings.length > 0) return;
        checked += 1;
        const sides = feet.map(([x, y], i) => {
          const [u = 0, v = 0] = feet[(i + 1) % feet.length] ?? [];
          return { x, y, u, v };
        });
        const boundary = sides.reduce((n, s) => n + gcd(s.u - s.x, s.v - s.y), 0);
        let interior = 0;
        for (let px = 0; px <= 9; px += 1)
          for (let py = 0; py <= 9; py += 1) {
            const cross = (s: (typeof sides)[number]) => (s.u - s.x) * (py - s.y) - (s.v - s.y) * (px - s.x);
            const on = sides.some(
              (s) => cross(s) === 0 && (px - s.x) * (px - s.u) <= 0 && (py - s.y) * (py - s.v) <= 0,
            );
            // Winding number, unlike the even-odd rule of the program.
            const winding = sides.reduce(
              (w, s) =>
                w +
                (s.y <= py && s.v > py && cross(s) > 0 ? 1 : s.y > py && s.v <= py && cross(s) < 0 ? -1 : 0),
              0,
            );
            if (!on && winding !== 0) interior += 1;
          }
        expect(Number(t.areaSqft)).toBe(interior + boundary / 2 - 1);
      }),
      { numRuns: 400 },
    );
    expect(checked).toBeGreaterThan(50);
  });
});

describe("boards", () => {
  it("cover the surface: row lengths x (width + gap) are its area and little more", () => {
    fc.assert(
      fc.property(simplePolygon, pattern, direction, (points, p, joistDirection) => {
        const t = takeoff(
          deck({
            outline: outlineOf(points),
            decking: { ...DECKING, pattern: p },
            framing: { ...FRAMING, joistDirection, ledger: false, beams: 2 },
          }),
        );
        const covered = t.boardRows.reduce((a, row) => a + row.lengthIn * 5.625, 0) / 144;
        const area = Number(t.areaSqft);
        // A row may stick out past a slanted edge by no more than its own width of it.
        expect(covered).toBeGreaterThan(area * 0.97);
        expect(covered).toBeLessThan(area + 2 * Number(t.perimeterFt) * (5.625 / 12));
      }),
    );
  });
  it("have a joist at least every spacing (x √2 on the diagonal), and one end at each end", () => {
    fc.assert(
      fc.property(
        tape(400, 12),
        tape(300, 12),
        pattern,
        direction,
        fc.integer({ min: 8, max: 24 }),
        fc.nat(2),
        (l, w, p, d, spacing, border) => {
          const t = takeoff(
            deck({
              outline: rectangle(l, w),
              decking: { ...DECKING, pattern: p, borderRows: border },
              framing: { ...FRAMING, joistDirection: d, joistSpacingIn: spacing },
            }),
          );
          const most = (spacing + 1.5) * (p === "diagonal" ? Math.SQRT2 : 1) + 1.5 + 1 / 8;
          for (const row of t.boardRows) {
            expect(row.supportsIn[0]).toBe(0);
            expect(row.supportsIn.at(-1)).toBe(row.lengthIn);
            for (const [i, s] of row.supportsIn.entries()) {
              if (i > 0) expect(s - (row.supportsIn[i - 1] ?? 0)).toBeLessThanOrEqual(most);
              if (i > 0) expect(s).toBeGreaterThan(row.supportsIn[i - 1] ?? 0);
            }
          }
        },
      ),
    );
  });
  it("a border takes its width from the rows and keeps the surface covered", () => {
    fc.assert(
      fc.property(tape(400, 48), tape(300, 48), fc.integer({ min: 1, max: 3 }), (l, w, borderRows) => {
        const t = takeoff(deck({ outline: rectangle(l, w), decking: { ...DECKING, borderRows } }));
        const off = 2 * borderRows * 5.625;
        expect(t.boardRows.every((row) => row.lengthIn === l - off)).toBe(true);
        let around = 0;
        for (let r = 0; r < borderRows; r += 1) around += 2 * (l + w) - 8 * r * 5.625;
        expect(t.counts.borderLf).toBeCloseTo(around / 12, 3);
      }),
    );
  });
});

describe("totals", () => {
  it("pieces add up to the feet counted", () => {
    fc.assert(
      fc.property(simplePolygon, pattern, (points, p) => {
        const t = takeoff(
          deck({
            outline: outlineOf(points),
            decking: { ...DECKING, pattern: p },
            stairs: [STAIR],
            guards: [GUARD],
          }),
        );
        for (const component of [
          "decking",
          "joist",
          "rim_joist",
          "beam",
          "ledger",
          "rail_cap",
          "stringer",
          "tread",
        ] as const)
          expect(piecesLf(t, component)).toBeCloseTo(Number(existingQuantity(t, component, "lf") ?? 0), 3);
        expect(piecesLf(t, "rail")).toBeCloseTo(t.counts.railLf ?? -1, 3);
        expect(piecesLf(t, "joist")).toBeCloseTo((t.counts.joistLf ?? -1) + (t.counts.headerLf ?? -1), 3);
        for (const component of ["baluster", "guard_post", "decking", "joist"] as const)
          expect(t.pieces.filter((x) => x.component === component).reduce((n, x) => n + x.count, 0)).toBe(
            Number(existingQuantity(t, component, "each")),
          );
      }),
    );
  });
  it("a longer deck never has less of anything", () => {
    fc.assert(
      fc.property(
        tape(400, 24),
        tape(60),
        tape(300, 24),
        pattern,
        direction,
        (l, more, w, p, joistDirection) => {
          const of = (lengthIn: number) =>
            takeoff(
              deck({
                outline: rectangle(lengthIn, w),
                decking: { ...DECKING, pattern: p },
                framing: { ...FRAMING, joistDirection, overhangIn: 0 },
                guards: [{ ...GUARD, lengthIn }],
              }),
            ).counts;
          const [small, large] = [of(l), of(l + more)];
          for (const key of [
            "boardRows",
            "joists",
            "joistLf",
            "rimLf",
            "ledgerLf",
            "beamLf",
            "hangers",
            "guardPosts",
            "guardLf",
            "capLf",
          ] as const)
            expect(large[key], key).toBeGreaterThanOrEqual(small[key] ?? 0);
          // Diagonal rows start at another corner of the longer deck, so their total may differ by a hair either way.
          if (p === "straight") {
            expect(large.boardLf).toBeGreaterThanOrEqual(small.boardLf ?? 0);
            expect(large.crossings).toBeGreaterThanOrEqual(small.crossings ?? 0);
          }
        },
      ),
    );
  });
  it("no baluster gap is above the limit, and one baluster fewer would exceed it", () => {
    fc.assert(
      fc.property(
        tape(900, 12),
        tape(120, 24),
        tape(4, 1),
        tape(6, 2),
        (lengthIn, postSpacingIn, balusterWidthIn, clearGapIn) => {
          const [guard] = takeoff(
            deck({ guards: [{ ...GUARD, lengthIn, postSpacingIn, balusterWidthIn, clearGapIn }] }),
          ).guards;
          if (!guard) throw new Error("no guard");
          expect(guard.balusterGapIn).toBeLessThanOrEqual(clearGapIn + 1e-9);
          expect(guard.clearWidthIn + 3.5).toBeLessThanOrEqual(postSpacingIn + 1e-9);
          const fewer = guard.balustersPerSection - 1;
          if (fewer >= 0)
            expect((guard.clearWidthIn - fewer * balusterWidthIn) / (fewer + 1)).toBeGreaterThan(
              clearGapIn - 1e-6,
            );
        },
      ),
    );
  });
  it("chosen rises are never above the limit, and one fewer would be", () => {
    fc.assert(
      fc.property(tape(600, 1), (totalRiseIn) => {
        const [stair] = takeoff(deck({ stairs: [{ ...STAIR, totalRiseIn }] })).stairs;
        expect(stair?.riserHeightIn).toBeLessThanOrEqual(7.75);
        expect(totalRiseIn / ((stair?.risers ?? 0) - 1 || 1e-9)).toBeGreaterThan(7.75);
        expect(stair?.treads).toBe((stair?.risers ?? 0) - 1);
      }),
    );
  });
});

describe("chosen pieces", () => {
  it("never fall short of what is wanted while there is any, nor go past it by a whole piece", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1000 }), (share) => {
        const t = takeoff(deck());
        const q = (192 * share) / 1000;
        const chosen = piecesFor(t, "decking", q.toFixed(3), "sqft");
        const lf = chosen.pieces.reduce((n, p) => n + (p.count * p.lengthIn) / 12, 0);
        expect(chosen.missing).toBe("0");
        expect(lf / 416).toBeGreaterThanOrEqual(share / 1000 - 1e-6);
        expect((lf - 16) / 416).toBeLessThan(share / 1000 + 1e-6);
        expect(chosen.boardRows).toHaveLength(chosen.pieces.reduce((n, p) => n + p.count, 0));
      }),
    );
  });
});
