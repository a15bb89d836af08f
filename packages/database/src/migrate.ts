/**
 * Applies prisma/migrations to a database without Prisma's migration engine, and keeps the record where and
 * as `prisma migrate deploy` keeps it, so that either can go on from the other.
 */
import { createHash, randomUUID } from "node:crypto";
import { readdir, readFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import pg from "pg";
import { noProgress, type Progress } from "./progress.ts";

/** The advisory lock Prisma's own engine takes, so that neither runs while the other does. */
const LOCK_KEY = 72707369;
const LOCK_WAIT = "60s";

// As Prisma's own engine makes it (read from the catalog after npm @prisma/schema-engine-wasm
// 8.1.0-2.59be4fda).
const CREATE_RECORD = `
  CREATE TABLE IF NOT EXISTS public._prisma_migrations (
    id varchar(36) PRIMARY KEY NOT NULL,
    checksum varchar(64) NOT NULL,
    finished_at timestamptz,
    migration_name varchar(255) NOT NULL,
    logs text,
    rolled_back_at timestamptz,
    started_at timestamptz NOT NULL DEFAULT now(),
    applied_steps_count integer NOT NULL DEFAULT 0
  )`;

export interface MigrateOptions {
  /** Folder of `<timestamp_name>/migration.sql`; default `prisma/migrations` under the current directory. */
  dir?: string | undefined;
  onProgress?: Progress | undefined;
}

export interface MigrateResult {
  /** Names applied by this call, in order. */
  applied: string[];
  /** How many were in place before. */
  alreadyApplied: number;
}

export interface AppliedMigration {
  name: string;
  /** SHA-256 of the file as applied, in hexadecimal. */
  checksum: string;
  finishedAt: Date;
}

interface MigrationFile {
  name: string;
  path: string;
  sql: string;
}

/**
 * Brings the database of `adminUrl` up to date: every migration not yet recorded is applied in the order of
 * its name, each with its record in one transaction. A second call at the same time waits for the first.
 *
 * @throws before anything is applied, when an applied file has changed or is missing, or an earlier run
 *   failed; and when a migration fails, naming file, line and column. That migration is rolled back, the ones
 *   before it stay.
 */
export async function migrate(adminUrl: string, options: MigrateOptions = {}): Promise<MigrateResult> {
  const onProgress = options.onProgress ?? noProgress;
  const files = await readMigrations(resolve(options.dir ?? "prisma/migrations"));
  return withClient(adminUrl, async (client) => {
    await takeLock(client, onProgress);
    const records = await readRecords(client);
    const done = checkRecords(records, files);
    const pending = files.filter((file) => !done.has(file.name));
    if (pending.length > 0) await client.query(CREATE_RECORD);
    for (const file of pending) {
      onProgress(`Applying database migration ${file.name}…`);
      await apply(client, file);
    }
    return { applied: pending.map((file) => file.name), alreadyApplied: done.size };
  });
}

/** The migrations in force in a database, oldest first; empty where none was ever applied. */
export async function appliedMigrations(url: string): Promise<AppliedMigration[]> {
  const records = await withClient(url, readRecords);
  return records.flatMap(({ name, checksum, finishedAt }) =>
    finishedAt ? [{ name, checksum, finishedAt }] : [],
  );
}

async function withClient<T>(url: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: url });
  // Without a listener a connection lost between two queries would end the process; the next query
  // reports it.
  client.on("error", () => {});
  try {
    await client.connect();
    return await work(client);
  } finally {
    await client.end().catch(() => {});
  }
}

async function readMigrations(dir: string): Promise<MigrationFile[]> {
  const entries = await readdir(dir, { withFileTypes: true }).catch((cause) => {
    throw new Error(`The migrations folder ${dir} cannot be read.`, { cause });
  });
  // By code unit, as Prisma sorts, whatever the computer's language.
  const names = entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  names.sort((a, b) => (a < b ? -1 : 1));
  return Promise.all(
    names.map(async (name) => {
      const path = join(dir, name, "migration.sql");
      const sql = await readFile(path, "utf8").catch((cause) => {
        throw new Error(`The migration ${name} has no readable migration.sql (${path}).`, { cause });
      });
      return { name, path, sql };
    }),
  );
}

