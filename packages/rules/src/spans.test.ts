import {
  JOIST_SIZES,
  type JoistSize,
  LUMBER_GROUPS,
  type LumberGroup,
} from "@ledgerboard/contracts/geometry";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import data from "../../../shared/deck-code.json" with { type: "json" };
import { recomputeSpan, spansBySpecies } from "./span-mechanics.ts";
import { joistSpan, joistSpanCheck } from "./spans.ts";

const SPACINGS = [12, 16, 24] as const;
const cells = (lumber: LumberGroup) =>
  JOIST_SIZES.flatMap((size) => SPACINGS.map((spacingIn) => ({ lumber, size, spacingIn })));
const table = (lumber: LumberGroup, size: JoistSize, spacingIn: number) =>
  joistSpan({ lumber, size, spacingIn }).limitIn ?? 0;
const exact = (cell: ReturnType<typeof cells>[number]) =>
  recomputeSpan({ ...cell, liveLoadPsf: 40 })?.exactIn ?? 0;

describe("outside check: AWC DCA 6 Table 2, as kept in a city permit record (address in shared/deck-code.json)", () => {
  /** Typed here from the table in feet and inches, apart from the data the program reads. */
  const PRINTED: Record<LumberGroup, string> = {
    southern_pine: "9-11 9-0 7-7 13-1 11-10 9-8 16-2 14-0 11-5 18-0 16-6 13-6",
    mixed_softwoods: "9-6 8-4 6-10 12-6 11-1 9-1 15-8 13-7 11-1 18-0 15-9 12-10",
    redwood_cedar: "8-10 8-0 6-10 11-8 10-7 8-8 14-11 13-0 10-7 17-5 15-1 12-4",
  };
  test.each(LUMBER_GROUPS)("%s: all twelve cells", (lumber) => {
    const printed = PRINTED[lumber].split(" ").map((text) => {
      const [feet = 0, inches = 0] = text.split("-").map(Number);
      return feet * 12 + inches;
    });
    expect(cells(lumber).map(({ size, spacingIn }) => table(lumber, size, spacingIn))).toEqual(printed);
  });

  test.each(["southern_pine", "mixed_softwoods"] as const)(
    "%s: twelve of twelve recomputed from design values, to half an inch",
    (lumber) => {
      for (const cell of cells(lumber)) {
        const published = table(lumber, cell.size, cell.spacingIn);
        expect(Math.abs(exact(cell) - published), JSON.stringify(cell)).toBeLessThanOrEqual(0.5);
        expect(joistSpan(cell).recomputedIn, JSON.stringify(cell)).toBe(published);
      }
    },
  );

  test("redwood and cedar stand by the table alone", () => {
    for (const cell of cells("redwood_cedar"))
      expect(joistSpan(cell)).toMatchObject({ recomputedIn: null, governedBy: null });
  });

  test("trap: rounding down would miss six of the twelve Southern Pine cells, by one inch each", () => {
    const missed = cells("southern_pine").map(
      (cell) => table(cell.lumber, cell.size, cell.spacingIn) - Math.floor(exact(cell)),
    );
    expect(missed.filter((by) => by !== 0)).toEqual([1, 1, 1, 1, 1, 1]);
  });

  test("trap: the second row is no Douglas fir row", () => {
    const by = (species: string, cell: ReturnType<typeof cells>[number]) =>
      spansBySpecies({ ...cell, liveLoadPsf: 40 }).find((s) => s.species === species)?.wholeIn ?? 0;
    const firMatches = cells("mixed_softwoods").filter(
      (cell) => by("Douglas fir-larch", cell) === table(cell.lumber, cell.size, cell.spacingIn),
    );
    expect(firMatches).toHaveLength(3);
    const weakest = cells("mixed_softwoods").map((cell) => {
      const span = recomputeSpan({ ...cell, liveLoadPsf: 40 });
      return span?.governedBy === "longest in the table" ? "capped" : span?.species;
    });
    expect(weakest.filter((s) => s === "Hem-fir")).toHaveLength(9);
    expect(weakest.filter((s) => s === "Douglas fir-larch")).toHaveLength(2);
    expect(weakest.filter((s) => s === "capped")).toHaveLength(1);
    // Hem-fir alone gives the 2x6 cells that the model code is remembered with; the smaller ones are kept.
    const remembered = data.values.irc_2018_2x6_row_DFL_HF_SPF.value;
    for (const spacingIn of [16, 24] as const) {
      const cell = { lumber: "mixed_softwoods", size: "2x6", spacingIn } as const;
      expect(by("Hem-fir", cell)).toBe(remembered[spacingIn]);
      expect(table("mixed_softwoods", "2x6", spacingIn)).toBeLessThan(remembered[spacingIn]);
    }
  });
});

