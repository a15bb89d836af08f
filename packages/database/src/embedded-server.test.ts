import { spawn } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from "node:fs/promises";
import { createServer, type Server } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import pg from "pg";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { type DatabaseOptions, type RunningDatabase, startDatabase } from "./embedded-server.ts";

const SOURCE = join(import.meta.dirname, "embedded-server.ts");

// Each test starts real servers, some several times, on a machine that may be busy.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

let dataDir: string;
let lines: string[];
let running: RunningDatabase[];

beforeEach(async () => {
  dataDir = await mkdtemp(join(tmpdir(), "ledgerboard-server-"));
  lines = [];
  running = [];
});

afterEach(async () => {
  for (const database of running) await database.stop();
  await rm(dataDir, { recursive: true, force: true });
});

async function start(options: Partial<DatabaseOptions> = {}): Promise<RunningDatabase> {
  const database = await startDatabase({
    dataDir,
    fast: true,
    onProgress: (line) => lines.push(line),
    ...options,
  });
  running.push(database);
  return database;
}

async function query(url: string, sql: string): Promise<Record<string, unknown>[]> {
  const client = new pg.Client({ connectionString: url });
  client.on("error", () => {});
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

async function postmasterPid(): Promise<number> {
  return Number((await readFile(join(dataDir, "cluster", "postmaster.pid"), "utf8")).split("\n")[0]);
}

/** A dead process that its parent has not waited for yet does not run. */
function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    const status = readFileSync(`/proc/${pid}/stat`, "utf8");
    return !/\) [ZX] /.test(status);
  } catch {
    return false;
  }
}

async function until(condition: () => boolean | Promise<boolean>, what: string): Promise<void> {
  for (const end = Date.now() + 20_000; Date.now() < end; await sleep(25)) if (await condition()) return;
  throw new Error(`Waited 20 s in vain for: ${what}`);
}

/** A separate Node process that serves `dataDir` and prints its URL; killed by the test. */
async function startElsewhere(): Promise<{ pid: number; url: string; end: Promise<void> }> {
  const program = `
    import { startDatabase } from ${JSON.stringify(SOURCE)};
    const database = await startDatabase({ dataDir: ${JSON.stringify(dataDir)} });
    console.log(database.adminUrl);
    process.on("SIGINT", async () => { await database.stop(); process.exit(0); });
    setInterval(() => {}, 1000);`;
  // A process group of its own, as a terminal gives it: Ctrl-C reaches every member of the group.
  const node = spawn(process.execPath, ["--input-type=module-typescript", "--eval", program], {
    stdio: ["ignore", "pipe", "inherit"],
    detached: true,
  });
  const end = new Promise<void>((done) => node.once("exit", () => done()));
  const url = await new Promise<string>((done, fail) => {
    node.stdout.once("data", (data) => done(String(data).trim()));
    node.once("exit", (code) => fail(new Error(`The other process ended with ${code}`)));
  });
  return { pid: node.pid as number, url, end };
}

