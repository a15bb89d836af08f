/**
 * Seeded random numbers: xoshiro128** 1.1 by David Blackman and Sebastiano Vigna (public domain,
 * https://prng.di.unimi.it/xoshiro128starstar.c), its 128 bits of state filled from the seed by SplitMix64 as its
 * authors advise (https://prng.di.unimi.it/splitmix64.c). The same seed gives the same numbers, bit for bit.
 */
export type Stream = Uint32Array;

const MASK64 = (1n << 64n) - 1n;
/** 2^-32: an output has 32 bits, fine enough for a million draws. */
const UNIT = 1 / 4_294_967_296;
/** Advances a stream by 2^64 numbers, more than anyone will draw. From the authors' program, named above. */
const JUMP = [0x8764000b, 0xf542d2d3, 0x6fa035c3, 0x77f2db5b];

/** `count` outputs of SplitMix64. */
export function splitMix64(seed: bigint, count: number): bigint[] {
  let state = seed & MASK64;
  return Array.from({ length: count }, () => {
    state = (state + 0x9e3779b97f4a7c15n) & MASK64;
    let z = state;
    z = ((z ^ (z >> 30n)) * 0xbf58476d1ce4e5b9n) & MASK64;
    z = ((z ^ (z >> 27n)) * 0x94d049bb133111ebn) & MASK64;
    return z ^ (z >> 31n);
  });
}

/** A stream for a seed from 0 to 2^32 - 1. */
export function openStream(seed: number): Stream {
  const words = splitMix64(BigInt(seed), 2).flatMap((w) => [Number(w & 0xffffffffn), Number(w >> 32n)]);
  return Uint32Array.from(words);
}

/** The next 32 bits of a stream, as a whole number from 0 to 2^32 - 1. */
export function nextWord(stream: Stream): number {
  const s0 = stream[0] as number;
  const s1 = stream[1] as number;
  const a = (stream[2] as number) ^ s0;
  const b = (stream[3] as number) ^ s1;
  const product = Math.imul(s1, 5);
  const word = Math.imul((product << 7) | (product >>> 25), 9) >>> 0;
  stream[0] = s0 ^ b;
  stream[1] = s1 ^ a;
  stream[2] = a ^ (s1 << 9);
  stream[3] = (b << 11) | (b >>> 21);
  return word;
}

/** Moves a stream 2^64 numbers ahead, so that streams parted this way never overlap. */
export function jump(stream: Stream): void {
  const ahead = new Uint32Array(4);
  for (const word of JUMP) {
    for (let bit = 0; bit < 32; bit++) {
      if (word & (1 << bit))
        for (let i = 0; i < 4; i++) ahead[i] = (ahead[i] as number) ^ (stream[i] as number);
      nextWord(stream);
    }
  }
  stream.set(ahead);
}

/** Fills `out` with numbers spread evenly over 0 to 1, neither end included. */
export function fillUniform(stream: Stream, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = (nextWord(stream) + 0.5) * UNIT;
}

/**
 * Fills `out` with independent standard normal numbers by Marsaglia's polar method. Source: "Marsaglia polar method",
 * Wikipedia, https://en.wikipedia.org/wiki/Marsaglia_polar_method (from memory).
 */
export function fillNormal(stream: Stream, out: Float64Array): void {
  let i = 0;
  while (i < out.length) {
    const x = (nextWord(stream) + 0.5) * (2 * UNIT) - 1;
    const y = (nextWord(stream) + 0.5) * (2 * UNIT) - 1;
    const square = x * x + y * y;
    if (square >= 1) continue;
    const scale = Math.sqrt((-2 * Math.log(square)) / square);
    out[i++] = x * scale;
    if (i < out.length) out[i++] = y * scale;
  }
}