describe("questions outside the table", () => {
  const joist = { lumber: "southern_pine", size: "2x8" } as const;

  test("between two columns the wider spacing counts", () => {
    expect(joistSpan({ ...joist, spacingIn: 19.25 })).toEqual(joistSpan({ ...joist, spacingIn: 24 }));
    expect(joistSpan({ ...joist, spacingIn: 8 })).toEqual(joistSpan({ ...joist, spacingIn: 12 }));
  });

  test.each([
    [0, undefined, /no spacing/],
    [Number.NaN, undefined, /no spacing/],
    [24.0625, undefined, /wider than any/],
    [16, 30, /No deck table goes below 40 psf/],
  ])("spacing %s, load %s: no limit, and why", (spacingIn, liveLoadPsf, why) => {
    const answer = joistSpan({ ...joist, spacingIn, ...(liveLoadPsf !== undefined && { liveLoadPsf }) });
    expect(answer.limitIn).toBeNull();
    expect(answer.words).toMatch(why);
    expect(
      joistSpanCheck({ ...joist, spacingIn, spanIn: 100, ...(liveLoadPsf && { liveLoadPsf }) }),
    ).toBeNull();
  });

  test("another load is recomputed, shorter, and referred to an engineer", () => {
    const heavy = joistSpan({ ...joist, spacingIn: 16, liveLoadPsf: 60 });
    // Bending: 141.7 in x sqrt(50 / 70), by hand; deflection at 60 psf gives more.
    expect(heavy).toMatchObject({ limitIn: null, recomputedIn: 120, governedBy: "bending" });
    expect(heavy.words).toMatch(/10 ft.*licensed engineer/);
    const cedar = joistSpan({ lumber: "redwood_cedar", size: "2x8", spacingIn: 16, liveLoadPsf: 60 });
    expect(cedar.recomputedIn).toBeNull();
    expect(cedar.words).toMatch(/licensed engineer/);
  });
});

test("a span at the limit keeps it, a sixteenth more does not", () => {
  const joist = { lumber: "southern_pine", size: "2x8", spacingIn: 16 } as const;
  expect(joistSpanCheck({ ...joist, spanIn: 142 })).toMatchObject({ ok: true, limit: 142 });
  const over = joistSpanCheck({ ...joist, spanIn: 142.0625 });
  expect(over).toMatchObject({ ok: false, measured: 142.0625, basis: "page-seen" });
  expect(over?.words).toBe(
    "They span 11 ft 10 1/16 in. Southern Pine 2x8 joists at 16 in on center span 11 ft 10 in at most (40 + 10 psf).",
  );
  expect(over?.checkLocalCode).toMatch(/local code and licensed practice decide/);
});

test("a closer spacing or a deeper joist never spans less", () => {
  const spacing = fc.double({ min: 0.5, max: 24, noNaN: true });
  fc.assert(
    fc.property(
      fc.constantFrom(...LUMBER_GROUPS),
      fc.nat(3),
      fc.nat(3),
      spacing,
      spacing,
      (lumber, i, j, a, b) => {
        const [small, deep] = [JOIST_SIZES[Math.min(i, j)] ?? "2x6", JOIST_SIZES[Math.max(i, j)] ?? "2x6"];
        const [close, wide] = [Math.min(a, b), Math.max(a, b)];
        expect(table(lumber, small, wide)).toBeLessThanOrEqual(table(lumber, deep, close));
      },
    ),
  );
});
