import type { TenantDb } from "@ledgerboard/database";
import { createTransport } from "nodemailer";
import type { Services } from "../../services.ts";
import { withoutKeys } from "./service.ts";

/** How long one delivery may take in all; below the two minutes after which the queue takes its job for dead. */
const DELIVERY_MS = 90_000;

export type Transport = ReturnType<typeof openTransport>;

/** A mail server by its URL, smtp:// or smtps://. Every wait is bounded, so that a silent server costs a retry only. */
export function openTransport(url: string) {
  return createTransport({
    url,
    connectionTimeout: 10_000,
    greetingTimeout: 10_000,
    socketTimeout: 30_000,
    // Mail is text made here; nothing in it may name a file or an address to fetch.
    disableFileAccess: true,
    disableUrlAccess: true,
  });
}

interface Pending {
  id: string;
  kind: string;
  recipient: string;
  subject: string;
  body: string;
  job_id: string | null;
}

/**
 * Delivers one mail of the outbox, or marks it as kept where there is no mail server. Safe to repeat: what was
 * delivered or given up is left alone. No transaction is open while the mail server is waited for.
 *
 * A process that dies between the mail server's yes and noting it delivers again, with the same Message-ID.
 *
 * @throws when the mail server did not take it and another try may help.
 */
export async function deliverMail(
  services: Services,
  transport: Transport | null,
  job: { companyId: string; messageId: string; lastAttempt: boolean },
): Promise<void> {
  const inCompany = <T>(fn: (db: TenantDb) => Promise<T>) =>
    services.database.withCompany(job.companyId, {}, fn);
  const mail = await inCompany((db) => take(db, job.messageId, transport !== null));
  if (!mail || !transport) return;
  try {
    await within(
      DELIVERY_MS,
      transport.sendMail({
        messageId: `<${mail.id}@${new URL(services.config.PUBLIC_URL).hostname}>`,
        from: services.config.MAIL_FROM,
        // As an object: an address is never read as a list of several.
        to: { name: "", address: mail.recipient },
        subject: mail.subject,
        text: mail.body,
        headers: { "Auto-Submitted": "auto-generated" },
      }),
    );
  } catch (error) {
    const { permanent, code, message } = error as { permanent?: boolean; code?: string; message: string };
    // A refused password of ours is put right in the settings; a refused recipient is not.
    const givenUp = job.lastAttempt || (permanent === true && code !== "EAUTH");
    await inCompany((db) => noteFailure(db, mail, message, givenUp));
    if (givenUp) return;
    throw error;
  }
  await inCompany((db) => noteSent(db, mail, services.now()));
}

async function take(db: TenantDb, messageId: string, sending: boolean): Promise<Pending | null> {
  const [mail] = await db.sql<Pending>`
    UPDATE outbox_messages SET attempts = attempts + ${sending ? 1 : 0}, state = ${sending ? "pending" : "kept"}
    WHERE company_id = ${db.companyId} AND id = ${messageId} AND state = 'pending'
    RETURNING id, kind, recipient, subject, body, job_id`;
  if (mail && !sending) await note(db, mail, "mail.kept", "was kept in the outbox; no mail server is set up");
  return mail ?? null;
}

async function noteSent(db: TenantDb, mail: Pending, now: Date): Promise<void> {
  await db.sql`
    UPDATE outbox_messages SET state = 'sent', sent_at = ${now}, last_error = NULL, body = ${withoutKeys(mail.body)}
    WHERE company_id = ${db.companyId} AND id = ${mail.id}`;
  await note(db, mail, "mail.sent", "was sent");
}

async function noteFailure(db: TenantDb, mail: Pending, error: string, givenUp: boolean): Promise<void> {
  await db.sql`
    UPDATE outbox_messages SET state = ${givenUp ? "failed" : "pending"}, last_error = ${error.slice(0, 500)}
    WHERE company_id = ${db.companyId} AND id = ${mail.id}`;
  if (givenUp) await note(db, mail, "mail.failed", "could not be delivered");
}

/** The subject, not the address: the trail is kept for good, and a customer may ask to be forgotten. */
const note = (db: TenantDb, mail: Pending, action: string, what: string): Promise<void> =>
  db.audit({
    action,
    entity: "mail",
    entityId: mail.id,
    jobId: mail.job_id,
    words: `The mail “${mail.subject}” ${what}.`,
  });

async function within<T>(ms: number, work: Promise<T>): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error(`The mail server took longer than ${ms / 1000} seconds.`)), ms);
  });
  return Promise.race([work, late]).finally(() => clearTimeout(timer));
}
