import { describe, expect, it } from "vitest";
import { amountWords, bestPack, packDrafts, readPacks } from "./packs.ts";

const pack = (size: string, cents: number) => ({ size, price: { cents, currency: "USD" as const } });
const row = (size: string | null, cents: number | null, key = "k") => ({ key, size, cents });

describe("readPacks", () => {
  it("gives back what is stored", () => {
    const packs = [pack("8", 1098), pack("12.5", 1648)];
    expect(readPacks(packDrafts(packs))).toEqual({ packs, at: [0, 1], faults: {} });
  });
  it("passes over empty rows and remembers where the others stand", () => {
    const { packs, at, faults } = readPacks([row(null, null), row("8", 0), row(null, null), row("10", 5)]);
    expect(packs).toEqual([pack("8", 0), pack("10", 5)]);
    expect(at).toEqual([1, 3]);
    expect(faults).toEqual({});
  });
  it("names the field of each fault by the row on screen", () => {
    const { faults } = readPacks([row(null, null), row("8", null), row(null, 5), row("0", 5), row("8.0", 7)]);
    expect(Object.keys(faults)).toEqual(["1.price", "2.size", "3.size", "4.size"]);
    expect(faults["4.size"]).toMatch(/same/);
  });
});

describe("bestPack", () => {
  it("is the cheapest per unit, not the cheapest or the largest", () => {
    expect(bestPack([pack("8", 1098), pack("12", 1648), pack("16", 2298)])?.size).toBe("8");
    expect(bestPack([pack("75", 1199), pack("350", 3499), pack("1750", 13999)])?.size).toBe("1750");
  });
  it("is the first of equals, and none where there are none", () => {
    expect(bestPack([pack("1", 10), pack("2", 20)])?.size).toBe("1");
    expect(bestPack([])).toBeUndefined();
  });
});

describe("amountWords", () => {
  it.each([
    ["1", "each", "1 piece"],
    ["1750", "each", "1,750 pieces"],
    ["1.0", "gal", "1.0 gallon"],
    ["5", "gal", "5 gallons"],
    ["8", "lf", "8 ft"],
    ["32", "sqft", "32 sq ft"],
    ["60", "lb", "60 lb"],
  ] as const)("%s %s is %s", (amount, unit, words) => {
    expect(amountWords(amount, unit)).toBe(words);
  });
});
