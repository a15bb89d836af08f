/** How often each width is cut from one board, as [index of the width, times] pairs in rising order of index. */
export type Cuts = (readonly [index: number, times: number])[];

/**
 * The best-valued filling of every capacity from 0 to `largest` at once, each width used at most as often as it is
 * demanded (a bounded knapsack, by dynamic programming). Values are zero or more; whole values below 2^53 are exact.
 */
export interface Fillings {
  /** best[c]: the value of the best filling of capacity c. */
  best: Float64Array;
  /** The filling that has the value best[capacity]. */
  cuts(capacity: number): Cuts;
}

export function fillBoards(
  widths: readonly number[],
  demand: readonly number[],
  values: ArrayLike<number>,
  largest: number,
): Fillings {
  const best = new Float64Array(largest + 1);
  const span = largest + 1;
  const worthy = widths.flatMap((w, i) =>
    (values[i] ?? 0) > 0 && (demand[i] ?? 0) > 0 && w <= largest ? [i] : [],
  );
  const taken = new Uint16Array(span * worthy.length);
  worthy.forEach((index, layer) => {
    const width = widths[index] as number;
    const value = values[index] as number;
    const most = Math.min(demand[index] as number, Math.floor(largest / width), 65_535);
    const offset = layer * span;
    for (let c = largest; c >= width; c--) {
      let top = best[c] as number;
      let times = 0;
      for (let k = 1, rest = c - width; k <= most && rest >= 0; k++, rest -= width) {
        const reached = (best[rest] as number) + k * value;
        if (reached > top) {
          top = reached;
          times = k;
        }
      }
      if (times > 0) {
        best[c] = top;
        taken[offset + c] = times;
      }
    }
  });
  return {
    best,
    cuts(capacity) {
      const cuts: Cuts = [];
      let left = capacity;
      for (let layer = worthy.length - 1; layer >= 0; layer--) {
        const times = taken[layer * span + left] as number;
        if (times === 0) continue;
        const index = worthy[layer] as number;
        cuts.push([index, times]);
        left -= times * (widths[index] as number);
      }
      return cuts.reverse();
    },
  };
}
