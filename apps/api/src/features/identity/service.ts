import type { identity as contract } from "@ledgerboard/contracts";
import type { Context } from "../../http/implement.ts";
import { clearSessionCookie } from "../../http/session-cookie.ts";
import { invalid } from "../../problem.ts";
import { hashPassword, passwordFits } from "./passwords.ts";
import { endLinks } from "./resets.ts";
import { endSessions } from "./sessions.ts";

/** Ends this browser's session; others of the member stay. */
export async function signOut(c: Context<typeof contract.signOut>): Promise<{ done: true }> {
  const { db, who, services } = c;
  await db.sql`
    UPDATE sessions SET revoked_at = ${services.now()} WHERE company_id = ${db.companyId} AND id = ${who.sessionId}`;
  await db.audit({
    action: "member.signed_out",
    entity: "member",
    entityId: who.memberId,
    words: `${who.memberName} signed out.`,
  });
  clearSessionCookie(c.reply, services.config);
  return { done: true };
}

/** Changes one's own password; every other browser and every mailed link stops working. */
export async function changePassword(c: Context<typeof contract.changePassword>): Promise<{ done: true }> {
  const { db, who, body } = c;
  const now = c.services.now();
  const [member] = await db.sql<{ password_hash: string }>`
    SELECT password_hash FROM members WHERE company_id = ${db.companyId} AND id = ${who.memberId} FOR UPDATE`;
  if (!member || !(await passwordFits(member.password_hash, body.current))) {
    throw invalid("body.current", "That is not your current password.");
  }
  if (body.next === body.current) throw invalid("body.next", "Choose another password than the current one.");
  await db.sql`
    UPDATE members SET password_hash = ${await hashPassword(body.next)}
    WHERE company_id = ${db.companyId} AND id = ${who.memberId}`;
  await endSessions(db, who.memberId, now, who.sessionId);
  await endLinks(db, who.memberId, now);
  await db.audit({
    action: "member.password_changed",
    entity: "member",
    entityId: who.memberId,
    words: `${who.memberName} changed the password.`,
  });
  return { done: true };
}
