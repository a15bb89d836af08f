/** A line and what became of it; exactly one side may be null, for a line that was removed or added. */
export type Match<L> = { before: L; after: L } | { before: L; after: null } | { before: null; after: L };

/**
 * Pairs the lines of two revisions by lineage: the identity a line keeps when its revision is copied. Where a lineage
 * occurs more than once, the first pairs with the first. Pairs and removed lines come in the order of `before`,
 * then added lines in the order of `after`; every line appears exactly once.
 */
export function matchLines<L extends { lineageId: string }>(
  before: readonly L[],
  after: readonly L[],
): Match<L>[] {
  const waiting = new Map<string, number[]>();
  for (const [index, { lineageId }] of after.entries()) {
    const same = waiting.get(lineageId);
    if (same) same.push(index);
    else waiting.set(lineageId, [index]);
  }
  const paired = new Set<number>();
  const matches: Match<L>[] = before.map((line) => {
    const index = waiting.get(line.lineageId)?.shift();
    const partner = index === undefined ? undefined : after[index];
    if (index === undefined || partner === undefined) return { before: line, after: null };
    paired.add(index);
    return { before: line, after: partner };
  });
  for (const [index, line] of after.entries()) {
    if (!paired.has(index)) matches.push({ before: null, after: line });
  }
  return matches;
}
