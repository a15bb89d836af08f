/**
 * Who holds a data directory: a lock between Node processes, and what is left running of a PostgreSQL
 * server whose Node process was killed.
 */
import { execFile } from "node:child_process";
import { link, readdir, readFile, readlink, realpath, rename, rm, unlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { promisify } from "node:util";

const run = promisify(execFile);

/**
 * A name for the process that no later process with the same id shares: its start time and, on Linux, the
 * boot it belongs to. Undefined when no such process runs.
 */
async function identity(pid: number): Promise<string | undefined> {
  try {
    if (process.platform !== "linux")
      return (await run("ps", ["-o", "lstart=", "-p", String(pid)])).stdout.trim();
    const stat = await readFile(`/proc/${pid}/stat`, "utf8");
    const fields = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
    const [state, started] = [fields[0], fields[19]];
    if (state === "Z" || state === "X") return undefined;
    return `${(await readFile("/proc/sys/kernel/random/boot_id", "utf8")).trim()}:${started}`;
  } catch {
    return undefined;
  }
}

/**
 * Takes the lock of a directory for this process and returns what gives it back. A lock left by a process
 * that no longer runs is taken over.
 *
 * @throws where another live start holds it.
 */
export async function lockDirectory(directory: string): Promise<() => Promise<void>> {
  const path = join(directory, "lock.json");
  const mine = join(directory, `lock-${process.pid}-${process.hrtime.bigint()}.json`);
  const text = JSON.stringify({ pid: process.pid, identity: await identity(process.pid) });
  await writeFile(mine, text, { mode: 0o600 });
  try {
    for (let attempt = 0; attempt < 5; attempt++) {
      try {
        // A hard link appears whole or not at all, so no reader sees a half-written lock.
        await link(mine, path);
        return async () => {
          await unlink(path).catch(() => {});
        };
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
      }
      const holder = await liveHolder(path);
      if (holder) {
        throw new Error(
          `The database in ${directory} is already in use by process ${holder}. ` +
            "Stop that one first, or use another data directory.",
        );
      }
      // Renamed before it is removed, and put back if a rival took the lock between the look and the rename.
      const dead = `${mine}.dead`;
      await rename(path, dead).catch(() => {});
      if (await liveHolder(dead)) await link(dead, path).catch(() => {});
      await rm(dead, { force: true });
    }
    throw new Error(`The lock ${path} could not be taken. Remove it if nothing uses the database.`);
  } finally {
    await unlink(mine).catch(() => {});
  }
}

/** The id of the process that took the lock, while it runs. */
async function liveHolder(path: string): Promise<number | undefined> {
  try {
    const { pid, identity: started } = JSON.parse(await readFile(path, "utf8")) as {
      pid: number;
      identity: string;
    };
    return started !== undefined && started === (await identity(pid)) ? pid : undefined;
  } catch {
    return undefined;
  }
}

/** The process id and readiness a running (or killed) server wrote into its data directory. */
export async function readPostmaster(cluster: string): Promise<{ pid: number; ready: boolean } | undefined> {
  const lines = (await readFile(join(cluster, "postmaster.pid"), "utf8").catch(() => "")).split("\n");
  // Line 8 is the status (PostgreSQL source, src/include/utils/pidfile.h); negative ids are single-user mode.
  const pid = Math.abs(Number(lines[0]));
  return pid > 1 ? { pid, ready: lines[7]?.trim() === "ready" } : undefined;
}

/**
 * Every PostgreSQL process that works in the data directory, the server's own first. PostgreSQL changes
 * into its data directory and stays there, so on Linux the working directory tells; elsewhere only the
 * server's own process can be told, by its command line.
 */
async function processesOf(cluster: string): Promise<number[]> {
  const recorded = (await readPostmaster(cluster))?.pid;
  if (process.platform !== "linux") {
    if (!recorded) return [];
    const { stdout } = await run("ps", ["-o", "command=", "-p", String(recorded)]).catch(() => ({
      stdout: "",
    }));
    return stdout.includes("postgres") && stdout.includes(cluster) ? [recorded] : [];
  }
  const directory = await realpath(cluster).catch(() => undefined);
  if (!directory) return [];
  const found: number[] = [];
  for (const entry of await readdir("/proc")) {
    if (!/^\d+$/.test(entry)) continue;
    const at = await readlink(`/proc/${entry}/cwd`).catch(() => undefined);
    if (at !== directory) continue;
    const name = await readFile(`/proc/${entry}/comm`, "utf8").catch(() => "");
    if (name.trim() === "postgres" && (await identity(Number(entry)))) found.push(Number(entry));
  }
  return found.sort((a, b) => Number(b === recorded) - Number(a === recorded));
}

/**
 * Leaves the data directory without any PostgreSQL process: asks for a fast shutdown first, then for an
 * immediate one, then kills. Committed work survives each of them. Removes a `postmaster.pid` whose process
 * id is still taken, by another program or a dead process, which PostgreSQL would take for a running
 * server.
 *
 * @param patience milliseconds before each harder step.
 * @returns whether anything had to be stopped.
 */
export async function clearOrphans(cluster: string, patience = 20_000): Promise<boolean> {
  let stopped = false;
  for (const signal of ["SIGINT", "SIGQUIT", "SIGKILL"] as const) {
    const left = await processesOf(cluster);
    if (left.length === 0) break;
    stopped = true;
    const server = (await readPostmaster(cluster))?.pid;
    // The server stops its own helpers; they are signalled one by one only when it is gone or deaf.
    const targets = server && left[0] === server && signal !== "SIGKILL" ? [server] : left;
    for (const pid of targets) signalProcess(pid, signal, cluster);
    const until = Date.now() + patience;
    while (Date.now() < until && (await processesOf(cluster)).length > 0) await sleep(25);
  }
  const after = await processesOf(cluster);
  if (after.length > 0) {
    throw new Error(
      `PostgreSQL process ${after[0]} on ${cluster} does not stop. End it by hand and start again.`,
    );
  }
  const recorded = await readPostmaster(cluster);
  if (recorded && exists(recorded.pid)) await rm(join(cluster, "postmaster.pid"), { force: true });
  return stopped;
}

/**
 * As PostgreSQL itself asks: true also for a dead process that nobody has waited for (a container without
 * an init).
 */
function exists(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}

function signalProcess(pid: number, signal: NodeJS.Signals, cluster: string): void {
  try {
    process.kill(pid, signal);
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === "ESRCH") return;
    throw new Error(
      `PostgreSQL process ${pid} still runs on ${cluster} and belongs to another user. Stop it and start again.`,
      { cause },
    );
  }
}
