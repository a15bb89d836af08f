import { may, PERMISSIONS, type Permission, type Role } from "@ledgerboard/contracts";
import type { Session } from "@ledgerboard/contracts/identity";
import type { SignedIn, TenantDb } from "@ledgerboard/database";
import type { FastifyRequest } from "fastify";
import { localDay } from "../../days.ts";
import { hashToken, newToken, SESSION_DAYS } from "../../http/session-cookie.ts";

/** A session just opened: the answer, and the token only the browser will have. */
export interface OpenedSession {
  session: Session;
  token: string;
}

/** What the screens need to know of who is signed in. */
export function toSession(who: Omit<SignedIn, "sessionId">, today: string): Session {
  const roles = who.roles as Role[];
  return {
    member: { id: who.memberId, name: who.memberName, email: who.memberEmail, roles },
    company: {
      id: who.companyId,
      name: who.companyName,
      slug: who.companySlug,
      timezone: who.timezone,
      state: who.state,
      currency: who.currency,
    },
    permissions: (Object.keys(PERMISSIONS) as Permission[]).filter((permission) => may(roles, permission)),
    csrfToken: who.csrfToken,
    today,
  };
}

/** Opens a session of an active member, notes that he was seen, and clears his failed tries. */
export async function openSession(
  db: TenantDb,
  memberId: string,
  now: Date,
  request: FastifyRequest,
): Promise<OpenedSession> {
  const token = newToken();
  const csrfToken = newToken();
  const expiresAt = new Date(now.getTime() + SESSION_DAYS * 86_400_000);
  await db.sql`
    INSERT INTO sessions (company_id, member_id, token_hash, csrf_token, expires_at, last_seen_at, user_agent, address)
    VALUES (${db.companyId}, ${memberId}, ${hashToken(token)}, ${csrfToken}, ${expiresAt}, ${now},
            ${(request.headers["user-agent"] ?? "").slice(0, 200)}, ${request.ip})`;
  const [who] = await db.sql<Omit<SignedIn, "sessionId" | "csrfToken">>`
    UPDATE members m SET last_seen_at = ${now}, failed_sign_ins = 0, locked_until = NULL
    FROM companies c
    WHERE m.company_id = ${db.companyId} AND m.id = ${memberId} AND m.active AND c.company_id = m.company_id
    RETURNING m.id AS "memberId", m.name AS "memberName", m.email AS "memberEmail", m.roles,
              c.company_id AS "companyId", c.name AS "companyName", c.slug AS "companySlug", c.timezone, c.state, c.currency`;
  if (!who) throw new Error("A session may only be opened for an active member.");
  return { session: toSession({ ...who, csrfToken }, localDay(now, who.timezone)), token };
}

/** Ends every session of a member but the one given; the browsers are signed out at their next request. */
export async function endSessions(
  db: TenantDb,
  memberId: string,
  now: Date,
  but: string | null,
): Promise<void> {
  await db.sql`
    UPDATE sessions SET revoked_at = ${now}
    WHERE company_id = ${db.companyId} AND member_id = ${memberId} AND revoked_at IS NULL
      AND id IS DISTINCT FROM ${but}::uuid`;
}
