import type { identity as contract } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import type { PublicContext } from "../../http/implement.ts";
import { setSessionCookie } from "../../http/session-cookie.ts";
import { Problem } from "../../problem.ts";
import type { Services } from "../../services.ts";
import { atLeast } from "./pace.ts";
import { nobodysPassword, passwordFits } from "./passwords.ts";
import { type OpenedSession, openSession } from "./sessions.ts";

const TRIES = 10;
const LOCKED_MS = 15 * 60_000;
/** Above what checking a password and noting a failed try take. */
const PACE_MS = 250;

interface Account {
  companyId: string;
  companyName: string;
  slug: string;
  memberId: string;
  name: string;
  passwordHash: string;
  active: boolean;
  locked: boolean;
}

/**
 * Signs in with mail address and password. Unknown address, wrong password, locked account and ended membership
 * answer alike and as slowly. After ten wrong passwords in a row an account is locked for 15 minutes.
 */
export async function signIn(c: PublicContext<typeof contract.signIn>): Promise<contract.Session> {
  const opened = await atLeast(PACE_MS, () => tryToSignIn(c));
  if (!opened) {
    throw new Problem(
      "wrong-sign-in",
      "Check the address and the password, or ask for a link to set a new one. After ten wrong tries wait 15 minutes.",
    );
  }
  setSessionCookie(c.reply, c.services.config, opened.token);
  return opened.session;
}

async function tryToSignIn(c: PublicContext<typeof contract.signIn>): Promise<OpenedSession | null> {
  const { body, services, requestId } = c;
  const accounts = await findAccounts(services, body.email.toLowerCase(), body.company);
  if (accounts.length === 0) await nobodysPassword(body.password);
  const fitting: Account[] = [];
  for (const account of accounts) {
    const fits = await passwordFits(account.passwordHash, body.password);
    if (fits && account.active && !account.locked) fitting.push(account);
    // Counted even when the password fits in another company: whoever opens a company may choose any address, and
    // must not be able to try passwords on its other owner that way.
    if (!fits) await noteFailure(services, account, requestId);
  }
  const [account, another] = fitting;
  if (!account) return null;
  if (another) {
    throw new Problem("choose-company", "Say which of your companies to open.", {
      companies: fitting
        .map(({ slug, companyName }) => ({ slug, name: companyName }))
        .sort((a, b) => a.name.localeCompare(b.name)),
    });
  }
  return services.database.withCompany(
    account.companyId,
    { memberId: account.memberId, requestId },
    async (db) => {
      // Looked at again under a lock: of many guesses at once none may slip in beside the ones that lock the account.
      const now = services.now();
      const [stands] = await db.sql`
      SELECT id FROM members WHERE company_id = ${db.companyId} AND id = ${account.memberId} AND active
        AND password_hash = ${account.passwordHash} AND (locked_until IS NULL OR locked_until <= ${now}) FOR UPDATE`;
      if (!stands) return null;
      await db.audit({
        action: "member.signed_in",
        entity: "member",
        entityId: account.memberId,
        words: `${account.name} signed in.`,
      });
      return openSession(db, account.memberId, now, c.request);
    },
  );
}

async function findAccounts(services: Services, email: string, slug: string | undefined): Promise<Account[]> {
  const { database } = services;
  const named = slug === undefined ? null : await database.findCompanies("slug", slug);
  const accounts: Account[] = [];
  for (const companyId of await database.findCompanies("email", email)) {
    if (named && !named.includes(companyId)) continue;
    const found = await database.withCompany(
      companyId,
      {},
      (db) => db.sql<Account>`
        SELECT c.company_id AS "companyId", c.name AS "companyName", c.slug, m.id AS "memberId", m.name,
               m.password_hash AS "passwordHash", m.active, coalesce(m.locked_until > ${services.now()}, false) AS locked
        FROM members m JOIN companies c ON c.company_id = m.company_id
        WHERE m.company_id = ${db.companyId} AND m.email = ${email}`,
    );
    accounts.push(...found);
  }
  return accounts;
}

/** Counts a wrong password; the tenth in a row locks the account and begins the count anew. */
async function noteFailure(services: Services, account: Account, requestId: string): Promise<void> {
  const now = services.now();
  await services.database.withCompany(account.companyId, { requestId }, async (db: TenantDb) => {
    const [row] = await db.sql<{ locked: boolean }>`
      UPDATE members SET
        failed_sign_ins = CASE WHEN failed_sign_ins + 1 >= ${TRIES} THEN 0 ELSE failed_sign_ins + 1 END,
        locked_until = CASE WHEN failed_sign_ins + 1 >= ${TRIES} THEN ${new Date(now.getTime() + LOCKED_MS)}::timestamptz END
      WHERE company_id = ${db.companyId} AND id = ${account.memberId} AND active
        AND (locked_until IS NULL OR locked_until <= ${now})
      RETURNING locked_until IS NOT NULL AS locked`;
    // A locked account is left alone: its lock ends when it was said to end.
    if (!row) return;
    await db.audit({
      action: row.locked ? "member.locked" : "member.sign_in_refused",
      entity: "member",
      entityId: account.memberId,
      words: row.locked
        ? `${account.name} cannot sign in for 15 minutes: ten wrong passwords in a row.`
        : `Somebody gave a wrong password for ${account.name}.`,
    });
  });
}
