/**
 * One process of the service in production: `node apps/api/src/main.ts <role>`.
 *
 *   api      answers requests (any number side by side)
 *   worker   delivers mail (any number side by side)
 *   all      both in one process
 *   migrate  brings the database up to date, then ends; DATABASE_URL names the owner of the database and
 *            APP_DATABASE_PASSWORD what the other roles sign in with
 *
 * The role may also be given as LEDGERBOARD_ROLE. Settings come from the environment: see config.ts.
 */
import { existsSync } from "node:fs";
import { resolve } from "node:path";
import { openDatabase } from "@ledgerboard/database";
import { prepareDatabase } from "@ledgerboard/database/prepare";
import { readConfig } from "./config.ts";
import { failureWords } from "./plain-words.ts";
import { type Running, serveQueue, serveRequests } from "./serve.ts";
import type { Services } from "./services.ts";
import { stopOnSignal } from "./stop.ts";

const ROOT = resolve(import.meta.dirname, "../../..");
const ROLES = ["api", "worker", "all", "migrate"];

function log(event: string, more: Record<string, unknown> = {}): void {
  process.stdout.write(`${JSON.stringify({ time: new Date().toISOString(), event, ...more })}\n`);
}

async function migrateOnce(env: NodeJS.ProcessEnv): Promise<void> {
  const { DATABASE_URL, APP_DATABASE_PASSWORD } = env;
  if (!DATABASE_URL) throw new Error("Set DATABASE_URL to the connection URL of the database's owner.");
  if (!APP_DATABASE_PASSWORD || APP_DATABASE_PASSWORD.length < 16) {
    throw new Error("Set APP_DATABASE_PASSWORD to a password of 16 characters or more.");
  }
  await prepareDatabase(DATABASE_URL, {
    appPassword: APP_DATABASE_PASSWORD,
    migrations: resolve(ROOT, "prisma/migrations"),
    onProgress: (line) => log("migrating", { line }),
  });
  log("migrated");
}

async function serve(role: string): Promise<void> {
  const config = readConfig(process.env);
  const database = openDatabase({ url: config.DATABASE_URL, max: config.DATABASE_POOL });
  const services: Services = { config, database, now: () => new Date() };
  const running: Running[] = [];
  const close = async (): Promise<void> => {
    // Last opened, first closed: no request may find the database gone.
    for (const one of running.reverse()) await one.close();
  };
  running.push({ close: () => database.close() });
  try {
    if (role !== "api") {
      running.push(
        await serveQueue(services, (error) => log("worker failed", { words: failureWords(error) })),
      );
    }
    if (role !== "worker") {
      const webRoot = resolve(ROOT, "apps/web/dist");
      const server = await serveRequests(services, existsSync(webRoot) ? { webRoot } : {});
      running.push(server);
      log("listening", { url: server.url });
    }
  } catch (error) {
    await close();
    throw error;
  }
  log("started", { role });
  stopOnSignal(async (signal) => {
    log("stopping", { signal });
    await close();
    log("stopped");
  });
}

try {
  const role = process.argv[2] ?? process.env.LEDGERBOARD_ROLE ?? "api";
  if (!ROLES.includes(role)) throw new Error(`There is no role "${role}": use one of ${ROLES.join(", ")}.`);
  await (role === "migrate" ? migrateOnce(process.env) : serve(role));
} catch (error) {
  process.stderr.write(`${failureWords(error)}\n`);
  process.exitCode = 1;
}
