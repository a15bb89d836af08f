import type { identity as contract } from "@ledgerboard/contracts";
import type { Context } from "../../http/implement.ts";
import { hashToken, newToken } from "../../http/session-cookie.ts";
import { illegalMove, notFound, Problem } from "../../problem.ts";
import { enqueueMail } from "../mail/service.ts";

const DAYS = 7;

/** Mails an invitation. An earlier one to the same address that is still open is replaced: its link ends. */
export async function invite(c: Context<typeof contract.invite>): Promise<contract.Invitation> {
  const { db, body, who, services } = c;
  const email = body.email.toLowerCase();
  const now = services.now();
  const [member] = await db.sql<{ name: string; active: boolean }>`
    SELECT name, active FROM members WHERE company_id = ${db.companyId} AND email = ${email}`;
  if (member) {
    throw new Problem(
      "conflict",
      member.active
        ? `${member.name} is a member with this mail address already.`
        : `${member.name} was a member with this mail address; give access back instead.`,
    );
  }
  await db.sql`
    UPDATE invitations SET revoked_at = ${now}
    WHERE company_id = ${db.companyId} AND email = ${email} AND accepted_at IS NULL AND revoked_at IS NULL`;
  const token = newToken();
  const expiresAt = new Date(now.getTime() + DAYS * 86_400_000);
  const { id } = await db.prisma.invitation.create({
    data: {
      companyId: db.companyId,
      email,
      name: body.name,
      roles: body.roles,
      tokenHash: hashToken(token),
      invitedById: who.memberId,
      expiresAt,
    },
  });
  await enqueueMail(db, {
    kind: "invitation",
    to: email,
    subject: `${who.memberName} invites you to ${who.companyName}`,
    text: [
      `Hello ${body.name},`,
      `${who.memberName} would like you to join ${who.companyName} on Ledgerboard. Choose your password here within ${DAYS} days:`,
      `${services.config.PUBLIC_URL}/join/${token}`,
      "The link works once. If this means nothing to you, do nothing.",
    ].join("\n\n"),
    dedupeKey: `invitation:${id}`,
  });
  await db.audit({
    action: "invitation.sent",
    entity: "invitation",
    entityId: id,
    words: `${who.memberName} invited ${body.name}.`,
    changes: { roles: body.roles },
  });
  return {
    id,
    name: body.name,
    email,
    roles: body.roles,
    invitedBy: who.memberName,
    expiresAt: expiresAt.toISOString(),
    state: "open",
  };
}

/** Takes an invitation back: its link ends at once. */
export async function revokeInvitation(
  c: Context<typeof contract.revokeInvitation>,
): Promise<{ done: true }> {
  const { db, params, services } = c;
  const [invitation] = await db.sql<{ name: string; accepted: boolean; revoked: boolean }>`
    SELECT name, accepted_at IS NOT NULL AS accepted, revoked_at IS NOT NULL AS revoked
    FROM invitations WHERE company_id = ${db.companyId} AND id = ${params.invitationId} FOR UPDATE`;
  if (!invitation) throw notFound("invitation");
  if (invitation.accepted) {
    throw illegalMove(`${invitation.name} has joined already. Take the access away in the list of members.`);
  }
  if (invitation.revoked) throw illegalMove("This invitation was taken back already.");
  await db.sql`
    UPDATE invitations SET revoked_at = ${services.now()}
    WHERE company_id = ${db.companyId} AND id = ${params.invitationId}`;
  await db.audit({
    action: "invitation.revoked",
    entity: "invitation",
    entityId: params.invitationId,
    words: `The invitation of ${invitation.name} was taken back.`,
  });
  return { done: true };
}
