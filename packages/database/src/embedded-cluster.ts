/** The data directory of the embedded server: where it lies, whose it is, and its first creation. */
import { execFile } from "node:child_process";
import { createHash, randomBytes } from "node:crypto";
import { existsSync } from "node:fs";
import {
  chmod,
  chown,
  mkdir,
  mkdtemp,
  readdir,
  readFile,
  rename,
  rm,
  stat,
  writeFile,
} from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";
import { type Account, type Binaries, canEnter, ids, serverAccount } from "./embedded-binaries.ts";
import type { Progress } from "./progress.ts";

const run = promisify(execFile);

export const SUPERUSER = "postgres";

/**
 * Where root keeps the data when the server's account cannot enter the directory asked for. Not /var/tmp:
 * many systems delete what lies there unused for a month, and would take single files out of a database.
 */
const ROOT_DATA_PARENT = "/var/lib/ledgerboard";

export interface Place {
  /** Holds the cluster, the superuser's password, the server's log and the lock. */
  base: string;
  cluster: string;
  /** The account the server runs as, where that is not the current one. */
  account: Account | undefined;
}

/** Settles directory and account for `wanted` (absolute), creating the directory. */
export async function findPlace(wanted: string, osUser: string, onProgress: Progress): Promise<Place> {
  await mkdir(wanted, { recursive: true });
  const account = await ownerOf(join(wanted, "cluster"), await serverAccount(osUser, onProgress));
  if (account && !canEnter(wanted, account)) await openPassage(wanted);
  if (canEnter(wanted, account)) return { base: wanted, cluster: join(wanted, "cluster"), account };
  if (!account) throw new Error(`The data directory ${wanted} cannot be entered. Give its owner permission.`);

  // The note lies where the data was asked for, so deleting that directory still means starting afresh.
  const note = join(wanted, "moved-to.txt");
  let base = (await readFile(note, "utf8").catch(() => "")).trim();
  if (!base || !existsSync(base)) {
    await mkdir(ROOT_DATA_PARENT, { recursive: true, mode: 0o755 });
    const hash = createHash("sha256").update(wanted).digest("hex").slice(0, 12);
    base = await mkdtemp(join(ROOT_DATA_PARENT, `${hash}-`));
    await writeFile(note, `${base}\n`);
  }
  await chmod(base, 0o711);
  onProgress(`The user "${account.name}" cannot enter ${wanted}: the database is kept in ${base}.`);
  const cluster = join(base, "cluster");
  return { base, cluster, account: await ownerOf(cluster, account) };
}

/**
 * Lets other accounts pass through (not read) the data directory, when it is closed but serves nothing else:
 * a fresh temporary directory, say.
 */
async function openPassage(directory: string): Promise<void> {
  const names = await readdir(directory);
  if (names.length === 0 || names.includes("cluster")) await chmod(directory, 0o711);
}

/** PostgreSQL runs only as the owner of its data: for root that may be another account than the usual one. */
async function ownerOf(cluster: string, account: Account | undefined): Promise<Account | undefined> {
  const owner = await stat(cluster).catch(() => undefined);
  if (!owner || owner.uid === (account?.uid ?? process.getuid?.())) return account;
  if (account && owner.uid !== 0) return { name: `#${owner.uid}`, uid: owner.uid, gid: owner.gid };
  if (!existsSync(join(cluster, "PG_VERSION"))) return account;
  throw new Error(
    `The database in ${cluster} belongs to user id ${owner.uid}. Run as that user, or move it away.`,
  );
}

/** Reads the superuser's password, or invents one before the cluster is first made. */
export async function superuserPassword({ base, account }: Place): Promise<string> {
  const path = join(base, "superuser-password");
  const known = (await readFile(path, "utf8").catch(() => "")).trim();
  if (known) return known;
  if (existsSync(join(base, "cluster", "PG_VERSION"))) {
    throw new Error(
      `The file ${path} is missing. Put it back, or move ${base} away to start with an empty database.`,
    );
  }
  const password = randomBytes(24).toString("base64url");
  await writeFile(path, `${password}\n`, { mode: 0o600 });
  if (account) await chown(path, account.uid, account.gid);
  return password;
}

/** Leaves a complete cluster of this PostgreSQL version in place, made now where there was none. */
export async function ensureCluster(
  place: Place,
  programs: Binaries,
  fast: boolean,
  onProgress: Progress,
): Promise<void> {
  const { base, cluster, account } = place;
  const unfinished = "cluster.new-";
  for (const name of await readdir(base)) {
    if (name.startsWith(unfinished))
      await rm(join(base, name), { recursive: true, force: true, maxRetries: 5 });
  }
  const version = (await readFile(join(cluster, "PG_VERSION"), "utf8").catch(() => "")).trim();
  if (version && version !== programs.major) {
    throw new Error(
      `The database in ${cluster} was made by PostgreSQL ${version}; this is PostgreSQL ${programs.major}. ` +
        "Dump it with the older one and load it into a new directory, or move it away to start empty.",
    );
  }
  if (version) return;
  if (existsSync(cluster)) {
    const aside = `${cluster}.unusable-${Date.now()}`;
    await rename(cluster, aside);
    onProgress(`The database directory was incomplete: set aside as ${aside}.`);
  }

  onProgress("Creating the database cluster (first start only)…");
  const fresh = await mkdtemp(join(base, unfinished));
  if (account) await chown(fresh, account.uid, account.gid);
  // The builtin provider gives Unicode case rules and the same sort order on every computer, whatever
  // locales it has, so an operating-system upgrade cannot corrupt an index.
  const locale = ["--locale-provider=builtin", "--builtin-locale=C.UTF-8", "--locale=C", "--encoding=UTF8"];
  const access = [
    `--username=${SUPERUSER}`,
    "--auth=scram-sha-256",
    `--pwfile=${join(base, "superuser-password")}`,
  ];
  const flags = [`--pgdata=${fresh}`, ...locale, ...access, ...(fast ? ["--no-sync"] : [])];
  try {
    await run(programs.initdb, flags, { ...ids(account), cwd: "/", env: serverEnvironment() });
  } catch (cause) {
    await rm(fresh, { recursive: true, force: true });
    const detail = (cause as { stderr?: string }).stderr?.trim() || (cause as Error).message;
    throw new Error(`The database cluster could not be created in ${base}: ${detail}`, { cause });
  }
  // One rename, so that a cluster under its final name is always a complete one.
  await rename(fresh, cluster);
}

/**
 * Nothing of the caller's environment: PGDATA, LD_LIBRARY_PATH or an unknown locale would change the
 * server.
 */
export function serverEnvironment(): NodeJS.ProcessEnv {
  return { PATH: "/usr/local/bin:/usr/bin:/bin", LC_ALL: "C", TZ: "UTC" };
}
