/** Databases, and the role the program works as, on a server reached through an administrator's URL. */
import { setTimeout as sleep } from "node:timers/promises";
import pg from "pg";

/**
 * `adminUrl` pointing at another database of the same server.
 *
 * @throws for a name with one of ; / ? : @ & = + $ , # since not every driver reads those back from a URL.
 */
export function databaseUrl(adminUrl: string, name: string): string {
  if (!name || /[;/?:@&=+$,#]/.test(name)) {
    throw new Error(
      `The database name "${name}" cannot be written in a connection URL. Use letters, digits and _.`,
    );
  }
  const url = new URL(adminUrl);
  url.pathname = `/${encodeURIComponent(name)}`;
  return url.href;
}

/**
 * Creates a database, empty or as a copy of `template`, and returns its administrator URL. A template must
 * have no connections; ones that are just closing are waited for.
 *
 * @throws when the database exists or the template stays in use for five seconds.
 */
export async function createDatabase(
  adminUrl: string,
  name: string,
  options: { template?: string | undefined } = {},
): Promise<string> {
  const from = options.template ? ` TEMPLATE ${pg.escapeIdentifier(options.template)}` : "";
  const url = databaseUrl(adminUrl, name);
  const OBJECT_IN_USE = "55006";
  await withAdmin(adminUrl, async (client) => {
    await retry(OBJECT_IN_USE, 5_000, () =>
      client.query(`CREATE DATABASE ${pg.escapeIdentifier(name)}${from}`),
    );
  });
  return url;
}

/** Drops a database, closing whatever is connected to it. A database that does not exist is no error. */
export async function dropDatabase(adminUrl: string, name: string): Promise<void> {
  await withAdmin(adminUrl, (client) =>
    client.query(`DROP DATABASE IF EXISTS ${pg.escapeIdentifier(name)} WITH (FORCE)`),
  );
}

/** What row-level security needs of the role: it must be bound by the policies and unable to lift them. */
const WANTED = {
  rolcanlogin: "LOGIN",
  rolsuper: "NOSUPERUSER",
  rolbypassrls: "NOBYPASSRLS",
  rolcreatedb: "NOCREATEDB",
  rolcreaterole: "NOCREATEROLE",
  rolreplication: "NOREPLICATION",
} as const;

/**
 * Makes sure that the login role the program works as exists with this password, cannot bypass row-level
 * security, and owns nothing. Returns `adminUrl` with the role's name and password. Privileges on tables are
 * granted by the migrations.
 *
 * @throws when the role is the administrator itself, owns anything, or is a member of another role: each
 *   would let it past the policies.
 */
export async function ensureAppRole(
  adminUrl: string,
  { role, password }: { role: string; password: string },
): Promise<string> {
  if (!password) throw new Error("The database password of the program must not be empty.");
  const name = pg.escapeIdentifier(role);
  const secret = pg.escapeLiteral(password);
  await withAdmin(adminUrl, async (client) => {
    const { rows: me } = await client.query("SELECT current_user = $1 AS same", [role]);
    if (me[0].same) {
      throw new Error(`The role "${role}" administers the database; the program must work as another role.`);
    }
    const columns = Object.keys(WANTED).join(", ");
    const find = () =>
      client.query<Record<string, boolean>>(`SELECT ${columns} FROM pg_roles WHERE rolname = $1`, [role]);
    let existing = (await find()).rows[0];
    if (!existing) {
      await client.query(`CREATE ROLE ${name} ${Object.values(WANTED).join(" ")}`).catch((error) => {
        // Another process creating the same role at the same time is as good.
        if (!["42710", "23505"].includes(error.code)) throw error;
      });
      existing = (await find()).rows[0];
    }
    await refuseWays(client, role);
    // Only what differs: a hosted server's administrator may not even mention SUPERUSER.
    const wrong = Object.entries(WANTED).filter(
      ([column, word]) => existing?.[column] !== !word.startsWith("NO"),
    );
    const CONCURRENT_UPDATE = "XX000";
    await retry(CONCURRENT_UPDATE, 5_000, () =>
      client.query(`ALTER ROLE ${name} ${wrong.map(([, word]) => word).join(" ")} PASSWORD ${secret}`),
    );
  });
  const url = new URL(adminUrl);
  url.username = encodeURIComponent(role);
  url.password = encodeURIComponent(password);
  return url.href;
}

async function refuseWays(client: pg.Client, role: string): Promise<void> {
  const { rows: owned } = await client.query(
    `SELECT count(*)::int AS count FROM pg_shdepend
      WHERE refclassid = 'pg_authid'::regclass AND refobjid = $1::regrole AND deptype = 'o'`,
    [pg.escapeIdentifier(role)],
  );
  if (owned[0].count > 0) {
    throw new Error(
      `The role "${role}" owns ${owned[0].count} database object(s), so it could lift their row-level security. ` +
        "Give them to the administrator with REASSIGN OWNED.",
    );
  }
  const { rows: memberships } = await client.query(
    `SELECT roleid::regrole::text AS name FROM pg_auth_members WHERE member = $1::regrole ORDER BY 1`,
    [pg.escapeIdentifier(role)],
  );
  if (memberships.length > 0) {
    const names = memberships.map((membership) => membership.name).join(", ");
    throw new Error(`The role "${role}" is a member of ${names} and gains its rights. REVOKE that first.`);
  }
}

async function withAdmin(adminUrl: string, work: (client: pg.Client) => Promise<unknown>): Promise<void> {
  const client = new pg.Client({ connectionString: adminUrl });
  client.on("error", () => {});
  try {
    await client.connect();
    await work(client);
  } finally {
    await client.end().catch(() => {});
  }
}

async function retry(code: string, withinMs: number, work: () => Promise<unknown>): Promise<void> {
  const until = Date.now() + withinMs;
  for (;;) {
    try {
      await work();
      return;
    } catch (error) {
      if ((error as { code?: string }).code !== code || Date.now() > until) throw error;
      await sleep(50);
    }
  }
}
