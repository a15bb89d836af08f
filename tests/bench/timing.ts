/** Milliseconds that `act` takes. */
export function milliseconds(act: () => void): number {
  const from = performance.now();
  act();
  return performance.now() - from;
}

export const middle = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

/** The middle time of each act, in milliseconds, taken turn and turn about so that a slow moment falls on all. */
export function sideBySide(rounds: number, acts: readonly (() => void)[]): number[] {
  const times = acts.map((): number[] => []);
  // The first rounds warm up.
  for (let round = -5; round < rounds; round++) {
    for (const [i, act] of acts.entries()) {
      const took = milliseconds(act);
      if (round >= 0) times[i]?.push(took);
    }
  }
  return times.map(middle);
}
