/**
 * The database of a start on one's own computer: the server DATABASE_URL names, or one of our own in .data/.
 * Everything is imported late: it needs the Prisma client, which a first start has only just made.
 */
import { randomBytes } from "node:crypto";
import { mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { join, resolve } from "node:path";

const ROOT = resolve(import.meta.dirname, "..");
export const DATA = join(ROOT, ".data");
const NAME = "ledgerboard";
const SEEDING = join(DATA, "demo-unfinished");

export interface LocalDatabase {
  /** Connection URL of the role the program works as. */
  appUrl: string;
  /** No company has been entered yet. */
  empty: boolean;
  /** Runs what fills an empty database; if it is interrupted, the next start begins again from nothing. */
  fill(work: () => Promise<void>): Promise<void>;
  /** Stops the server, where it is ours. */
  stop(): Promise<void>;
}

/**
 * Starts or finds the server, and makes its database ready.
 *
 * @param client settles once the Prisma client is made; the server starts meanwhile.
 */
export async function openLocalDatabase(
  onProgress: (line: string) => void,
  client: Promise<unknown>,
): Promise<LocalDatabase> {
  const appPassword = await secret("app-password");
  const prepare = async (adminUrl: string) => {
    await client;
    const { prepareDatabase } = await import("@ledgerboard/database/prepare");
    return prepareDatabase(adminUrl, {
      appPassword,
      migrations: join(ROOT, "prisma", "migrations"),
      onProgress,
    });
  };

  const outside = process.env.DATABASE_URL;
  if (outside) {
    onProgress("Using the database server of DATABASE_URL…");
    return { ...(await prepare(outside)), fill: (work) => work(), stop: async () => undefined };
  }

  const { startDatabase } = await import("@ledgerboard/database/embedded-server");
  const { createDatabase, databaseUrl, dropDatabase } = await import("@ledgerboard/database/roles");
  onProgress("Starting the database…");
  const server = await startDatabase({ dataDir: DATA, onProgress });
  try {
    if ((await readFile(SEEDING, "utf8").catch(() => undefined)) !== undefined) {
      onProgress("The last start was interrupted while it entered the demo companies: beginning again…");
      await dropDatabase(server.adminUrl, NAME);
      await rm(SEEDING, { force: true });
    }
    const adminUrl = await createDatabase(server.adminUrl, NAME).catch((error: { code?: string }) => {
      const DUPLICATE_DATABASE = "42P04";
      if (error.code !== DUPLICATE_DATABASE) throw error;
      return databaseUrl(server.adminUrl, NAME);
    });
    return {
      ...(await prepare(adminUrl)),
      async fill(work) {
        await writeFile(SEEDING, "");
        await work();
        await rm(SEEDING, { force: true });
      },
      stop: () => server.stop(),
    };
  } catch (error) {
    await server.stop();
    throw error;
  }
}

/** A random secret kept between starts in a file of .data/ that only its owner can read. */
export async function secret(name: string): Promise<string> {
  const path = join(DATA, name);
  const known = (await readFile(path, "utf8").catch(() => "")).trim();
  if (known) return known;
  const fresh = randomBytes(32).toString("base64url");
  await mkdir(DATA, { recursive: true });
  await writeFile(path, `${fresh}\n`, { mode: 0o600 });
  return fresh;
}
