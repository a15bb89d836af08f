import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { EstimateInputError } from "../input-error.ts";
import { type DeckLayout, type DeckRow, type LaidBoards, layBoards } from "./lay-boards.ts";

/** Joists every `spacing` inches from one end, and one at the other end. */
const row = (lengthIn: number, spacing = 16): DeckRow => {
  const supportsIn: number[] = [];
  for (let at = 0; at < lengthIn; at += spacing) supportsIn.push(at);
  return { lengthIn, supportsIn: [...supportsIn, lengthIn] };
};
const rows = (count: number, one: DeckRow): DeckRow[] => Array.from({ length: count }, () => one);
const byFoot = [8, 10, 12, 14, 16, 20].map((ft) => ({ lengthIn: ft * 12, costCents: ft * 150 }));
const deck = (change: Partial<DeckLayout>): DeckLayout => ({
  rows: rows(6, row(336)),
  stock: byFoot,
  kerfIn: 0.125,
  endTrimIn: 0,
  ...change,
});

/** Every rule that a layout breaks, looked up in the deck and the layout alone. */
function broken(input: DeckLayout, laid: LaidBoards): string[] {
  const wrong: string[] = [];
  const wanted = new Map<number, number>();
  laid.rows.forEach(({ piecesIn, jointsIn, minSupports }, r) => {
    const { lengthIn = 0, supportsIn = [], offsetIn = 0 } = input.rows[r] ?? {};
    let at = 0;
    const ends: number[] = [];
    for (const piece of piecesIn) {
      const on = supportsIn.filter((s) => at <= s && s <= at + piece).length;
      if (on < minSupports) wrong.push(`row ${r}: ${piece} on ${on} supports`);
      at += piece;
      ends.push(at);
      wanted.set(piece, (wanted.get(piece) ?? 0) + 1);
    }
    if (at !== lengthIn) wrong.push(`row ${r}: ${at} of ${lengthIn}`);
    if (ends.some((e) => !supportsIn.includes(e))) wrong.push(`row ${r}: ends at ${ends}`);
    if (ends.slice(0, -1).join() !== jointsIn.join()) wrong.push(`row ${r}: joints ${jointsIn}`);
    const before = laid.rows[r - 1]?.jointsIn.map((j) => j + (input.rows[r - 1]?.offsetIn ?? 0)) ?? [];
    if (jointsIn.some((j) => before.includes(j + offsetIn))) wrong.push(`row ${r}: not staggered`);
  });
  const cut = new Map<number, number>();
  for (const { cuts } of laid.plan.boards) for (const c of cuts) cut.set(c, (cut.get(c) ?? 0) + 1);
  for (const length of new Set([...wanted.keys(), ...cut.keys()]))
    if (wanted.get(length) !== cut.get(length))
      wrong.push(`${length}: ${wanted.get(length)} and ${cut.get(length)}`);
  return wrong;
}

async function faultyFields(input: DeckLayout): Promise<string[]> {
  const error = await layBoards(input).catch((e: unknown) => e);
  if (!(error instanceof EstimateInputError)) throw new Error("Not refused.");
  return error.findings.map((f) => f.field);
}

describe("layBoards", () => {
  it("lays rows longer than any stock in pieces that meet over joists, staggered", async () => {
    const input = deck({});
    const laid = await layBoards(input);
    expect(broken(input, laid)).toEqual([]);
    expect(laid.rows.every((r) => r.minSupports === 3 && r.piecesIn.length > 1)).toBe(true);
    // 28 ft is 12 + 16, 8 + 20 or 8 + 8 + 12 ft, and joists stand at 8, 12, 16 and 20 ft: no waste is possible.
    expect(laid).toMatchObject({ layoutProved: true, layoutBoundCents: 6 * 28 * 150 });
    expect(laid.plan).toMatchObject({ proved: true, costCents: 6 * 28 * 150, wasteIn: 0 });
  });

  it("leaves rows whole where that is cheapest", async () => {
    const laid = await layBoards(deck({ rows: rows(5, row(192)) }));
    expect(laid.plan.costCents).toBe(5 * 16 * 150);
    expect(laid.layoutProved).toBe(true);
  });

  it("splits a row that one board could span where parts are cheaper", async () => {
    const stock = [
      { lengthIn: 96, costCents: 500 },
      { lengthIn: 192, costCents: 5000 },
    ];
    const input = deck({ rows: [row(192), row(96), row(192)], stock });
    const laid = await layBoards(input);
    expect(broken(input, laid)).toEqual([]);
    expect(laid.plan.costCents).toBe(2500);
  });

  it("compares joints along the deck, not along the row", async () => {
    const stock = [{ lengthIn: 96, costCents: 800 }];
    const long = row(144, 48);
    // Three bays of 48 in: two supports to a piece is all that a board of 96 in allows, joints at 48 or 96 only.
    const input = deck({ rows: [long, { ...long, offsetIn: 48 }, long], stock });
    const laid = await layBoards(input);
    expect(broken(input, laid)).toEqual([]);
    expect(laid.rows.map((r) => r.minSupports)).toEqual([2, 2, 2]);
  });

  it("refuses rows that cannot be staggered or spanned, by name", async () => {
    const stock = [{ lengthIn: 96, costCents: 800 }];
    const twoBays = { lengthIn: 192, supportsIn: [0, 96, 192] };
    expect(await faultyFields(deck({ rows: [twoBays, twoBays], stock }))).toEqual(["rows[1].supportsIn"]);
    expect(await faultyFields(deck({ rows: [{ lengthIn: 100, supportsIn: [0, 100] }], stock }))).toEqual([
      "rows[0].supportsIn",
    ]);
  });

  it("names every field that cannot be used", async () => {
    const bad = [
      { lengthIn: 100, supportsIn: [0, 50] },
      { lengthIn: -1, supportsIn: [0, 50, 40], offsetIn: Number.NaN },
    ];
    expect(await faultyFields(deck({ rows: bad, minSupports: 1 }))).toEqual([
      "minSupports",
      "rows[0].supportsIn",
      "rows[1].lengthIn",
      "rows[1].offsetIn",
      "rows[1].supportsIn",
    ]);
    expect(await faultyFields(deck({ kerfIn: -1 }))).toEqual(["kerfIn"]);
    expect(await faultyFields(deck({ stock: [] }))).not.toEqual([]);
  });

  it("lays nothing where there is nothing", async () => {
    expect(await layBoards(deck({ rows: [] }))).toMatchObject({
      rows: [],
      layoutProved: true,
      plan: { costCents: 0 },
    });
  });

  it("has a layout even with no time at all", async () => {
    let ticks = 0;
    const input = deck({ rows: rows(9, row(401)) });
    const laid = await layBoards(input, { limitMs: 0, now: () => ticks++ });
    expect(broken(input, laid)).toEqual([]);
    expect(laid.layoutBoundCents).toBeLessThanOrEqual((await layBoards(input)).plan.costCents);
  });
});

