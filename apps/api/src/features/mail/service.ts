import type { TenantDb } from "@ledgerboard/database";
import { sendJob } from "@ledgerboard/database/queue";

export interface Mail {
  /** What the mail is for, in snake case: "password_reset", "invitation", "quote". */
  kind: string;
  to: string;
  subject: string;
  /** Plain text. */
  text: string;
  /** The same for every repeat of one mail; no second mail with this key is ever written in the company. */
  dedupeKey: string;
  jobId?: string | null;
}

/**
 * Writes a mail in the transaction of the change that causes it, and the order to deliver it with it: both or neither.
 * Nothing is sent before the transaction commits, and no mail server is waited for. Returns the id of the mail, or
 * null when one with this dedupe key is there already.
 */
export async function enqueueMail(db: TenantDb, mail: Mail): Promise<string | null> {
  const [row] = await db.sql<{ id: string }>`
    INSERT INTO outbox_messages (company_id, kind, recipient, subject, body, dedupe_key, job_id)
    VALUES (${db.companyId}, ${mail.kind}, ${mail.to}, ${mail.subject}, ${mail.text}, ${mail.dedupeKey},
            ${mail.jobId ?? null})
    ON CONFLICT (company_id, dedupe_key) DO NOTHING RETURNING id`;
  if (!row) return null;
  await sendJob(db, "deliver-mail", { companyId: db.companyId, messageId: row.id });
  return row.id;
}

/** A mailed link opens a door to whoever reads it; this leaves the text readable and the door shut. */
export const withoutKeys = (text: string): string =>
  text.replace(/\/[A-Za-z0-9_-]{43}(?![A-Za-z0-9_-])/g, "/…");
