import { Problem } from "../problem.ts";

/**
 * Refuses a write made on an older version than the one stored, handing over what is there now.
 * `current` is read only when it is needed.
 */
export async function checkVersion(
  stored: number,
  seen: number,
  current: () => Promise<unknown> | unknown,
): Promise<void> {
  if (stored === seen) return;
  throw new Problem("version-stale", "Look at what is there now, then make your change again.", {
    current: await current(),
  });
}

/** A partial update as it came in, without the fields that were not given. */
export type Given<T> = { [K in keyof T]?: Exclude<T[K], undefined> };

/** Only the fields that are really given: what a partial update writes. */
export function given<T extends object>(body: T): Given<T> {
  return Object.fromEntries(Object.entries(body).filter(([, value]) => value !== undefined)) as Given<T>;
}
