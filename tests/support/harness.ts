import { createHash, randomBytes, randomUUID } from "node:crypto";
import { buildApp } from "@ledgerboard/api";
import { readConfig } from "@ledgerboard/api/config";
import type { Services } from "@ledgerboard/api/services";
import { ROLES, type Role } from "@ledgerboard/contracts";
import { type Database, openDatabase } from "@ledgerboard/database";
import { createDatabase, databaseUrl, dropDatabase } from "@ledgerboard/database/roles";
import type { FastifyInstance } from "fastify";
import pg from "pg";
import request, { type Response } from "supertest";
import { inject } from "vitest";

type Query = Record<string, string | number>;
interface CallOptions {
  body?: unknown;
  query?: Query;
  /** Sent as If-Match. */
  version?: number;
  /** Idempotency-Key; a fresh one for every POST unless given. `null` sends none. */
  key?: string | null;
  /** X-CSRF-Token; the session's own unless given. `null` sends none. */
  csrf?: string | null;
}

/** A signed-in member speaking HTTP to the real server. */
export interface Client {
  memberId: string;
  companyId: string;
  role: Role;
  cookie: string;
  get(path: string, query?: Query): Promise<Response>;
  post(path: string, body?: unknown, options?: CallOptions): Promise<Response>;
  put(path: string, body?: unknown, options?: CallOptions): Promise<Response>;
  patch(path: string, body: unknown, version: number, options?: CallOptions): Promise<Response>;
  delete(path: string, options?: CallOptions): Promise<Response>;
}

/** A company of a test's own, with one member of each role. */
export type TestCompany = Record<Role, Client> & { companyId: string; slug: string };

export interface Harness {
  app: FastifyInstance;
  services: Services;
  database: Database;
  /** Superuser connection to this file's database: for arranging and reading back, past every policy. */
  admin: pg.Pool;
  adminUrl: string;
  appUrl: string;
  company(options?: { name?: string; state?: string; timezone?: string }): Promise<TestCompany>;
  /** A signed-in client for an existing member. */
  signIn(companyId: string, memberId: string, role: Role): Promise<Client>;
  /** Requests without a session. */
  anonymous: Pick<Client, "get" | "post" | "put" | "patch" | "delete">;
  /** Moves the clock the program sees (business days, expiry). */
  setNow(instant: string): void;
  close(): Promise<void>;
}

const API = "/api/v1";

function httpClient(app: FastifyInstance, cookie: string | null, csrfToken: string | null) {
  const call = async (
    method: "get" | "post" | "put" | "patch" | "delete",
    path: string,
    o: CallOptions = {},
  ) => {
    let r = request(app.server)[method](path.startsWith("/api") ? path : API + path);
    if (o.query) r = r.query(o.query);
    if (cookie) r = r.set("Cookie", cookie);
    const csrf = o.csrf === undefined ? csrfToken : o.csrf;
    if (csrf && method !== "get") r = r.set("X-CSRF-Token", csrf);
    const key = o.key === undefined ? randomUUID() : o.key;
    if (key && method === "post") r = r.set("Idempotency-Key", key);
    if (o.version !== undefined) r = r.set("If-Match", `"${o.version}"`);
    return o.body === undefined ? r : r.send(o.body as object);
  };
  return {
    get: (path: string, query?: Query) => call("get", path, query ? { query } : {}),
    post: (path: string, body?: unknown, options: CallOptions = {}) =>
      call("post", path, { ...options, ...(body !== undefined && { body }) }),
    put: (path: string, body?: unknown, options: CallOptions = {}) =>
      call("put", path, { ...options, ...(body !== undefined && { body }) }),
    patch: (path: string, body: unknown, version: number, options: CallOptions = {}) =>
      call("patch", path, { ...options, body, version }),
    delete: (path: string, options: CallOptions = {}) => call("delete", path, options),
  };
}

/** Starts the real server on a database of this test file's own. Close it in afterAll. */
export async function startHarness(
  env: Record<string, string> = {},
  options: { webRoot?: string } = {},
): Promise<Harness> {
  const serverUrl = inject("adminUrl");
  const name = `test_${randomBytes(6).toString("hex")}`;
  const adminUrl = await createDatabase(serverUrl, name, { template: inject("templateName") });
  const appUrl = ((u) => {
    u.username = "ledgerboard_app";
    u.password = inject("appPassword");
    return u.toString();
  })(new URL(databaseUrl(serverUrl, name)));
  const database = openDatabase({ url: appUrl, max: 8 });
  const admin = new pg.Pool({ connectionString: adminUrl, max: 3 });
  // Dropping the database at the end cuts idle connections; that is no failure.
  admin.on("error", () => undefined);
  let now: Date | null = null;
  const services: Services = {
    config: readConfig({
      NODE_ENV: "test",
      DATABASE_URL: appUrl,
      LOG_LEVEL: "silent",
      RATE_LIMIT_PER_MINUTE: "1000000",
      ...env,
    }),
    database,
    now: () => now ?? new Date(),
  };
  const app = await buildApp(services, options);
  await app.listen({ port: 0, host: "127.0.0.1" });

  async function signIn(companyId: string, memberId: string, role: Role): Promise<Client> {
    const token = randomBytes(32).toString("base64url");
    const csrf = randomBytes(16).toString("hex");
    const hash = createHash("sha256").update(token).digest("hex");
    await admin.query(
      "INSERT INTO sessions (company_id, member_id, token_hash, csrf_token, expires_at) VALUES ($1, $2, $3, $4, now() + interval '1 day')",
      [companyId, memberId, hash, csrf],
    );
    const cookie = `ledgerboard_session=${token}`;
    return { memberId, companyId, role, cookie, ...httpClient(app, cookie, csrf) };
  }

  return {
    app,
    services,
    database,
    admin,
    adminUrl,
    appUrl,
    signIn,
    anonymous: httpClient(app, null, null),
    setNow: (instant) => {
      now = new Date(instant);
    },
    async company({
      name: companyName = "Test Carpentry",
      state = "MD",
      timezone = "America/New_York",
    } = {}) {
      const slug = `co-${randomBytes(4).toString("hex")}`;
      const { rows } = await admin.query(
        `INSERT INTO companies (company_id, id, slug, name, job_prefix, state, timezone)
         SELECT u, u, $1, $2, 'TC', $3, $4 FROM (SELECT uuidv7() AS u) x RETURNING id`,
        [slug, companyName, state, timezone],
      );
      const companyId = rows[0].id as string;
      await admin.query("INSERT INTO calendars (company_id, weekdays) VALUES ($1, '{1,2,3,4,5}')", [
        companyId,
      ]);
      await admin.query(
        "INSERT INTO materiality_policies (company_id, effective_from, amount_cents, percent_bp, structural_action) VALUES ($1, '2020-01-01', 50000, 1000, true)",
        [companyId],
      );
      const clients = {} as Record<Role, Client>;
      for (const role of ROLES) {
        const member = await admin.query(
          "INSERT INTO members (company_id, name, email, password_hash, roles) VALUES ($1, $2, $3, 'none', $4) RETURNING id",
          [companyId, `The ${role}`, `${role}@${slug}.example`, [role]],
        );
        clients[role] = await signIn(companyId, member.rows[0].id, role);
      }
      return { companyId, slug, ...clients };
    },
    async close() {
      await app.close();
      await database.close();
      await admin.end();
      await dropDatabase(serverUrl, name);
    },
  };
}
