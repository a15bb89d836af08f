import { createHash, randomBytes } from "node:crypto";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { readConfig } from "@ledgerboard/api/config";
import { localDay } from "@ledgerboard/api/days";
import { seedDemo } from "@ledgerboard/api/demo/seed";
import { openDatabase } from "@ledgerboard/database";
import { startDatabase } from "@ledgerboard/database/embedded-server";
import { migrate } from "@ledgerboard/database/migrate";
import { prepareQueue } from "@ledgerboard/database/queue";
import { createDatabase, ensureAppRole } from "@ledgerboard/database/roles";
import pg from "pg";

/** One line of the benchmark's table: a ratio against a reference run beside it, and the bar it is held to. */
export interface BenchRow {
  name: string;
  measured: string;
  ratio: number;
  bar: string;
  holds: boolean;
}

export interface World {
  adminUrl: string;
  appUrl: string;
  /** A session of the demo company's owner. */
  cookie: string;
  companyId: string;
  /** A job with zones, revisions, quotes and a booking. */
  jobId: string;
  today: string;
  close(): Promise<void>;
}

/** How many times each demo job is copied: some five thousand jobs, as a busy company has after years. */
const COPIES = 40;

/** Copies every job of the demo company under new numbers, so that lists are as long as in earnest. */
async function multiply(admin: pg.Pool, companyId: string): Promise<void> {
  await admin.query(
    `INSERT INTO jobs (company_id, number, title, customer_id, property_id, salesperson_id, hazard, inquiry_on,
                       promised_from, promised_to, closed_on, closed_reason, stage, facts)
     SELECT company_id, number || '-' || n, title, customer_id, property_id, salesperson_id, hazard, inquiry_on,
            promised_from, promised_to, closed_on, closed_reason, stage, facts
     FROM jobs CROSS JOIN generate_series(1, $2) n WHERE company_id = $1`,
    [companyId, COPIES],
  );
  await admin.query("ANALYZE");
}

async function openSession(admin: pg.Pool, companyId: string): Promise<string> {
  const token = randomBytes(32).toString("base64url");
  await admin.query(
    `INSERT INTO sessions (company_id, member_id, token_hash, csrf_token, expires_at)
     SELECT company_id, id, $2, 'bench', now() + interval '1 day' FROM members
     WHERE company_id = $1 AND 'owner' = ANY (roles) LIMIT 1`,
    [companyId, createHash("sha256").update(token).digest("hex")],
  );
  return `ledgerboard_session=${token}`;
}

/** A real server with the demo companies in it, the first of them grown large. */
export async function buildWorld(onProgress: (line: string) => void): Promise<World> {
  const dataDir = await mkdtemp(join(tmpdir(), "ledgerboard-bench-"));
  const server = await startDatabase({ dataDir, fast: true });
  const adminUrl = await createDatabase(server.adminUrl, "bench");
  const appUrl = await ensureAppRole(adminUrl, { role: "ledgerboard_app", password: "only-for-bench" });
  await migrate(adminUrl);
  await prepareQueue(adminUrl);
  const database = openDatabase({ url: appUrl });
  const now = () => new Date();
  await seedDemo(
    { config: readConfig({ DATABASE_URL: appUrl, LOG_LEVEL: "silent" }), database, now },
    { onProgress },
  );
  await database.close();
  const admin = new pg.Pool({ connectionString: adminUrl, max: 1 });
  const { rows } = await admin.query("SELECT company_id, timezone FROM companies WHERE slug = 'heron-point'");
  const { company_id: companyId, timezone } = rows[0];
  const job = await admin.query(
    `SELECT j.id FROM jobs j JOIN revisions r ON r.company_id = j.company_id AND r.job_id = j.id
     WHERE j.company_id = $1 AND j.stage = 'booked' GROUP BY j.id ORDER BY count(*) DESC, j.id LIMIT 1`,
    [companyId],
  );
  await multiply(admin, companyId);
  const cookie = await openSession(admin, companyId);
  await admin.end();
  return {
    adminUrl,
    appUrl,
    cookie,
    companyId,
    jobId: job.rows[0].id,
    today: localDay(now(), timezone),
    async close() {
      await server.stop();
      await rm(dataDir, { recursive: true, force: true });
      if (server.dataDir !== dataDir) await rm(server.dataDir, { recursive: true, force: true });
    },
  };
}
