/** One bar: how many draws cost from `fromCents` up to but not including `toCents`. */
export interface Bin {
  fromCents: number;
  toCents: number;
  count: number;
}

/** Most bars a chart gets; round widths leave between a third of them and all of them. */
const MAX_BINS = 30;

/** The smallest of 1, 2 and 5 times a power of ten cents that is at least `width`. */
function roundWidth(width: number): number {
  for (let power = 1; ; power *= 10)
    for (const step of [1, 2, 5]) if (step * power >= width) return step * power;
}

/** Bars of one round width, edges at whole multiples of it, that hold every draw: 31 at most. */
export function histogram(sortedCents: Float64Array): Bin[] {
  const [least, most] = [sortedCents[0] as number, sortedCents[sortedCents.length - 1] as number];
  const width = roundWidth((most - least) / MAX_BINS);
  const first = Math.floor(least / width);
  const counts = new Array<number>(Math.floor(most / width) - first + 1).fill(0);
  for (const cents of sortedCents) {
    const at = Math.floor(cents / width) - first;
    counts[at] = (counts[at] as number) + 1;
  }
  return counts.map((count, i) => ({
    fromCents: (first + i) * width,
    toCents: (first + i + 1) * width,
    count,
  }));
}
