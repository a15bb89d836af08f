/** Makes a PostgreSQL database ready for the program: its tables, the role it works as, and its job queue. */
import pg from "pg";
import { migrate } from "./migrate.ts";
import type { Progress } from "./progress.ts";
import { prepareQueue } from "./queue.ts";
import { ensureAppRole } from "./roles.ts";

const APP_ROLE = "ledgerboard_app";
/** uuidv7() came with it. */
const OLDEST_SERVER = 18;

export interface PrepareOptions {
  /** What the role of the program will sign in with; set anew at every call. */
  appPassword: string;
  /** Folder of the migrations. */
  migrations: string;
  onProgress?: Progress | undefined;
}

export interface Prepared {
  /** Connection URL of the role the program works as. */
  appUrl: string;
  /** No company has been entered yet. */
  empty: boolean;
}

/**
 * Brings the database of `adminUrl` (its owner) up to date. A second call changes nothing; of two at the same
 * time the later waits.
 *
 * @throws when the server is too old or cannot be reached, and for whatever stops a migration.
 */
export async function prepareDatabase(adminUrl: string, options: PrepareOptions): Promise<Prepared> {
  const version = Number((await ask(adminUrl, "SHOW server_version_num")).server_version_num);
  const major = Math.floor(version / 10_000);
  if (major < OLDEST_SERVER) {
    throw new Error(
      `The database server is PostgreSQL ${major}; PostgreSQL ${OLDEST_SERVER} or newer is needed.`,
    );
  }
  const appUrl = await ensureAppRole(adminUrl, { role: APP_ROLE, password: options.appPassword });
  await migrate(adminUrl, { dir: options.migrations, onProgress: options.onProgress });
  await prepareQueue(adminUrl);
  // Not the table of companies: its row-level security hides every row from an owner who is no superuser.
  const { empty } = await ask(adminUrl, "SELECT NOT EXISTS (SELECT FROM tenant_routes) AS empty");
  return { appUrl, empty: empty as boolean };
}

async function ask(url: string, sql: string): Promise<Record<string, unknown>> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 });
  client.on("error", () => undefined);
  const { host, pathname } = new URL(url);
  try {
    await client.connect();
  } catch (cause) {
    await client.end().catch(() => undefined);
    throw new Error(
      `The database ${pathname.slice(1)} at ${host} cannot be reached: ${(cause as Error).message}`,
      {
        cause,
      },
    );
  }
  try {
    const { rows } = await client.query<Record<string, unknown>>(sql);
    return rows[0] ?? {};
  } finally {
    await client.end().catch(() => undefined);
  }
}