describe("first start and later ones", () => {
  test("creates the data once, keeps it, and listens on the loopback address only with a password", async () => {
    const first = await start();
    expect(lines).toEqual(["Creating the database cluster (first start only)…"]);
    expect(first.dataDir).toBe(dataDir);
    await query(first.adminUrl, "CREATE TABLE plank (length_ft int)");
    await query(first.adminUrl, "INSERT INTO plank VALUES (16)");
    const settings = await query(
      first.adminUrl,
      `SELECT current_setting('listen_addresses') AS addresses, current_setting('fsync') AS fsync,
              current_setting('max_connections') AS connections, current_setting('timezone') AS zone,
              pg_encoding_to_char(encoding) AS encoding, lower('ÉÀ') AS lower, 'É' ILIKE 'é' AS unicode
         FROM pg_database WHERE datname = 'postgres'`,
    );
    expect(settings).toEqual([
      {
        addresses: "127.0.0.1",
        fsync: "off",
        connections: "200",
        zone: "UTC",
        encoding: "UTF8",
        lower: "éà",
        unicode: true,
      },
    ]);
    const wrong = new URL(first.adminUrl);
    wrong.password = "guess";
    await expect(query(wrong.href, "SELECT 1")).rejects.toThrow(/password authentication failed/);
    expect((await stat(join(dataDir, "superuser-password"))).mode & 0o777).toBe(0o600);

    const pid = await postmasterPid();
    await first.stop();
    await first.stop();
    expect(isRunning(pid)).toBe(false);
    expect(await readdir(dataDir)).not.toContain("lock.json");
    expect(await readFile(join(dataDir, "server.log"), "utf8")).toContain("database system is shut down");

    const second = await start({ fast: false });
    expect(lines).toHaveLength(1);
    expect(
      await query(second.adminUrl, "SELECT length_ft, current_setting('fsync') AS fsync FROM plank"),
    ).toEqual([{ length_ft: 16, fsync: "on" }]);
  });

  test("uses the port asked for, and says so when it is taken", async () => {
    const occupied = await new Promise<Server>((done) => {
      const server = createServer().listen(0, "127.0.0.1", () => done(server));
    });
    const { port } = occupied.address() as { port: number };
    await expect(start({ port })).rejects.toThrow(`Port ${port} on 127.0.0.1 cannot be used`);
    await new Promise((done) => occupied.close(done));
    const database = await start({ port });
    expect(new URL(database.adminUrl).port).toBe(String(port));
  });

  test("refuses a second start on the same data, in this process and in another", async () => {
    const first = await start();
    await expect(start()).rejects.toThrow(`already in use by process ${process.pid}`);
    expect(await query(first.adminUrl, "SELECT 1 AS one")).toEqual([{ one: 1 }]);
    await first.stop();
    const other = await startElsewhere();
    await expect(start()).rejects.toThrow(`already in use by process ${other.pid}`);
    const pid = await postmasterPid();
    process.kill(other.pid, "SIGKILL");
    await other.end;
    // It writes a last time on its way down, and the folder is removed after this.
    await until(() => !isRunning(pid), "the server to notice that its Node process is gone");
  });

  test("of many starts at once exactly one wins", async () => {
    const results = await Promise.allSettled([start(), start(), start(), start()]);
    expect(results.filter((result) => result.status === "fulfilled")).toHaveLength(1);
  });

  test("refuses data of another PostgreSQL version and leaves it alone", async () => {
    await (await start()).stop();
    await writeFile(join(dataDir, "cluster", "PG_VERSION"), "17\n");
    await expect(start()).rejects.toThrow("was made by PostgreSQL 17; this is PostgreSQL 18");
    expect(existsSync(join(dataDir, "cluster", "base"))).toBe(true);
  });
});

