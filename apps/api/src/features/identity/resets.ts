import type { identity as contract } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import type { PublicContext } from "../../http/implement.ts";
import { hashToken, newToken } from "../../http/session-cookie.ts";
import type { Services } from "../../services.ts";
import { enqueueMail } from "../mail/service.ts";
import { companyOfLink, linkEnded } from "./links.ts";
import { atLeast } from "./pace.ts";
import { hashPassword } from "./passwords.ts";
import { endSessions } from "./sessions.ts";

const HOUR_MS = 3_600_000;
/** Links mailed to one member in an hour; more would only fill his mailbox. */
const LINKS_PER_HOUR = 5;
/** Above what writing a mail takes. */
const PACE_MS = 300;

/** Mails a link to set a new password, for each company of the address. Answers alike and as slowly for any address. */
export async function requestPasswordReset(
  c: PublicContext<typeof contract.requestPasswordReset>,
): Promise<{ done: true }> {
  const { services, requestId } = c;
  const email = c.body.email.toLowerCase();
  return atLeast(PACE_MS, async () => {
    for (const companyId of await services.database.findCompanies("email", email)) {
      await services.database.withCompany(companyId, { requestId }, (db) => mailLink(db, services, email));
    }
    return { done: true as const };
  });
}

async function mailLink(db: TenantDb, services: Services, email: string): Promise<void> {
  const now = services.now();
  const [member] = await db.sql<{ id: string; name: string; company: string; recent: number }>`
    SELECT m.id, m.name, c.name AS company,
           (SELECT count(*) FROM password_resets r WHERE r.company_id = m.company_id AND r.member_id = m.id
              AND r.created_at > ${new Date(now.getTime() - HOUR_MS)}) AS recent
    FROM members m JOIN companies c ON c.company_id = m.company_id
    WHERE m.company_id = ${db.companyId} AND m.email = ${email} AND m.active FOR UPDATE OF m`;
  if (!member || member.recent >= LINKS_PER_HOUR) return;
  await endLinks(db, member.id, now);
  const token = newToken();
  const [reset] = await db.sql<{ id: string }>`
    INSERT INTO password_resets (company_id, member_id, token_hash, expires_at, created_at)
    VALUES (${db.companyId}, ${member.id}, ${hashToken(token)}, ${new Date(now.getTime() + HOUR_MS)}, ${now})
    RETURNING id`;
  await enqueueMail(db, {
    kind: "password_reset",
    to: email,
    subject: `A new password for ${member.company}`,
    text: [
      `Hello ${member.name},`,
      `somebody, probably you, asked to set a new password for your account at ${member.company}. Set it here within one hour:`,
      `${services.config.PUBLIC_URL}/reset/${token}`,
      "The link works once. If you did not ask for it, do nothing: your password stays as it is.",
    ].join("\n\n"),
    dedupeKey: `password_reset:${reset?.id}`,
  });
  await db.audit({
    action: "member.reset_requested",
    entity: "member",
    entityId: member.id,
    words: `A link to set a new password was mailed to ${member.name}.`,
  });
}

/** Links mailed earlier stop working. */
export async function endLinks(db: TenantDb, memberId: string, now: Date): Promise<void> {
  await db.sql`
    UPDATE password_resets SET expires_at = ${now}
    WHERE company_id = ${db.companyId} AND member_id = ${memberId} AND used_at IS NULL AND expires_at > ${now}`;
}

/** Sets a new password with a mailed link, once, and signs the member out everywhere. */
export async function confirmPasswordReset(
  c: PublicContext<typeof contract.confirmPasswordReset>,
): Promise<{ done: true }> {
  const { body, services, requestId } = c;
  const { database } = services;
  const companyId = await companyOfLink(database, "password_reset", body.token);
  const now = services.now();
  const find = async (db: TenantDb): Promise<{ id: string; memberId: string; name: string }> => {
    const [reset] = await db.sql<{ id: string; memberId: string; name: string }>`
      SELECT r.id, m.id AS "memberId", m.name FROM password_resets r
      JOIN members m ON m.company_id = r.company_id AND m.id = r.member_id
      WHERE r.company_id = ${db.companyId} AND r.token_hash = ${hashToken(body.token)} AND r.used_at IS NULL
        AND r.expires_at > ${now} AND m.active FOR UPDATE`;
    if (!reset) throw linkEnded();
    return reset;
  };
  const { memberId } = await database.withCompany(companyId, {}, find);
  // Between two transactions: hashing is slow, and connections are few.
  const passwordHash = await hashPassword(body.password);
  await database.withCompany(companyId, { memberId, requestId }, async (db) => {
    const reset = await find(db);
    await db.sql`UPDATE password_resets SET used_at = ${now} WHERE company_id = ${db.companyId} AND id = ${reset.id}`;
    await db.sql`
      UPDATE members SET password_hash = ${passwordHash}, failed_sign_ins = 0, locked_until = NULL
      WHERE company_id = ${db.companyId} AND id = ${memberId}`;
    await endLinks(db, memberId, now);
    await endSessions(db, memberId, now, null);
    await db.audit({
      action: "member.password_reset",
      entity: "member",
      entityId: memberId,
      words: `${reset.name} set a new password with a mailed link.`,
    });
  });
  return { done: true };
}
