import { describe, expect, it } from "vitest";
import { boardsOf, spans, wrap } from "./spans.ts";

const step = (key: string, cents: number) => ({ key, name: key, note: "", cents });

describe("spans", () => {
  it("carries the level from the first pier to the last, board by board", () => {
    const boards = spans(
      { name: "first pass", cents: 1_192_000, note: "" },
      { name: "site review", cents: 961_000, note: "" },
      [step("removed", -478_000), step("added", 164_000), step("rate", 0), step("quantity", 83_000)],
    );
    expect(boards.map(({ key, kind, low, high, level }) => [key, kind, low, high, level])).toEqual([
      ["from", "pier", 0, 1_192_000, 1_192_000],
      ["removed", "cut", 714_000, 1_192_000, 714_000],
      ["added", "laid", 714_000, 878_000, 878_000],
      ["quantity", "laid", 878_000, 961_000, 961_000],
      ["to", "pier", 0, 961_000, 961_000],
    ]);
  });
  it("is two piers when nothing moved", () => {
    const same = { name: "a", cents: 500, note: "" };
    expect(spans(same, same, [step("removed", 0)]).map(({ kind }) => kind)).toEqual(["pier", "pier"]);
  });
});

describe("wrap", () => {
  it("breaks at words and says when there was more", () => {
    expect(wrap("stringer, replace 5 and one more", 14, 3)).toEqual([
      "stringer,",
      "replace 5 and",
      "one more",
    ]);
    expect(wrap("stringer, replace 5 and one more", 14, 2)).toEqual(["stringer,", "replace 5 and…"]);
  });
  it("keeps a word longer than the line whole", () => {
    expect(wrap("misjudgedcondition", 5, 2)).toEqual(["misjudgedcondition"]);
    expect(wrap("", 5, 2)).toEqual([]);
  });
});

describe("boardsOf", () => {
  it("carries every step of the service's bridge, and names those that moved nothing", () => {
    const usd = (cents: number) => ({ cents, currency: "USD" as const });
    const { boards, still } = boardsOf(
      { name: "now", cents: 1000, note: "" },
      { name: "then", cents: 1290, note: "" },
      [
        { step: "rate", delta: usd(200) },
        { step: "allowance", delta: usd(50) },
        { step: "overhead_and_tax", delta: usd(0) },
        { step: "whole_job", delta: usd(40) },
      ],
      (step) => `of ${step}`,
    );
    expect(boards.map(({ key, level }) => [key, level])).toEqual([
      ["from", 1000],
      ["rate", 1200],
      ["allowance", 1250],
      ["whole_job", 1290],
      ["to", 1290],
    ]);
    expect(boards[2]?.note).toBe("of allowance");
    expect(still).toEqual(["overhead, tax, margin"]);
  });
});
