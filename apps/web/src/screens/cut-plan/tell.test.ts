import { describe, expect, it } from "vitest";
import {
  boardWords,
  type CutBoard,
  cutWords,
  estimateWords,
  inCuttingOrder,
  layoutWords,
  packWords,
  proofWords,
} from "./tell.ts";

const usd = (cents: number) => ({ cents, currency: "USD" as const });
const board = (stockIn: number, count: number, cuts: [number, string][], leftIn: number): CutBoard => ({
  stockIn,
  count,
  cuts: cuts.map(([lengthIn, what]) => ({ lengthIn, for: what })),
  leftIn,
});

describe("a cut plan in words", () => {
  it("says what is proved and what is only near", () => {
    expect(proofWords({ proved: true, gapBp: 0, bound: usd(1) })).toMatch(/^Proved: no cheaper/);
    const near = proofWords({ proved: false, gapBp: 80, bound: usd(41_250) });
    expect(near).toContain("Within 0.8% of the best possible");
    expect(near).toContain("$412.50");
  });

  it("says whether the rows could be split cheaper", () => {
    expect(layoutWords({ cost: usd(10_000), layoutBound: null })).toBeNull();
    expect(layoutWords({ cost: usd(10_000), layoutBound: usd(10_000) })).toMatch(/^No other way/);
    expect(layoutWords({ cost: usd(10_000), layoutBound: usd(9_750) })).toContain("save $2.50 at most");
  });

  it("compares with the estimate either way", () => {
    expect(estimateWords({ cost: usd(10_000), estimated: usd(12_550) })).toContain("$25.50 more than");
    expect(estimateWords({ cost: usd(10_000), estimated: usd(9_000) })).toContain("$10 less than");
    expect(estimateWords({ cost: usd(10_000), estimated: usd(10_000) })).toMatch(/the same\.$/);
  });

  it("counts equal cuts of a board once, longest first, and keeps what they are for apart", () => {
    const cuts = board(
      192,
      1,
      [
        [50.5, "joist"],
        [90, "rim"],
        [50.5, "joist"],
        [50.5, "block"],
      ],
      3,
    ).cuts;
    expect(cutWords(cuts).map(({ text, for: what }) => [text, what])).toEqual([
      [`7' 6"`, "rim"],
      [`2 × 4' 2 1/2"`, "joist"],
      [`4' 2 1/2"`, "block"],
    ]);
    expect(boardWords(board(192, 2, [[90, "rim"]], 12))).toBe(
      `two boards of 16 ft: 7' 6" for rim; 1 ft left over.`,
    );
  });

  it("puts long stock and frequent cuts first", () => {
    const boards = [board(144, 9, [], 0), board(192, 1, [], 5), board(192, 4, [], 0)];
    expect(inCuttingOrder(boards).map((b) => [b.stockIn, b.count])).toEqual([
      [192, 4],
      [192, 1],
      [144, 9],
    ]);
  });

  it("lists the packs that are bought", () => {
    const packs = [
      { size: "350", price: usd(8_900), count: 2 },
      { size: "100", price: usd(3_100), count: 0 },
    ];
    const purchase = {
      code: "s",
      name: "Screws",
      section: null,
      wholePacks: true,
      needed: "612",
      used: usd(1),
      cost: usd(1),
      leftover: usd(1),
    };
    expect(packWords({ ...purchase, unit: "each", packs })).toBe("2 × 350");
    expect(packWords({ ...purchase, unit: "lf", packs })).toBe("2 × 350 ft");
    const singly = [{ size: "1", price: usd(600), count: 21 }];
    expect(packWords({ ...purchase, unit: "each", packs: singly })).toBe("21");
    expect(packWords({ ...purchase, unit: "gal", packs: singly })).toBe("21 gallon");
  });
});