function running(bays: number[]): number[] {
  const supports = [0];
  for (const bay of bays) supports.push((supports.at(-1) ?? 0) + bay);
  return supports;
}

const anyRow = fc
  .tuple(
    fc.array(fc.integer({ min: 8, max: 24 }), { minLength: 1, maxLength: 14 }),
    fc.constantFrom(0, 8, 16),
  )
  .map(([bays, offsetIn]): DeckRow => {
    const supportsIn = running(bays);
    return { lengthIn: supportsIn.at(-1) ?? 0, supportsIn, offsetIn };
  });
const anyStock = fc.array(
  fc.record({ lengthIn: fc.integer({ min: 72, max: 192 }), costCents: fc.integer({ min: 100, max: 2500 }) }),
  { minLength: 1, maxLength: 3 },
);

/** The cheapest way to make up the rows, staggered or not, over every split and every way to cut (tiny decks only). */
function cheapestByTrying({ rows: all, stock }: DeckLayout, minSupports: number): number {
  const splits = (supports: readonly number[], from: number): number[][] => {
    if (from === supports.length - 1) return [[]];
    return supports.flatMap((s, end) =>
      end - from + 1 < minSupports
        ? []
        : splits(supports, end).map((rest) => [s - (supports[from] ?? 0), ...rest]),
    );
  };
  let cheapest = Number.POSITIVE_INFINITY;
  const cut = (pieces: number[], rooms: number[], cost: number): void => {
    if (cost >= cheapest) return;
    const [piece, ...rest] = pieces;
    if (piece === undefined) {
      cheapest = cost;
      return;
    }
    rooms.forEach((room, b) => {
      if (room >= piece) cut(rest, rooms.with(b, room - piece), cost);
    });
    for (const s of stock)
      if (s.lengthIn >= piece) cut(rest, [...rooms, s.lengthIn - piece], cost + s.costCents);
  };
  const choose = (r: number, pieces: number[]): void => {
    const one = all[r];
    if (!one)
      cut(
        pieces.toSorted((a, b) => b - a),
        [],
        0,
      );
    else for (const split of splits(one.supportsIn, 0)) choose(r + 1, [...pieces, ...split]);
  };
  choose(0, []);
  return cheapest;
}

describe("layBoards, properties", () => {
  it("keeps every rule, and no bound above its cost", async () => {
    const input = fc.record({
      rows: fc.array(anyRow, { maxLength: 6 }),
      stock: anyStock,
      minSupports: fc.constantFrom(2, 3, 4),
    });
    await fc.assert(
      fc.asyncProperty(input, async ({ rows: some, stock, minSupports }) => {
        const order = { rows: some, stock, minSupports, kerfIn: 0.125, endTrimIn: 0.25 };
        const laid = await layBoards(order).catch((error: unknown) => {
          if (error instanceof EstimateInputError) return undefined;
          throw error;
        });
        fc.pre(laid !== undefined);
        expect(broken(order, laid)).toEqual([]);
        expect(laid.layoutBoundCents).toBeLessThanOrEqual(laid.plan.costCents);
        expect(laid.layoutProved).toBe(laid.layoutBoundCents === laid.plan.costCents);
      }),
      { numRuns: 15, seed: 3 },
    );
  }, 120_000);

  it("bounds from below what trying every layout finds", async () => {
    const short = fc
      .array(fc.integer({ min: 16, max: 40 }), { minLength: 1, maxLength: 5 })
      .map((bays): DeckRow => {
        const supportsIn = running(bays);
        return { lengthIn: supportsIn.at(-1) ?? 0, supportsIn };
      });
    const input = fc.record({ rows: fc.array(short, { minLength: 1, maxLength: 2 }), stock: anyStock });
    await fc.assert(
      fc.asyncProperty(input, async ({ rows: some, stock }) => {
        const order = { rows: some, stock, minSupports: 2, kerfIn: 0, endTrimIn: 0 };
        const laid = await layBoards(order).catch(() => undefined);
        fc.pre(laid !== undefined);
        const best = cheapestByTrying(order, 2);
        expect(laid.layoutBoundCents).toBeLessThanOrEqual(best);
        expect(laid.plan.costCents).toBeGreaterThanOrEqual(best);
        // One row has no neighbor to be staggered against, so nothing but the rules of thumb can cost anything.
        if (laid.layoutProved) expect(laid.plan.costCents).toBe(best);
      }),
      { numRuns: 25, seed: 5 },
    );
  }, 120_000);
});
