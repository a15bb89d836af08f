/** A run of like rows: where a board may end, in order from 0, and how many rows there are. */
export interface RowKind {
  /** Support centres in inches from the start of the row; the first is 0 and the last the row's length. */
  supportsIn: readonly number[];
  /** Whether a joint may lie over each support; the two ends always may. */
  allowed: readonly boolean[];
  /** Supports that every piece bears on at least. */
  minSupports: number;
  rows: number;
}

/** One way to make up a row: the supports that pieces meet over, first and last included, by their index. */
export type Split = readonly number[];

/** The lengths of the pieces of a split, in order along the row. */
export const piecesOf = ({ supportsIn }: RowKind, split: Split): number[] =>
  split.slice(1).map((end, i) => (supportsIn[end] ?? 0) - (supportsIn[split[i] ?? 0] ?? 0));

/**
 * The split whose pieces cost least, where `price` says what a piece of a length costs, and Infinity for lengths that
 * no stock gives: a shortest path over the supports. Among equals the one with fewest pieces. Undefined where no split
 * keeps the rules.
 */
export function cheapestSplit(
  kind: RowKind,
  price: (lengthIn: number) => number,
): { split: Split; cost: number } | undefined {
  const { supportsIn, allowed, minSupports } = kind;
  const last = supportsIn.length - 1;
  const cost = supportsIn.map((_, i) => (i === 0 ? 0 : Number.POSITIVE_INFINITY));
  const pieces = supportsIn.map(() => 0);
  const from = supportsIn.map(() => -1);
  for (let end = 1; end <= last; end++) {
    if (end < last && !allowed[end]) continue;
    for (let start = end - 1; start >= 0; start--) {
      if (end - start + 1 < minSupports || cost[start] === Number.POSITIVE_INFINITY) continue;
      const total = (cost[start] ?? 0) + price((supportsIn[end] ?? 0) - (supportsIn[start] ?? 0));
      const count = (pieces[start] ?? 0) + 1;
      const now = cost[end] ?? 0;
      if (total < now || (total === now && total < Number.POSITIVE_INFINITY && count < (pieces[end] ?? 0))) {
        cost[end] = total;
        pieces[end] = count;
        from[end] = start;
      }
    }
  }
  if (cost[last] === Number.POSITIVE_INFINITY) return undefined;
  const split = [last];
  while (split[0] !== 0) split.unshift(from[split[0] ?? 0] ?? 0);
  return { split, cost: cost[last] ?? 0 };
}
