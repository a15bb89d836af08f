import { createHash } from "node:crypto";
import { chmod, cp, mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import pg from "pg";
import { afterAll, afterEach, beforeAll, beforeEach, expect, test, vi } from "vitest";
import { type RunningDatabase, startDatabase } from "./embedded-server.ts";
import { appliedMigrations, migrate } from "./migrate.ts";
import { createDatabase, dropDatabase } from "./roles.ts";

vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

let root: string;
let server: RunningDatabase;
let dir: string;
let url: string;

beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), "ledgerboard-migrate-"));
  // As root the server runs as another user, who must get through.
  await chmod(root, 0o755);
  server = await startDatabase({ dataDir: join(root, "data"), fast: true });
});

afterAll(async () => {
  await server?.stop();
  await rm(root, { recursive: true, force: true });
});

beforeEach(async () => {
  dir = await mkdtemp(join(root, "migrations-"));
  url = await createDatabase(server.adminUrl, "trial");
});

afterEach(async () => {
  await dropDatabase(server.adminUrl, "trial");
});

async function write(name: string, sql: string): Promise<void> {
  await mkdir(join(dir, name), { recursive: true });
  await writeFile(join(dir, name, "migration.sql"), sql);
}

async function query(sql: string): Promise<Record<string, unknown>[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

const FIRST = "CREATE TABLE plank (length_ft int);\nINSERT INTO plank VALUES (12);\n";
const SECOND = "ALTER TABLE plank ADD COLUMN width_in int;\n";

test("applies in order of name, once, and records as Prisma does", async () => {
  await write("20260102000000_width", SECOND);
  await write("20260101000000_plank", FIRST);
  await writeFile(join(dir, "migration_lock.toml"), 'provider = "postgresql"\n');
  const lines: string[] = [];
  expect(await migrate(url, { dir, onProgress: (line) => lines.push(line) })).toEqual({
    applied: ["20260101000000_plank", "20260102000000_width"],
    alreadyApplied: 0,
  });
  expect(lines).toHaveLength(2);
  expect(await migrate(url, { dir })).toEqual({ applied: [], alreadyApplied: 2 });
  expect(await query("SELECT * FROM plank")).toEqual([{ length_ft: 12, width_in: null }]);
  const records = await query("SELECT * FROM _prisma_migrations ORDER BY migration_name");
  expect(records[0]).toMatchObject({
    checksum: createHash("sha256").update(FIRST).digest("hex"),
    migration_name: "20260101000000_plank",
    logs: null,
    rolled_back_at: null,
    applied_steps_count: 1,
  });
  expect(records[0]?.id).toMatch(/^[0-9a-f-]{36}$/);
  expect(records[0]?.finished_at).toBeInstanceOf(Date);
});

test("the record table has the columns Prisma's engine creates", async () => {
  // Source of the columns: the table as Prisma's own engine made it (npm @prisma/schema-engine-wasm
  // 8.1.0-2.59be4fda, applyMigrations on PostgreSQL 18.4), read from the catalog.
  await write("20260101000000_plank", FIRST);
  await migrate(url, { dir });
  const columns = await query(
    `SELECT a.attname || ' ' || format_type(a.atttypid, a.atttypmod) || CASE WHEN a.attnotnull THEN ' not null' ELSE '' END AS is
       FROM pg_attribute a WHERE a.attrelid = '_prisma_migrations'::regclass AND a.attnum > 0 ORDER BY a.attnum`,
  );
  expect(columns.map((column) => column.is)).toEqual([
    "id character varying(36) not null",
    "checksum character varying(64) not null",
    "finished_at timestamp with time zone",
    "migration_name character varying(255) not null",
    "logs text",
    "rolled_back_at timestamp with time zone",
    "started_at timestamp with time zone not null",
    "applied_steps_count integer not null",
  ]);
});

test("appliedMigrations lists what is in force, and nothing on a new database", async () => {
  expect(await appliedMigrations(url)).toEqual([]);
  await write("20260101000000_plank", FIRST);
  await migrate(url, { dir });
  expect(await appliedMigrations(url)).toEqual([
    {
      name: "20260101000000_plank",
      checksum: createHash("sha256").update(FIRST).digest("hex"),
      finishedAt: expect.any(Date),
    },
  ]);
});

test("goes on from what is already applied", async () => {
  await write("20260101000000_plank", FIRST);
  await migrate(url, { dir });
  await write("20260102000000_width", SECOND);
  expect(await migrate(url, { dir })).toEqual({ applied: ["20260102000000_width"], alreadyApplied: 1 });
});

test("refuses a changed file before applying anything; a changed line ending is no change", async () => {
  await write("20260101000000_plank", FIRST);
  await migrate(url, { dir });
  await write("20260101000000_plank", FIRST.replaceAll("\n", "\r\n"));
  expect(await migrate(url, { dir })).toEqual({ applied: [], alreadyApplied: 1 });
  await write("20260101000000_plank", FIRST.replace("12", "16"));
  await write("20260102000000_width", SECOND);
  await expect(migrate(url, { dir })).rejects.toThrow(
    /20260101000000_plank.*was changed after it was applied/,
  );
  expect(await query("SELECT * FROM plank")).toEqual([{ length_ft: 12 }]);
});

test("refuses a database that is ahead of the folder, and one a tool left half migrated", async () => {
  await write("20260101000000_plank", FIRST);
  await write("20260102000000_width", SECOND);
  await migrate(url, { dir });
  const whole = await mkdtemp(join(root, "whole-"));
  await cp(dir, whole, { recursive: true });
  await rm(join(dir, "20260102000000_width"), { recursive: true });
  await expect(migrate(url, { dir })).rejects.toThrow(
    /20260102000000_width, which is not in the migrations folder/,
  );
  await query("UPDATE _prisma_migrations SET finished_at = NULL WHERE migration_name LIKE '%width'");
  await expect(migrate(url, { dir: whole })).rejects.toThrow(/20260102000000_width .* never finished/);
  await query("UPDATE _prisma_migrations SET rolled_back_at = now() WHERE finished_at IS NULL");
  await query("ALTER TABLE plank DROP COLUMN width_in");
  expect((await migrate(url, { dir: whole })).applied).toEqual(["20260102000000_width"]);
});

test("a failing migration is rolled back whole, names its place, and leaves the earlier ones", async () => {
  await write("20260101000000_plank", FIRST);
  await write(
    "20260102000000_broken",
    "CREATE TABLE half ();\n-- 🪵 naïve\nSELECT '🪵', absent FROM plank;\n",
  );
  await expect(migrate(url, { dir })).rejects.toThrow(
    /20260102000000_broken\/migration\.sql:3:13: the migration failed and was rolled back: column "absent" does not exist/,
  );
  expect(await query("SELECT to_regclass('half') AS half")).toEqual([{ half: null }]);
  expect((await appliedMigrations(url)).map(({ name }) => name)).toEqual(["20260101000000_plank"]);
});

test("a deferred constraint that fails also names the file", async () => {
  await write(
    "20260101000000_deferred",
    `CREATE TABLE a (id int PRIMARY KEY, other int REFERENCES a DEFERRABLE INITIALLY DEFERRED);
     INSERT INTO a VALUES (1, 2);`,
  );
  await expect(migrate(url, { dir })).rejects.toThrow(/20260101000000_deferred.*rolled back.*foreign key/);
});

test("a migration with its own COMMIT is refused; function bodies may contain one", async () => {
  await write("20260101000000_own", "CREATE TABLE half ();\nCOMMIT;\n");
  await expect(migrate(url, { dir })).rejects.toThrow(/has its own COMMIT/);
  expect(await query("SELECT to_regclass('half') AS half")).toEqual([{ half: null }]);
  await rm(join(dir, "20260101000000_own"), { recursive: true });
  await write(
    "20260101000000_body",
    "CREATE PROCEDURE p() LANGUAGE plpgsql AS $body$\nBEGIN\n  COMMIT;\nEND;\n$body$;\nSET search_path TO pg_catalog;\n",
  );
  await write("20260102000000_after", FIRST);
  expect((await migrate(url, { dir })).applied).toHaveLength(2);
  expect(await query("SELECT to_regclass('public.plank')::text AS plank")).toEqual([{ plank: "plank" }]);
});

test("two at once: each migration is applied once", async () => {
  await write("20260101000000_plank", `SELECT pg_sleep(0.3);\n${FIRST}`);
  await write("20260102000000_width", SECOND);
  const lines: string[] = [];
  const results = await Promise.all(
    [1, 2].map(() => migrate(url, { dir, onProgress: (line) => lines.push(line) })),
  );
  expect(results.map(({ applied }) => applied.length).sort()).toEqual([0, 2]);
  expect(lines).toContain("Another process is migrating this database: waiting for it…");
  expect(await query("SELECT count(*)::int FROM plank")).toEqual([{ count: 1 }]);
});

test("a missing folder or file is said plainly", async () => {
  await expect(migrate(url, { dir: join(dir, "absent") })).rejects.toThrow(
    /migrations folder .*absent cannot be read/,
  );
  await mkdir(join(dir, "20260101000000_empty"));
  await expect(migrate(url, { dir })).rejects.toThrow(/20260101000000_empty has no readable migration.sql/);
});
