import { setTimeout as sleep } from "node:timers/promises";

/**
 * Runs `work` and answers no sooner than after `ms` milliseconds, whether it succeeds or fails: what it had to do
 * cannot be read from the time taken, as long as `ms` is well above it.
 */
export async function atLeast<T>(ms: number, work: () => Promise<T>): Promise<T> {
  const pause = sleep(ms);
  try {
    return await work();
  } finally {
    await pause;
  }
}
