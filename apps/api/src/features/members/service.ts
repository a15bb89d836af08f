import type { identity as contract, Role } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import type { Context } from "../../http/implement.ts";
import { illegalMove } from "../../problem.ts";
import { endLinks } from "../identity/resets.ts";
import { endSessions } from "../identity/sessions.ts";
import { rowKey } from "../keys.ts";
import { checkVersion, given } from "../versions.ts";
import { lockMember } from "./queries.ts";

interface Standing {
  active: boolean;
  roles: Role[];
}
const isOwner = (m: Standing): boolean => m.active && m.roles.includes("owner");

/** Changes a member's name, roles or access. Who loses access is signed out at once. */
export async function updateMember(c: Context<typeof contract.updateMember>): Promise<contract.Member> {
  const { db, body, who } = c;
  // Two owners taking each other's role at once would leave none: one company, one such change at a time.
  await db.sql`SELECT id FROM companies WHERE company_id = ${db.companyId} FOR NO KEY UPDATE`;
  const before = await lockMember(db, c.params.memberId);
  await checkVersion(before.version, c.version, () => before);
  const changes = given(body);
  const after = { ...before, ...changes };
  if (isOwner(before) && !isOwner(after)) await checkOwnerMayGo(db, before, who.memberId);
  await db.prisma.member.update({
    where: rowKey(db, before.id),
    data: { ...changes, ...(after.active && !before.active && { failedSignIns: 0, lockedUntil: null }) },
  });
  if (before.active && !after.active) {
    const now = c.services.now();
    await endSessions(db, before.id, now, null);
    await endLinks(db, before.id, now);
  }
  await db.audit({
    action: "member.changed",
    entity: "member",
    entityId: before.id,
    words: inWords(before, after),
    changes: { before: { name: before.name, roles: before.roles, active: before.active }, after: changes },
  });
  return lockMember(db, before.id);
}

/** Nobody locks himself out by a slip, and the company never stands without an owner. */
async function checkOwnerMayGo(db: TenantDb, owner: contract.Member, actingId: string): Promise<void> {
  const [others] = await db.sql<{ count: number }>`
    SELECT count(*) AS count FROM members
    WHERE company_id = ${db.companyId} AND id <> ${owner.id} AND active AND 'owner' = ANY (roles)`;
  if (!others?.count) {
    throw illegalMove(`${owner.name} is the only owner. Give somebody else the role first.`);
  }
  if (owner.id === actingId) {
    throw illegalMove("You would lock yourself out of this page. Ask another owner to do it.");
  }
}

function inWords(before: contract.Member, after: contract.Member): string {
  if (before.active && !after.active) return `${after.name} no longer has access.`;
  if (!before.active && after.active) return `${after.name} has access again.`;
  if (before.roles.join() !== after.roles.join()) {
    return `${after.name} is now ${after.roles.join(", ").replaceAll("_", " ")}.`;
  }
  return before.name === after.name
    ? `${after.name}'s entry was saved unchanged.`
    : `${before.name} is now called ${after.name}.`;
}
