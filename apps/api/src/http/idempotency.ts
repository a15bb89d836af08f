import { createHash } from "node:crypto";
import type { TenantDb } from "@ledgerboard/database";
import { Problem } from "../problem.ts";

const KEY = /^[\x21-\x7e]{8,200}$/;

/** The Idempotency-Key of a request. Throws a problem when it is missing or not 8 to 200 printable characters. */
export function readKey(header: string | string[] | undefined): string {
  if (typeof header !== "string" || !KEY.test(header)) {
    throw new Problem(
      "key-required",
      "Send an Idempotency-Key header of 8 to 200 characters, new for every act and the same for a retry.",
    );
  }
  return header;
}

/**
 * Runs `act` once per key and member: a repeat of the same request gets the first answer, another request under
 * the same key is refused. The key is claimed first, so of two at once the second waits for the first to commit.
 */
export async function once(
  db: TenantDb,
  key: string,
  request: { endpoint: string; input: unknown },
  act: () => Promise<{ status: number; body: unknown }>,
): Promise<{ status: number; body: unknown; replayed: boolean }> {
  const hash = createHash("sha256").update(JSON.stringify(request)).digest("hex");
  const claimed = await db.sql<{ id: string }>`
    INSERT INTO idempotency_keys (company_id, member_id, key, request_hash, status, response)
    VALUES (${db.companyId}, ${db.memberId}, ${key}, ${hash}, 0, 'null')
    ON CONFLICT (company_id, member_id, key) DO NOTHING RETURNING id`;
  const claim = claimed[0];
  if (!claim) {
    const [earlier] = await db.sql<{ request_hash: string; status: number; response: unknown }>`
      SELECT request_hash, status, response FROM idempotency_keys
      WHERE company_id = ${db.companyId} AND member_id = ${db.memberId} AND key = ${key}`;
    if (!earlier || earlier.request_hash !== hash) {
      throw new Problem(
        "key-reused",
        "Use a new Idempotency-Key for every act; only a retry of the same request repeats it.",
      );
    }
    return { status: earlier.status, body: earlier.response, replayed: true };
  }
  const result = await act();
  await db.sql`UPDATE idempotency_keys SET status = ${result.status}, response = ${JSON.stringify(result.body)}
    WHERE company_id = ${db.companyId} AND id = ${claim.id}`;
  return { ...result, replayed: false };
}
