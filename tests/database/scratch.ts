import { randomBytes } from "node:crypto";
import { createDatabase, databaseUrl, dropDatabase } from "@ledgerboard/database/roles";
import pg from "pg";
import { inject } from "vitest";

/** A migrated database of a test file's own, without the program in front of it. */
export interface Scratch {
  /** Superuser, who owns everything and is bound by no policy. */
  admin: pg.Pool;
  /** URL of the role the program works as. */
  appUrl: string;
  drop(): Promise<void>;
}

export async function openScratch(): Promise<Scratch> {
  const serverUrl = inject("adminUrl");
  const name = `scratch_${randomBytes(6).toString("hex")}`;
  const adminUrl = await createDatabase(serverUrl, name, { template: inject("templateName") });
  const appUrl = new URL(databaseUrl(serverUrl, name));
  appUrl.username = "ledgerboard_app";
  appUrl.password = inject("appPassword");
  const admin = new pg.Pool({ connectionString: adminUrl, max: 3 });
  // Dropping the database cuts what is idle; that is no failure.
  admin.on("error", () => undefined);
  return {
    admin,
    appUrl: appUrl.toString(),
    async drop() {
      await admin.end();
      await dropDatabase(serverUrl, name);
    },
  };
}

/** Runs `work` in a transaction that is always rolled back. */
export async function undone<T>(pool: pg.Pool, work: (client: pg.PoolClient) => Promise<T>): Promise<T> {
  const client = await pool.connect();
  try {
    await client.query("BEGIN");
    return await work(client);
  } finally {
    await client.query("ROLLBACK");
    client.release();
  }
}

/** The SQLSTATE and message a statement is refused with; fails the test when it is taken. */
export async function refusal(statement: Promise<unknown>): Promise<{ code: string; message: string }> {
  try {
    await statement;
  } catch (error) {
    const { code = "", message } = error as Error & { code?: string };
    return { code, message };
  }
  throw new Error("The statement was taken, though it had to be refused.");
}
