/**
 * The job queue: pg-boss on the same PostgreSQL, in a schema of its own. A job is written in the transaction of the
 * change that causes it, so neither can be without the other. Jobs carry ids only, never what a tenant wrote:
 * the queue's tables belong to no tenant.
 */
import { setTimeout as sleep } from "node:timers/promises";
import pg from "pg";
import PgBoss from "pg-boss";
import { executeIn, type TenantDb } from "./tenancy.ts";

/** The schema the queue lives in. */
export const QUEUE_SCHEMA = "pgboss";
const APP_ROLE = "ledgerboard_app";

/** What each kind of job carries. */
export interface Jobs {
  "deliver-mail": { companyId: string; messageId: string };
}
export type JobName = keyof Jobs;

/**
 * A mail is tried 11 times with pauses that double, the first 30 to 60 seconds, all of them 8 to 17 hours: longer
 * than a mail server is usually away (common practice, no source). A job whose worker died is free again after two
 * minutes. A job nobody worked off is dropped after 60 days.
 */
const QUEUES: Record<JobName, PgBoss.Queue> = {
  "deliver-mail": {
    name: "deliver-mail",
    retryLimit: 10,
    retryDelay: 30,
    retryBackoff: true,
    expireInSeconds: 120,
    retentionMinutes: 60 * 24 * 60,
  },
};

/** The maker of jobs never touches a connection of its own: each job goes through the transaction given with it. */
const sender = new PgBoss({
  schema: QUEUE_SCHEMA,
  db: { executeSql: () => Promise.reject(new Error("A job is sent only inside a company's transaction.")) },
});

/**
 * Makes or updates the queue's schema and queues, and lets the app role use them. `adminUrl` names the owner of the
 * database. Run after every migration; a second run changes nothing.
 */
export async function prepareQueue(adminUrl: string): Promise<void> {
  const pool = openPool(adminUrl, 1);
  try {
    // One start at a time; the pool's only connection holds the lock until it closes.
    await pool.query("SELECT pg_advisory_lock(hashtext('ledgerboard.prepare-queue'))");
    const boss = bossOn(pool, { migrate: true, supervise: false });
    await boss.start();
    for (const queue of Object.values(QUEUES)) {
      await boss.createQueue(queue.name, { ...queue });
      await boss.updateQueue(queue.name, { ...queue });
    }
    await pool.query(`
      GRANT USAGE ON SCHEMA ${QUEUE_SCHEMA} TO ${APP_ROLE};
      GRANT SELECT ON ${QUEUE_SCHEMA}.queue TO ${APP_ROLE};
      GRANT SELECT, UPDATE ON ${QUEUE_SCHEMA}.version TO ${APP_ROLE};
      GRANT SELECT, INSERT, UPDATE, DELETE ON ${QUEUE_SCHEMA}.job, ${QUEUE_SCHEMA}.archive TO ${APP_ROLE}`);
    await boss.stop({ graceful: false });
  } finally {
    await pool.end();
  }
}

/**
 * Puts a job in the queue as part of the company's transaction: it exists when that commits and never otherwise.
 *
 * @throws when the queue was never prepared.
 */
export async function sendJob<N extends JobName>(db: TenantDb, name: N, data: Jobs[N]): Promise<void> {
  try {
    const id = await sender.send(name, data, {
      db: { executeSql: (text, values) => executeIn(db, text, values) },
    });
    if (!id) throw new Error(`The queue "${name}" does not exist; run prepareQueue after the migrations.`);
  } catch (error) {
    if (!["42P01", "3F000"].includes((error as { code?: string }).code ?? "")) throw error;
    throw new Error("The job queue is missing; run prepareQueue after the migrations.", { cause: error });
  }
}

export interface Job<N extends JobName> {
  data: Jobs[N];
  /** The queue will not try again when this attempt fails. */
  lastAttempt: boolean;
}

/** The side of the queue that works jobs off. */
export interface Queue {
  /**
   * Runs `handle` for every job of this name, up to `atOnce` of them side by side; one that throws is tried again
   * later. Returns what stops it: no new job is taken, and the ones in hand are waited for.
   */
  work<N extends JobName>(
    name: N,
    options: { atOnce: number; onError: (error: unknown) => void },
    handle: (job: Job<N>) => Promise<void>,
  ): () => Promise<void>;
  close(): Promise<void>;
}

const IDLE_MS = 1_000;

/**
 * Opens the queue as the app role, which cannot change the queue's schema. Uses two connections of its own, so that
 * requests never wait for the queue. A lost database is waited for. Every `upkeepSeconds` one of all open queues frees
 * the jobs of dead workers and puts old ones away.
 *
 * @throws when the queue was not prepared, or for another version of pg-boss.
 */
export async function openQueue(url: string, { upkeepSeconds = 60 } = {}): Promise<Queue> {
  const pool = openPool(url, 2);
  const boss = bossOn(pool, { migrate: false, supervise: true, maintenanceIntervalSeconds: upkeepSeconds });
  try {
    await boss.start();
  } catch (error) {
    await pool.end();
    throw error;
  }

  // pg-boss has a loop of its own, but it neither waits for nor catches the statement that marks a job as done: a
  // database lost at that moment would end the process.
  async function takeOne<N extends JobName>(
    name: N,
    handle: (job: Job<N>) => Promise<void>,
  ): Promise<boolean> {
    const [job] = await boss.fetch<Jobs[N]>(name, { batchSize: 1, includeMetadata: true });
    if (!job) return false;
    try {
      await handle({ data: job.data, lastAttempt: job.retryCount >= job.retryLimit });
    } catch (error) {
      await boss.fail(name, job.id, { message: (error as Error).message });
      throw error;
    }
    await boss.complete(name, job.id);
    return true;
  }

  return {
    work(name, { atOnce, onError }, handle) {
      const stop = new AbortController();
      const loop = async (): Promise<void> => {
        while (!stop.signal.aborted) {
          const busy = await takeOne(name, handle).catch((error: unknown) => {
            onError(error);
            return false;
          });
          if (!busy) await sleep(IDLE_MS, undefined, { signal: stop.signal }).catch(() => undefined);
        }
      };
      const loops = Promise.all(Array.from({ length: atOnce }, loop));
      return async () => {
        stop.abort();
        await loops;
      };
    },
    async close() {
      await boss.stop({ graceful: false });
      await pool.end();
    },
  };
}

function openPool(connectionString: string, max: number): pg.Pool {
  const pool = new pg.Pool({
    connectionString,
    max,
    connectionTimeoutMillis: 5_000,
    statement_timeout: 30_000,
    application_name: "ledgerboard-queue",
  });
  // An idle connection that dies is replaced at the next statement.
  pool.on("error", () => undefined);
  return pool;
}

function bossOn(pool: pg.Pool, options: PgBoss.MaintenanceOptions): PgBoss {
  const boss = new PgBoss({
    schema: QUEUE_SCHEMA,
    db: { executeSql: (text, values) => pool.query(text, values) },
    // No job runs by the clock.
    schedule: false,
    ...options,
  });
  // Upkeep that fails is tried again a minute later.
  boss.on("error", () => undefined);
  return boss;
}
