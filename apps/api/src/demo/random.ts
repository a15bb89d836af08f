/** A small seeded generator, so that the invented data is the same at every run. */
export interface Random {
  /** A number from 0 up to, not including, 1. */
  next(): number;
  /** A whole number from `low` to `high`, both included. */
  whole(low: number, high: number): number;
  chance(probability: number): boolean;
  pick<T>(values: readonly T[]): T;
  /** The values in another order; the array given stays as it is. */
  shuffle<T>(values: readonly T[]): T[];
  /** About normal with mean 0 and standard deviation 1: twelve uniform draws summed, less six. */
  normal(): number;
}

/** Mulberry32: 32 bits of state, good enough to invent people with; not for secrets. From memory, public domain. */
function mulberry32(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

export function seeded(seed: number): Random {
  const next = mulberry32(seed);
  const whole = (low: number, high: number) => low + Math.floor(next() * (high - low + 1));
  const pick = <T>(values: readonly T[]): T => {
    if (values.length === 0) throw new RangeError("There is nothing to pick from.");
    return values[whole(0, values.length - 1)] as T;
  };
  return {
    next,
    whole,
    pick,
    chance: (probability) => next() < probability,
    shuffle(values) {
      const rest = [...values];
      return values.map(() => rest.splice(whole(0, rest.length - 1), 1)[0] as (typeof values)[number]);
    },
    normal: () => Array.from({ length: 12 }, next).reduce((a, b) => a + b, 0) - 6,
  };
}

/** A UUID version 7 (RFC 9562, section 5.7) of an instant, so that invented rows sort by when they are said to have been written. */
export function idAt(ms: number, random: Random): string {
  const time = ms.toString(16).padStart(12, "0");
  const hex = (digits: number) =>
    random
      .whole(0, 16 ** digits - 1)
      .toString(16)
      .padStart(digits, "0");
  const variant = (0x8000 + random.whole(0, 0x3fff)).toString(16);
  return `${time.slice(0, 8)}-${time.slice(8)}-7${hex(3)}-${variant}-${hex(6)}${hex(6)}`;
}
