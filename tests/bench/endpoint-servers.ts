/**
 * The two servers that the endpoint rows compare, each in a process of its own:
 *   api        the whole program
 *   reference  a bare Fastify + pg server: the same tenant transaction, the same SQL with the same values, the
 *              same bytes sent back, and nothing else
 * Prints "ready <port>" when it listens.
 */
import { buildApp } from "@ledgerboard/api";
import { readConfig } from "@ledgerboard/api/config";
import { openDatabase } from "@ledgerboard/database";
import Fastify from "fastify";
import pg from "pg";

const POOL = 10;
const [kind, appUrl = "", cookie = "", companyId = "", ...paths] = process.argv.slice(2);

const config = readConfig({
  NODE_ENV: "production",
  APP_SECRET: "x".repeat(32),
  PUBLIC_URL: "https://bench.example",
  DATABASE_URL: appUrl,
  LOG_LEVEL: "silent",
  RATE_LIMIT_PER_MINUTE: "100000000",
});
const database = openDatabase({ url: appUrl, max: POOL });
const app = await buildApp({ config, database, now: () => new Date() });

interface Recorded {
  statements: { text: string; name: string; values: unknown[] }[];
  body: unknown;
}

/** Runs one request through the program and keeps every statement it sent. */
async function record(path: string): Promise<Recorded> {
  const statements: Recorded["statements"] = [];
  const original = pg.Client.prototype.query;
  pg.Client.prototype.query = function (this: pg.Client, ...args: unknown[]) {
    const [first] = args as [{ text?: string; name?: string; values?: unknown[] }];
    if (first?.name)
      statements.push({ text: first.text ?? "", name: first.name, values: first.values ?? [] });
    return (original as (...a: unknown[]) => unknown).apply(this, args);
  } as typeof original;
  const response = await app.inject({ url: path, headers: { cookie } });
  pg.Client.prototype.query = original;
  if (response.statusCode !== 200)
    throw new Error(`${path} answered ${response.statusCode}: ${response.body}`);
  return { statements, body: response.json() };
}

async function reference() {
  const pool = new pg.Pool({ connectionString: appUrl, max: POOL, pipeline: true } as pg.PoolConfig);
  const bare = Fastify({ logger: false });
  for (const path of paths) {
    const { statements, body } = await record(path);
    bare.get(path.split("?")[0] ?? path, async (_request, reply) => {
      const client = await pool.connect();
      try {
        await client.query(`BEGIN READ ONLY; SELECT set_config('app.company_id', '${companyId}', true)`);
        await Promise.all(statements.map((s) => client.query(s)));
        await client.query("COMMIT");
      } finally {
        client.release();
      }
      return reply.type("application/json; charset=utf-8").send(JSON.stringify(body));
    });
  }
  return bare;
}

const server = kind === "api" ? app : await reference();
await server.listen({ port: 0, host: "127.0.0.1" });
const address = server.server.address();
process.stdout.write(`ready ${typeof address === "object" ? address?.port : ""}\n`);
