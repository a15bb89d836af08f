import { describe, expect, it } from "vitest";
import { importWords, textFault } from "./import-words.ts";

describe("importWords", () => {
  it.each([
    [
      { rows: 41, added: 1, changed: 2, unchanged: 15 },
      "41 rows read: one new material, two materials changed, 15 materials as now.",
    ],
    [{ rows: 1, added: 0, changed: 0, unchanged: 1 }, "One row read: one material as now."],
    [{ rows: 2, added: 2, changed: 0, unchanged: 0 }, "Two rows read: two new materials."],
    [{ rows: 0, added: 0, changed: 0, unchanged: 0 }, "The file has no materials in it."],
  ])("%o", (counts, words) => {
    expect(importWords(counts, "materials")).toBe(words);
  });
  it("names what is in the file", () => {
    const counts = { rows: 3, added: 2, changed: 1, unchanged: 0 };
    expect(importWords(counts, "assemblies")).toBe(
      "Three rows read: two new assemblies, one assembly changed.",
    );
    expect(importWords(counts, "labor_rates")).toBe(
      "Three rows read: two new labor rates, one labor rate changed.",
    );
  });
});

describe("textFault", () => {
  it("passes what can be sent", () => {
    expect(textFault("code,name\nA,Ä\n")).toBeUndefined();
    expect(textFault("x".repeat(500_000))).toBeUndefined();
  });
  it("refuses what is empty, too long or in letters that were not understood", () => {
    expect(textFault(" \n")).toMatch(/Choose a file/);
    expect(textFault("x".repeat(500_001))).toMatch(/500,000/);
    expect(textFault("code\nA\uFFFD")).toMatch(/UTF-8/);
    expect(textFault("c\0o\0d\0e\0")).toMatch(/UTF-8/);
  });
});
