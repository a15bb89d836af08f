/** How much time a search may still take. */
export interface Clock {
  /** Seconds; zero or less when the time is up. */
  left(): number;
  /** Told after every run of HiGHS how long it took by HiGHS's own clock, in seconds. */
  spend(seconds: number): void;
}

/**
 * Counts down from `limitMs` by the clock that is handed in; without one, by HiGHS's own count of its running time, which
 * leaves out the work done between its runs.
 */
export function startClock(limitMs: number, now?: () => number): Clock {
  if (now) {
    const end = now() + limitMs;
    return { left: () => (end - now()) / 1000, spend: () => undefined };
  }
  let left = limitMs / 1000;
  return {
    left: () => left,
    spend: (seconds) => {
      left -= Math.max(0, seconds);
    },
  };
}
