import type { identity as contract, Role } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import type { PublicContext } from "../../http/implement.ts";
import { hashToken, setSessionCookie } from "../../http/session-cookie.ts";
import { newId } from "./ids.ts";
import { companyOfLink, linkEnded } from "./links.ts";
import { hashPassword } from "./passwords.ts";
import { openSession } from "./sessions.ts";

interface Offer {
  id: string;
  companyName: string;
  name: string;
  email: string;
  roles: Role[];
}

async function findOffer(db: TenantDb, token: string, now: Date): Promise<Offer> {
  const [offer] = await db.sql<Offer>`
    SELECT i.id, c.name AS "companyName", i.name, i.email, i.roles
    FROM invitations i JOIN companies c ON c.company_id = i.company_id
    WHERE i.company_id = ${db.companyId} AND i.token_hash = ${hashToken(token)} AND i.accepted_at IS NULL
      AND i.revoked_at IS NULL AND i.expires_at > ${now} FOR UPDATE OF i`;
  if (!offer) throw linkEnded();
  return offer;
}

/** What an invitation link offers, for whoever holds it. */
export async function readInvitation(c: PublicContext<typeof contract.readInvitation>) {
  const { database, now } = c.services;
  const companyId = await companyOfLink(database, "invitation", c.body.token);
  const offer = await database.withCompany(companyId, {}, (db) => findOffer(db, c.body.token, now()));
  const { companyName, name, email, roles } = offer;
  return { companyName, name, email, roles };
}

/** Makes the invited person a member with the roles offered, once, and signs him in. */
export async function acceptInvitation(
  c: PublicContext<typeof contract.acceptInvitation>,
): Promise<contract.Session> {
  const { body, services } = c;
  const { database } = services;
  const now = services.now();
  const companyId = await companyOfLink(database, "invitation", body.token);
  await database.withCompany(companyId, {}, (db) => findOffer(db, body.token, now));
  // Between two transactions: hashing is slow, and connections are few.
  const passwordHash = await hashPassword(body.password);
  const memberId = newId(now);
  const actor = { memberId, requestId: c.requestId };
  const { session, token } = await database.withCompany(companyId, actor, async (db) => {
    const { id, email, roles } = await findOffer(db, body.token, now);
    await db.prisma.member.create({
      data: { companyId, id: memberId, name: body.name, email, passwordHash, roles },
    });
    await db.sql`UPDATE invitations SET accepted_at = ${now} WHERE company_id = ${companyId} AND id = ${id}`;
    await db.audit({
      action: "member.joined",
      entity: "member",
      entityId: memberId,
      words: `${body.name} joined the company.`,
      changes: { roles },
    });
    return openSession(db, memberId, now, c.request);
  });
  setSessionCookie(c.reply, services.config, token);
  return session;
}
