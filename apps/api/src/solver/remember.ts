/** What is kept of one answer: how good it is, whether better is possible, and how hard it was looked for. */
interface Known<T> {
  result: T;
  cents: number;
  proved: boolean;
  effort: number;
}

/** Answers kept at once; the one asked for longest ago goes first. */
const MOST_KNOWN = 200;

/**
 * Remembers the best answer to each question, so that the same question has the same answer whatever the machine is
 * busy with: a proved one for good, another until somebody asks with more effort, and never for a dearer one.
 */
export function rememberBest<Input, T>(
  solve: (input: Input, limitMs: number) => Promise<T>,
  judge: (result: T) => { cents: number; proved: boolean },
): (input: Input, effort: number, limitMs: number) => Promise<T> {
  const known = new Map<string, Known<T>>();
  return async (input, effort, limitMs) => {
    const key = JSON.stringify(input);
    const before = known.get(key);
    if (before && (before.proved || before.effort >= effort)) {
      known.delete(key);
      known.set(key, before);
      return before.result;
    }
    const result = await solve(input, limitMs);
    const { cents, proved } = judge(result);
    // Somebody else may have asked meanwhile.
    const rival = known.get(key) ?? before;
    const better = !rival || cents < rival.cents || (cents === rival.cents && proved);
    const best = better ? { result, cents, proved, effort } : { ...rival, effort };
    known.delete(key);
    known.set(key, best);
    const [oldest] = known.keys();
    if (known.size > MOST_KNOWN && oldest !== undefined) known.delete(oldest);
    return best.result;
  };
}
