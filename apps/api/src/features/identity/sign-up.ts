import type { identity as contract } from "@ledgerboard/contracts";
import type { Database, TenantDb } from "@ledgerboard/database";
import { localDay, toDate } from "../../days.ts";
import type { PublicContext } from "../../http/implement.ts";
import { setSessionCookie } from "../../http/session-cookie.ts";
import { Problem } from "../../problem.ts";
import { checkTimezone } from "../company/timezone.ts";
import { starterPriceBook } from "../price-book/starter.ts";
import { newId } from "./ids.ts";
import { anotherSlug, jobPrefixOf, slugOf } from "./naming.ts";
import { hashPassword } from "./passwords.ts";
import { openSession } from "./sessions.ts";

/** A sign-in checks the password of every company an address belongs to; this keeps that bounded. */
const COMPANIES_PER_ADDRESS = 20;

/** Opens a company with its first owner and signs him in. */
export async function signUp(c: PublicContext<typeof contract.signUp>): Promise<contract.Session> {
  const { body, services } = c;
  const email = body.email.toLowerCase();
  if ((await services.database.findCompanies("email", email)).length >= COMPANIES_PER_ADDRESS) {
    throw new Problem("conflict", "This mail address belongs to too many companies; use another one.");
  }
  const slug = await freeSlug(services.database, slugOf(body.companyName));
  const passwordHash = await hashPassword(body.password);
  const now = services.now();
  // Both ids are needed before either row exists: the tenant is set first, and the audit names the member.
  const companyId = newId(now);
  const memberId = newId(now);
  const actor = { memberId, requestId: c.requestId };
  const { session, token } = await services.database.withCompany(companyId, actor, async (db) => {
    await checkTimezone(db, body.timezone);
    const { companyName: name, state, timezone } = body;
    await db.prisma.company.create({
      data: { companyId, id: companyId, slug, name, jobPrefix: jobPrefixOf(name), state, timezone },
    });
    await db.prisma.member.create({
      data: { companyId, id: memberId, name: body.name, email, passwordHash, roles: ["owner"] },
    });
    await db.audit({
      action: "company.opened",
      entity: "company",
      entityId: companyId,
      words: `${body.name} opened ${name}.`,
    });
    await layOutDefaults(db, localDay(now, timezone));
    return openSession(db, memberId, now, c.request);
  });
  setSessionCookie(c.reply, services.config, token);
  return session;
}

/** What a company works with until it says otherwise: Monday to Friday, a materiality policy, a price book. */
async function layOutDefaults(db: TenantDb, today: string): Promise<void> {
  const { companyId } = db;
  await db.prisma.calendar.create({ data: { companyId, weekdays: [1, 2, 3, 4, 5] } });
  // $500 or 10 %, and any structural component whose action changes: common practice, no source.
  await db.prisma.materialityPolicy.create({
    data: {
      companyId,
      effectiveFrom: toDate(today),
      amountCents: 50_000,
      percentBp: 1_000,
      structuralAction: true,
    },
  });
  await starterPriceBook(db, today);
}

async function freeSlug(database: Database, wanted: string): Promise<string> {
  let slug = wanted;
  while ((await database.findCompanies("slug", slug)).length > 0) slug = anotherSlug(wanted);
  return slug;
}
