import type { Pattern } from "./columns.ts";
import type { Problem } from "./problem.ts";

/**
 * Every pattern worth considering whose price is above the worth of what is cut by at most `slack`: with the worths
 * of a bound, a plan that costs less than bound + slack can hold no other. Patterns that leave room for another
 * wanted piece are left out, since filling them up costs nothing; so are those that a stock without limit
 * holds for the same price or less. Undefined when there are more than `most`, or the search takes too long.
 *
 * @param worth what each piece is worth, cents; @param paid what each stock costs, with what a limit adds.
 */
export function patternsWithin(
  problem: Problem,
  worth: ArrayLike<number>,
  paid: readonly number[],
  slack: number,
  most: number,
): Pattern[] | undefined {
  const { widths, demand, bins } = problem;
  const count = widths.length;
  const largest = Math.max(...bins.map((b) => b.capacity));
  const span = largest + 1;
  if (count * span > 8_000_000) return undefined;
  // after[i][c]: the most that lengths i, i + 1, ... are worth in room c.
  const after = new Float64Array((count + 1) * span);
  for (let i = count - 1; i >= 0; i--) {
    const here = i * span;
    const next = here + span;
    const width = widths[i] as number;
    const value = worth[i] as number;
    const times = demand[i] as number;
    for (let c = 0; c < span; c++) {
      let top = after[next + c] as number;
      for (let k = 1, rest = c - width; k <= times && rest >= 0; k++, rest -= width)
        top = Math.max(top, (after[next + rest] as number) + k * value);
      after[here + c] = top;
    }
  }
  const narrowestFrom = new Float64Array(count + 1).fill(Number.POSITIVE_INFINITY);
  for (let i = count - 1; i >= 0; i--)
    narrowestFrom[i] = Math.min(narrowestFrom[i + 1] as number, widths[i] as number);

  const patterns: Pattern[] = [];
  const taken = new Int32Array(count);
  let steps = 0;
  const allowed = most * 40 + 20_000;

  const look = (bin: number, capacity: number, from: number, room: number, needed: number): boolean => {
    if (++steps > allowed) return false;
    if (from === count || room < (narrowestFrom[from] as number)) return keep(bin, capacity, room, needed);
    // Worth what is still needed only if the lengths to come can reach it.
    if ((after[from * span + room] as number) < needed) return true;
    const width = widths[from] as number;
    const value = worth[from] as number;
    for (let k = Math.min(demand[from] as number, Math.floor(room / width)); k >= 0; k--) {
      taken[from] = k;
      if (!look(bin, capacity, from + 1, room - k * width, needed - k * value)) return false;
    }
    taken[from] = 0;
    return true;
  };
  const keep = (bin: number, capacity: number, room: number, needed: number): boolean => {
    if (needed > 0) return true;
    for (let i = 0; i < count; i++)
      if ((widths[i] as number) <= room && (taken[i] as number) < (demand[i] as number)) return true;
    const cost = bins[bin]?.cost ?? 0;
    const used = capacity - room;
    const cheaper = bins.some(
      (b, o) =>
        o !== bin &&
        b.limit === Number.POSITIVE_INFINITY &&
        b.capacity >= used &&
        (b.cost < cost || (b.cost === cost && o > bin)),
    );
    if (cheaper) return true;
    if (patterns.length >= most) return false;
    patterns.push({ bin, cuts: [...taken].flatMap((n, i) => (n > 0 ? [[i, n] as const] : [])) });
    return true;
  };
  for (const [bin, { capacity }] of bins.entries()) {
    taken.fill(0);
    if (!look(bin, capacity, 0, capacity, (paid[bin] as number) - slack)) return undefined;
  }
  return patterns;
}
