const LONGEST = 60;

/** A short name for the work from what the caller said: the first sentence, cut between words. */
export function titleOf(words: string): string {
  const first =
    words
      .trim()
      .split(/[.!?\n]/)[0]
      ?.trim() ?? "";
  if (first.length <= LONGEST) return first;
  const cut = first.slice(0, LONGEST + 1);
  const space = cut.lastIndexOf(" ");
  return (space > 0 ? cut.slice(0, space) : first.slice(0, LONGEST)).replace(/[,;:]$/, "");
}
