import { describe, expect, it } from "vitest";
import { fillNormal, fillUniform, jump, nextWord, openStream, splitMix64 } from "./random.ts";

/**
 * Source: test of the crate rand_xoshiro (xoshiro128starstar.rs), whose values were made with the authors' reference
 * program, https://prng.di.unimi.it/xoshiro128starstar.c.
 */
it("gives the reference program's numbers from the state 1, 2, 3, 4", () => {
  const stream = Uint32Array.of(1, 2, 3, 4);
  expect(Array.from({ length: 10 }, () => nextWord(stream))).toEqual([
    11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
  ]);
});

/** Source: "Pseudo-random numbers/Splitmix64", Rosetta Code (from memory). */
it("fills the state with SplitMix64's published numbers", () => {
  expect(splitMix64(1234567n, 5)).toEqual([
    6457827717110365317n,
    3203168211198807973n,
    9817491932198370423n,
    4593380528125082431n,
    16408922859458223821n,
  ]);
  const [first = 0n] = splitMix64(1234567n, 1);
  expect([...openStream(1234567)].slice(0, 2)).toEqual([Number(first & 0xffffffffn), Number(first >> 32n)]);
});

/** One step is linear over single bits, so 2^64 steps are its matrix squared 64 times, worked out here from scratch. */
it("jumps as far as 2^64 steps lead", () => {
  const pack = (s: Uint32Array) => s.reduce((bits, word, i) => bits | (BigInt(word) << BigInt(32 * i)), 0n);
  const unpack = (bits: bigint) =>
    Uint32Array.from({ length: 4 }, (_, i) => Number((bits >> BigInt(32 * i)) & 0xffffffffn));
  const apply = (columns: bigint[], bits: bigint) =>
    columns.reduce((sum, column, i) => ((bits >> BigInt(i)) & 1n ? sum ^ column : sum), 0n);
  let columns = Array.from({ length: 128 }, (_, i) => {
    const stream = unpack(1n << BigInt(i));
    nextWord(stream);
    return pack(stream);
  });
  for (let squaring = 0; squaring < 64; squaring++) {
    const before = columns;
    columns = before.map((column) => apply(before, column));
  }
  const stream = openStream(7);
  const expected = apply(columns, pack(stream));
  jump(stream);
  expect(pack(stream)).toBe(expected);
});

/** A chi-square of 99 degrees of freedom is below 161 in 9,999 of 10,000 cases (Wilson and Hilferty's formula). */
const CHI_SQUARE_99 = 161;

function chiSquare(values: Float64Array, toShare: (value: number) => number): number {
  const counts = new Array<number>(100).fill(0);
  for (const value of values) {
    const at = Math.floor(toShare(value) * 100);
    counts[at] = (counts[at] ?? 0) + 1;
  }
  const expected = values.length / 100;
  return counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
}

/** Share of the standard normal distribution below z. Abramowitz and Stegun 26.2.17, good to 7.5e-8 (from memory). */
function normalShare(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const [b1, b2, b3, b4, b5] = [0.31938153, -0.356563782, 1.781477937, -1.821255978, 1.330274429];
  const tail =
    (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * t * (b1 + t * (b2 + t * (b3 + t * (b4 + t * b5))));
  return z < 0 ? tail : 1 - tail;
}

describe("spread of the numbers", () => {
  const values = new Float64Array(200_000);

  it.each([1, 2, 3])("is even from 0 to 1 (seed %i)", (seed) => {
    fillUniform(openStream(seed), values);
    expect(Math.min(...values.subarray(0, 1000))).toBeGreaterThan(0);
    expect(chiSquare(values, (u) => u)).toBeLessThan(CHI_SQUARE_99);
  });

  it.each([1, 2, 3])("is normal (seed %i)", (seed) => {
    fillNormal(openStream(seed), values);
    expect(chiSquare(values, normalShare)).toBeLessThan(CHI_SQUARE_99);
    // One in 15,787 lies beyond 4: of 200,000 about 13, and 2 to 30 but for a case in a thousand.
    const far = values.filter((z) => Math.abs(z) > 4).length;
    expect(far).toBeGreaterThanOrEqual(2);
    expect(far).toBeLessThanOrEqual(30);
  });

  it("shows no tie between a number and the next, nor between parted streams", () => {
    const stream = openStream(5);
    fillNormal(stream, values);
    const other = new Float64Array(values.length);
    jump(stream);
    fillNormal(stream, other);
    const tie = (a: Float64Array, b: Float64Array) => a.reduce((sum, x, i) => sum + x * (b[i] ?? 0), 0);
    // A sum of n products of independent standard normal numbers has standard deviation sqrt(n); five of them here.
    const limit = 5 * Math.sqrt(values.length);
    expect(Math.abs(tie(values, values.subarray(1)))).toBeLessThan(limit);
    expect(Math.abs(tie(values, other))).toBeLessThan(limit);
  });

  it("fills an odd length too", () => {
    const odd = new Float64Array(3);
    fillNormal(openStream(1), odd);
    expect(odd.every((z) => z !== 0)).toBe(true);
  });
});