async function takeLock(client: pg.Client, onProgress: Progress): Promise<void> {
  const { rows } = await client.query("SELECT pg_try_advisory_lock($1) AS taken", [LOCK_KEY]);
  if (rows[0].taken) return;
  onProgress("Another process is migrating this database: waiting for it…");
  try {
    await client.query("SELECT set_config('lock_timeout', $1, false)", [LOCK_WAIT]);
    await client.query("SELECT pg_advisory_lock($1)", [LOCK_KEY]);
    await client.query("RESET lock_timeout");
  } catch (cause) {
    if ((cause as { code?: string }).code !== "55P03") throw cause;
    throw new Error(`Another process has been migrating this database for ${LOCK_WAIT}. Try again later.`, {
      cause,
    });
  }
}

interface MigrationRecord {
  name: string;
  checksum: string;
  finishedAt: Date | null;
}

async function readRecords(client: pg.Client): Promise<MigrationRecord[]> {
  const { rows: found } = await client.query(
    "SELECT to_regclass('public._prisma_migrations') IS NOT NULL AS exists",
  );
  if (!found[0].exists) return [];
  const { rows } = await client.query<MigrationRecord>(
    `SELECT migration_name AS name, checksum, finished_at AS "finishedAt"
       FROM public._prisma_migrations WHERE rolled_back_at IS NULL ORDER BY migration_name COLLATE "C", started_at`,
  );
  return rows;
}

function checkRecords(records: MigrationRecord[], files: MigrationFile[]): Set<string> {
  const byName = new Map(files.map((file) => [file.name, file]));
  for (const record of records) {
    const file = byName.get(record.name);
    if (!record.finishedAt) {
      throw new Error(
        `The migration ${record.name} was begun by another tool and never finished. Repair the database, ` +
          "then mark it with `prisma migrate resolve`.",
      );
    }
    if (!file) {
      throw new Error(
        `The database has the migration ${record.name}, which is not in the migrations folder. ` +
          "Use the program version that made this database, or a newer one.",
      );
    }
    if (!possibleChecksums(file.sql).includes(record.checksum)) {
      throw new Error(
        `The migration ${file.path} was changed after it was applied. Put the file back as it was, ` +
          "and make the change in a new migration.",
      );
    }
  }
  return new Set(records.map((record) => record.name));
}

/**
 * The file as it is and with either line ending, since Git may change those; Prisma compares the same way.
 */
function possibleChecksums(sql: string): string[] {
  const unix = sql.replaceAll("\r\n", "\n");
  return [sql, unix, unix.replaceAll("\n", "\r\n")].map(checksumOf);
}

function checksumOf(sql: string): string {
  return createHash("sha256").update(sql).digest("hex");
}

async function apply(client: pg.Client, file: MigrationFile): Promise<void> {
  const own = /^[ \t]*(begin|start\s+transaction|commit|rollback)(\s+(transaction|work))?\s*;/im.exec(
    file.sql.replace(/\$(\w*)\$[\s\S]*?\$\1\$/g, (body) => body.replace(/\S/g, " ")),
  );
  if (own) {
    throw new Error(
      `${file.path}: the migration has its own ${own[1]?.toUpperCase()}. Remove it: every migration already ` +
        "runs in one transaction.",
    );
  }
  await client.query("BEGIN");
  try {
    await client.query(file.sql);
    // Otherwise a deferred check would fail at COMMIT, where the file is no longer known.
    await client.query("SET CONSTRAINTS ALL IMMEDIATE");
  } catch (error) {
    await client.query("ROLLBACK").catch(() => {});
    throw describe(error as Error & { position?: string; where?: string }, file);
  }
  await client.query(
    `INSERT INTO public._prisma_migrations
       (id, checksum, migration_name, finished_at, applied_steps_count)
     VALUES ($1, $2, $3, clock_timestamp(), 1)`,
    [randomUUID(), checksumOf(file.sql), file.name],
  );
  await client.query("COMMIT");
  // A migration may have changed search_path or a role; the next must not notice.
  await client.query("RESET ROLE");
  await client.query("RESET ALL");
}

function describe(error: Error & { position?: string; where?: string }, file: MigrationFile): Error {
  let place = file.path;
  if (error.position) {
    // PostgreSQL counts characters from 1; JavaScript strings count UTF-16 units.
    const before = Array.from(file.sql).slice(0, Number(error.position) - 1);
    const lineStart = before.lastIndexOf("\n") + 1;
    place += `:${before.filter((character) => character === "\n").length + 1}:${before.length - lineStart + 1}`;
  }
  const where = error.where ? ` (${error.where.split("\n")[0]})` : "";
  return new Error(`${place}: the migration failed and was rolled back: ${error.message}${where}`, {
    cause: error,
  });
}
