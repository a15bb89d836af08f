import type { company } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";

/** Mail of the company, newest first, from a place in the list. */
export function listOutbox(
  db: TenantDb,
  after: string | null,
  limit: number,
): Promise<company.OutboxMessage[]> {
  return db.sql<company.OutboxMessage>`
    SELECT id, kind, recipient AS "to", subject, body AS text, state, attempts, last_error AS "lastError",
           created_at AS "createdAt", sent_at AS "sentAt"
    FROM outbox_messages
    WHERE company_id = ${db.companyId} AND (${after}::uuid IS NULL OR id < ${after}::uuid)
    ORDER BY id DESC LIMIT ${limit}`;
}
