import { createHmac, timingSafeEqual } from "node:crypto";
import { Problem } from "./problem.ts";

const sign = (secret: string, payload: string): string =>
  createHmac("sha256", secret).update(payload).digest("base64url").slice(0, 22);

/** An opaque cursor: the sort key of the last row, signed so that nobody depends on its form. */
export function toCursor(secret: string, list: string, key: readonly unknown[]): string {
  const payload = Buffer.from(JSON.stringify([list, ...key])).toString("base64url");
  return `${payload}_${sign(secret, payload)}`;
}

/** The sort key in a cursor, or null at the start. Throws a problem when it is not one of ours for this list. */
export function fromCursor<K extends readonly unknown[]>(
  secret: string,
  list: string,
  cursor: string | undefined,
): K | null {
  if (cursor === undefined) return null;
  const payload = cursor.slice(0, -23);
  const given = Buffer.from(cursor.slice(-22));
  const expected = Buffer.from(sign(secret, payload));
  if (given.length === expected.length && timingSafeEqual(given, expected)) {
    const [name, ...key] = JSON.parse(Buffer.from(payload, "base64url").toString()) as unknown[];
    if (name === list) return key as unknown as K;
  }
  throw new Problem("invalid-input", "This list has changed; start again from its first page.", {
    errors: [{ path: "query.after", message: "Not a cursor of this list." }],
  });
}

/** One page out of `limit + 1` rows read: the rows and the cursor of the next page, if there is one. */
export function paginate<T>(
  rows: T[],
  limit: number,
  cursorOf: (last: T) => string,
): { items: T[]; next: string | null } {
  const items = rows.slice(0, limit);
  const last = items.at(-1);
  return { items, next: rows.length > limit && last ? cursorOf(last) : null };
}
