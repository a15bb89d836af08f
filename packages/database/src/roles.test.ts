import { chmod, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import pg from "pg";
import { afterAll, beforeAll, expect, test, vi } from "vitest";
import { type RunningDatabase, startDatabase } from "./embedded-server.ts";
import { createDatabase, databaseUrl, dropDatabase, ensureAppRole } from "./roles.ts";

vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

let root: string;
let server: RunningDatabase;

beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), "ledgerboard-roles-"));
  // As root the server runs as another user, who must get through.
  await chmod(root, 0o755);
  server = await startDatabase({ dataDir: join(root, "data"), fast: true });
});

afterAll(async () => {
  await server?.stop();
  await rm(root, { recursive: true, force: true });
});

async function query(url: string, sql: string): Promise<Record<string, unknown>[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

const ODD_NAME = `he said "50%" and it's \\ é`;
const ODD_PASSWORD = `${ODD_NAME} /@:?&=+$,#`;

test("databases with odd names are created, reached, copied and dropped", async () => {
  const url = await createDatabase(server.adminUrl, ODD_NAME);
  expect(url).toBe(databaseUrl(server.adminUrl, ODD_NAME));
  expect(await query(url, "SELECT current_database() AS name")).toEqual([{ name: ODD_NAME }]);
  await query(url, "CREATE TABLE plank AS SELECT 16 AS length_ft");
  const copy = await createDatabase(server.adminUrl, "copy", { template: ODD_NAME });
  expect(await query(copy, "SELECT * FROM plank")).toEqual([{ length_ft: 16 }]);
  await expect(createDatabase(server.adminUrl, "a/b")).rejects.toThrow(
    /cannot be written in a connection URL/,
  );
  await expect(createDatabase(server.adminUrl, "copy")).rejects.toThrow(/already exists/);

  const connected = new pg.Client({ connectionString: copy });
  connected.on("error", () => {});
  await connected.connect();
  await dropDatabase(server.adminUrl, "copy");
  await dropDatabase(server.adminUrl, "copy");
  await dropDatabase(server.adminUrl, ODD_NAME);
  expect(
    await query(
      server.adminUrl,
      "SELECT datname FROM pg_database WHERE datname IN ('copy') OR datname LIKE 'he said%'",
    ),
  ).toEqual([]);
  await connected.end().catch(() => {});
});

test("a template whose connections are just closing is waited for", async () => {
  const url = await createDatabase(server.adminUrl, "busy");
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  const copying = createDatabase(server.adminUrl, "busy_copy", { template: "busy" });
  // CREATE DATABASE itself waits up to 5 s for sessions to go, so this needs no precise timing.
  setTimeout(() => client.end(), 300);
  await copying;
  await dropDatabase(server.adminUrl, "busy_copy");
  await dropDatabase(server.adminUrl, "busy");
});

test("the program's role logs in, is bound by row-level security and can create nothing", async () => {
  const url = await ensureAppRole(server.adminUrl, { role: "app_plain", password: ODD_PASSWORD });
  await query(
    server.adminUrl,
    `CREATE TABLE secret (owner text);
     INSERT INTO secret VALUES ('someone else');
     ALTER TABLE secret ENABLE ROW LEVEL SECURITY;
     ALTER TABLE secret FORCE ROW LEVEL SECURITY;
     CREATE POLICY own ON secret USING (owner = current_user);
     GRANT SELECT ON secret TO app_plain;`,
  );
  expect(await query(url, "SELECT current_user AS who, (SELECT count(*)::int FROM secret) AS seen")).toEqual([
    { who: "app_plain", seen: 0 },
  ]);
  for (const sql of [
    "CREATE TABLE public.mine ()",
    "CREATE DATABASE mine",
    "CREATE ROLE mine",
    "ALTER TABLE secret DISABLE ROW LEVEL SECURITY",
  ]) {
    await expect(query(url, sql), sql).rejects.toThrow(/permission denied|must be owner/);
  }
  await expect(query(url, "SET row_security = off; SELECT * FROM secret")).rejects.toThrow(
    /row-level security/,
  );
});

test("called again it changes the password and takes away what was added, also many at once", async () => {
  const before = await ensureAppRole(server.adminUrl, { role: "app_again", password: "first" });
  await query(server.adminUrl, "ALTER ROLE app_again SUPERUSER BYPASSRLS CREATEDB CREATEROLE REPLICATION");
  const urls = await Promise.all(
    Array.from({ length: 6 }, () =>
      ensureAppRole(server.adminUrl, { role: "app_again", password: "second" }),
    ),
  );
  await expect(query(before, "SELECT 1")).rejects.toThrow(/password authentication failed/);
  expect(
    await query(
      urls[0] as string,
      "SELECT rolsuper OR rolbypassrls OR rolcreatedb OR rolcreaterole OR rolreplication AS strong FROM pg_roles WHERE rolname = current_user",
    ),
  ).toEqual([{ strong: false }]);
});

test("a role created by many at once exists once", async () => {
  const urls = await Promise.all(
    Array.from({ length: 6 }, () => ensureAppRole(server.adminUrl, { role: "app_race", password: "same" })),
  );
  expect(await query(urls[5] as string, "SELECT current_user AS who")).toEqual([{ who: "app_race" }]);
});

test("an administrator who is no superuser, as on a hosted server, can do it too", async () => {
  await query(server.adminUrl, "CREATE ROLE hosted LOGIN CREATEROLE CREATEDB PASSWORD 'hosted'");
  const admin = new URL(server.adminUrl);
  admin.username = "hosted";
  admin.password = "hosted";
  for (const password of ["one", "two"]) {
    const url = await ensureAppRole(admin.href, { role: "app_hosted", password });
    expect(await query(url, "SELECT current_user AS who")).toEqual([{ who: "app_hosted" }]);
  }
});

test("refuses a role that could get past row-level security", async () => {
  const role = "app_owner";
  await ensureAppRole(server.adminUrl, { role, password: "x" });
  await query(server.adminUrl, "CREATE TABLE owned (); ALTER TABLE owned OWNER TO app_owner");
  await expect(ensureAppRole(server.adminUrl, { role, password: "x" })).rejects.toThrow(
    /owns 1 database object/,
  );
  await query(server.adminUrl, 'DROP TABLE owned; CREATE ROLE "Chief"; GRANT "Chief" TO app_owner');
  await expect(ensureAppRole(server.adminUrl, { role, password: "x" })).rejects.toThrow(/member of "Chief"/);
  await expect(ensureAppRole(server.adminUrl, { role: "postgres", password: "x" })).rejects.toThrow(
    /administers the database/,
  );
  await expect(ensureAppRole(server.adminUrl, { role: "app_empty", password: "" })).rejects.toThrow(
    /must not be empty/,
  );
});
