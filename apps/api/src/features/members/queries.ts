import type { identity as contract } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { notFound } from "../../problem.ts";

/** Everybody of the company, those with access first. */
export function listMembers(db: TenantDb): Promise<contract.Member[]> {
  return db.sql<contract.Member>`
    SELECT id, name, email, roles, active, last_seen_at AS "lastSeenAt", version
    FROM members WHERE company_id = ${db.companyId} ORDER BY active DESC, name, id`;
}

/** One member, locked for the rest of the transaction. */
export async function lockMember(db: TenantDb, memberId: string): Promise<contract.Member> {
  const [member] = await db.sql<contract.Member>`
    SELECT id, name, email, roles, active, last_seen_at AS "lastSeenAt", version
    FROM members WHERE company_id = ${db.companyId} AND id = ${memberId} FOR UPDATE`;
  if (!member) throw notFound("member");
  return member;
}

/** Invitations of the company, newest first. */
export function listInvitations(db: TenantDb, now: Date): Promise<contract.Invitation[]> {
  return db.sql<contract.Invitation>`
    SELECT i.id, i.name, i.email, i.roles, m.name AS "invitedBy", i.expires_at AS "expiresAt",
      CASE WHEN i.accepted_at IS NOT NULL THEN 'accepted' WHEN i.revoked_at IS NOT NULL THEN 'revoked'
           WHEN i.expires_at <= ${now} THEN 'expired' ELSE 'open' END AS state
    FROM invitations i JOIN members m ON m.company_id = i.company_id AND m.id = i.invited_by_id
    WHERE i.company_id = ${db.companyId} ORDER BY i.id DESC LIMIT 500`;
}