describe("after a sudden stop", () => {
  test("a half-made cluster is cleared or set aside", async () => {
    await mkdir(join(dataDir, "cluster.new-abc", "base"), { recursive: true });
    await mkdir(join(dataDir, "cluster", "base"), { recursive: true });
    await (await start()).stop();
    const names = await readdir(dataDir);
    expect(names.filter((name) => name.startsWith("cluster.new-"))).toEqual([]);
    expect(names.filter((name) => name.startsWith("cluster.unusable-"))).toHaveLength(1);
  });

  test("Node killed: the server shuts itself down, and committed data is there at the next start", async () => {
    const other = await startElsewhere();
    await query(other.url, "CREATE TABLE plank AS SELECT generate_series(1, 1000) AS length_ft");
    const pid = await postmasterPid();
    process.kill(other.pid, "SIGKILL");
    await other.end;
    await until(() => !isRunning(pid), "the server to notice that its Node process is gone");
    const database = await start();
    expect(await query(database.adminUrl, "SELECT count(*)::int FROM plank")).toEqual([{ count: 1000 }]);
  });

  test("Node killed together with its helper: the next start stops the orphan server and goes on", async () => {
    const other = await startElsewhere();
    await query(other.url, "CREATE TABLE plank AS SELECT generate_series(1, 1000) AS length_ft");
    const pid = await postmasterPid();
    for (const guard of await processesWithArgument(String(pid))) process.kill(guard, "SIGKILL");
    process.kill(other.pid, "SIGKILL");
    await other.end;
    await sleep(200);
    expect(isRunning(pid)).toBe(true);
    const database = await start();
    expect(isRunning(pid)).toBe(false);
    expect(lines).toEqual(["Stopped a database server that an earlier run had left behind."]);
    expect(await query(database.adminUrl, "SELECT count(*)::int FROM plank")).toEqual([{ count: 1000 }]);
  });

  test("Node and server killed: the stale lock and postmaster.pid do not stand in the way", async () => {
    const other = await startElsewhere();
    await query(other.url, "CREATE TABLE plank AS SELECT generate_series(1, 1000) AS length_ft");
    const pid = await postmasterPid();
    process.kill(pid, "SIGKILL");
    process.kill(other.pid, "SIGKILL");
    await other.end;
    expect(existsSync(join(dataDir, "lock.json"))).toBe(true);
    expect(existsSync(join(dataDir, "cluster", "postmaster.pid"))).toBe(true);
    const database = await start();
    expect(await query(database.adminUrl, "SELECT count(*)::int FROM plank")).toEqual([{ count: 1000 }]);
  });

  test("a postmaster.pid and a lock whose process ids now belong to other programs are not believed", async () => {
    const database = await start();
    await database.stop();
    const file = [
      "1",
      join(dataDir, "cluster"),
      "1700000000",
      "5432",
      "",
      "127.0.0.1",
      "  1 1",
      "ready   ",
    ].join("\n");
    await writeFile(join(dataDir, "cluster", "postmaster.pid"), file.replace(/^1/, String(process.ppid)));
    await writeFile(
      join(dataDir, "lock.json"),
      JSON.stringify({ pid: process.ppid, identity: "another boot:1" }),
    );
    const again = await start();
    expect(await query(again.adminUrl, "SELECT 1 AS one")).toEqual([{ one: 1 }]);
    expect(isRunning(process.ppid)).toBe(true);
  });

  test("the server killed under us: it is started again on the same port with its data", async () => {
    const database = await start({ fast: false });
    await query(database.adminUrl, "CREATE TABLE plank AS SELECT generate_series(1, 1000) AS length_ft");
    const pid = await postmasterPid();
    process.kill(pid, "SIGKILL");
    await until(() => lines.includes("The database server runs again."), "the server to be started again");
    expect(await query(database.adminUrl, "SELECT count(*)::int FROM plank")).toEqual([{ count: 1000 }]);
    const revived = await postmasterPid();
    expect(revived).not.toBe(pid);
    await database.stop();
    expect(isRunning(revived)).toBe(false);
  });

  test("Ctrl-C, sent as a terminal sends it to the whole group, ends in a clean shutdown", async () => {
    const other = await startElsewhere();
    const pid = await postmasterPid();
    await query(other.url, "CREATE TABLE plank AS SELECT generate_series(1, 1000) AS length_ft");
    process.kill(-other.pid, "SIGINT");
    await other.end;
    expect(isRunning(pid)).toBe(false);
    expect(existsSync(join(dataDir, "cluster", "postmaster.pid"))).toBe(false);
    expect(existsSync(join(dataDir, "lock.json"))).toBe(false);
    expect(await readFile(join(dataDir, "server.log"), "utf8")).toContain("database system is shut down");
  });
});

/** Ids of the shells started with `argument` as their last argument. */
async function processesWithArgument(argument: string): Promise<number[]> {
  const found: number[] = [];
  for (const entry of await readdir("/proc")) {
    const command = (await readFile(`/proc/${entry}/cmdline`, "utf8").catch(() => ""))
      .split("\0")
      .filter(Boolean);
    if (command[0] === "/bin/sh" && command.at(-1) === argument) found.push(Number(entry));
  }
  return found;
}
