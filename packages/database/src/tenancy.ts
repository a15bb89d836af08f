import pg from "pg";
import type { PrismaClient } from "./generated/prisma/client.ts";
import { prismaOn } from "./pinned-prisma.ts";
import { statement } from "./sql.ts";

/** What Prisma may do inside a tenant transaction: no opening or closing of connections or transactions. */
export type TenantPrisma = Omit<PrismaClient, `$${string}`>;

export interface AuditEntry {
  action: string;
  entity: string;
  entityId: string;
  jobId?: string | null;
  /** One plain sentence for the timeline. */
  words: string;
  changes?: Record<string, unknown>;
}

/**
 * The handle to one company's data inside one transaction. Every data-access function takes it first; nothing
 * else in the program reaches the pool, so a query without a tenant or outside the transaction does not compile.
 */
export interface TenantDb {
  readonly companyId: string;
  /** Who acts; null for the customer, the public and the service itself. */
  readonly memberId: string | null;
  /** Prisma on this transaction's connection: ordinary writes and lookups. */
  readonly prisma: TenantPrisma;
  /** SQL on the same connection, as a tagged template: every `${value}` is a bound parameter, every `part` is taken in. */
  sql<Row>(text: TemplateStringsArray, ...values: unknown[]): Promise<Row[]>;
  /** Appends to the audit trail; at least one is owed by every write. */
  audit(entry: AuditEntry): Promise<void>;
  /** How many audit entries this transaction has written. */
  readonly audited: number;
}

export interface SignedIn {
  sessionId: string;
  csrfToken: string;
  companyId: string;
  companyName: string;
  companySlug: string;
  timezone: string;
  state: string;
  currency: "USD";
  memberId: string;
  memberName: string;
  memberEmail: string;
  roles: string[];
}

export type RouteKind = "session" | "invitation" | "password_reset" | "slug" | "email";

export interface Actor {
  memberId?: string | null;
  requestId?: string | null;
}

export interface Change {
  company: string;
  entity: string;
  id: string;
  jobId: string | null;
}

/** The database could not be reached or did not answer in time; safe to try again later. */
export class DatabaseUnavailable extends Error {}

export interface Database {
  /** Runs `fn` in one transaction of one company; commits when it returns, rolls back when it throws. */
  withCompany<T>(companyId: string, actor: Actor, fn: (db: TenantDb) => Promise<T>): Promise<T>;
  /** As withCompany, for the company and member of a session; `fn` gets null when the session does not stand. */
  withSession<T>(
    tokenHash: string,
    options: { requestId: string; readOnly: boolean },
    fn: (signedIn: { who: SignedIn; db: TenantDb } | null) => Promise<T>,
  ): Promise<T>;
  /** The companies an opaque key leads to; asked before the tenant is known. */
  findCompanies(kind: RouteKind, key: string): Promise<string[]>;
  /** Calls back for every audited change of any company, also of other processes. Reconnects by itself. */
  listen(onChange: (change: Change) => void): Promise<() => Promise<void>>;
  close(): Promise<void>;
}

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/i;
const HEX = /^[0-9a-f]{64}$/;

// Days stay text: a calendar day has no time zone to be shifted by. Counts fit a double; numerics stay exact text.
const PARSERS: Record<number, (value: string) => unknown> = {
  [pg.types.builtins.DATE]: (v) => v,
  [pg.types.builtins.INT8]: Number,
  [pg.types.builtins.TIMESTAMPTZ]: (v) => new Date(v).toISOString(),
};
const types: pg.CustomTypesConfig = {
  getTypeParser: ((oid: number, format?: "text" | "binary") =>
    (format !== "binary" && PARSERS[oid]) ||
    pg.types.getTypeParser(oid, format)) as pg.CustomTypesConfig["getTypeParser"],
};

class Transaction implements TenantDb {
  audited = 0;
  readonly companyId: string;
  readonly memberId: string | null;
  readonly #requestId: string | null;
  #loan: pg.PoolClient | null;

  constructor(client: pg.PoolClient, companyId: string, actor: Actor) {
    this.#loan = client;
    this.companyId = companyId;
    this.memberId = actor.memberId ?? null;
    this.#requestId = actor.requestId ?? null;
  }

  /** The connection; once it is given back it may serve another company, so a handle kept too long is dead. */
  get #client(): pg.PoolClient {
    if (!this.#loan) throw new Error("This transaction is over; await everything before returning from it.");
    return this.#loan;
  }

  end(): void {
    this.#loan = null;
  }

  get prisma(): TenantPrisma {
    return prismaOn(this.#client);
  }

  async sql<Row>(strings: TemplateStringsArray, ...values: unknown[]): Promise<Row[]> {
    const result = await this.#client.query(statement(strings, values));
    return result.rows as Row[];
  }

  /** Statements the queue library wrote; everything else goes through `sql` or `prisma`. */
  async executeText(text: string, values: unknown[]): Promise<{ rows: unknown[] }> {
    return this.#client.query(text, values);
  }

  async audit(entry: AuditEntry): Promise<void> {
    this.audited += 1;
    await this
      .sql`INSERT INTO audit_entries (company_id, member_id, request_id, action, entity, entity_id, job_id, words, changes)
      VALUES (${this.companyId}, ${this.memberId}, ${this.#requestId}, ${entry.action}, ${entry.entity}, ${entry.entityId},
              ${entry.jobId ?? null}, ${entry.words}, ${JSON.stringify(entry.changes ?? {})})`;
  }
}

/** Runs a statement of the queue library inside the tenant transaction. For queue.ts alone: `db.sql` is the way in. */
export async function executeIn(db: TenantDb, text: string, values: unknown[]): Promise<{ rows: unknown[] }> {
  if (!(db instanceof Transaction)) throw new TypeError("Not a transaction of this database.");
  return db.executeText(text, values);
}

async function using<T>(tx: Transaction, fn: (db: TenantDb) => Promise<T>): Promise<T> {
  try {
    return await fn(tx);
  } finally {
    tx.end();
  }
}

/** Serialisation failure and deadlock, as PostgreSQL and as Prisma name them. */
const TRY_AGAIN = new Set(["40001", "40P01", "P2034"]);
const isUnavailable = (error: unknown): boolean => {
  const { code, message } = error as { code?: string; message?: string };
  return (
    /^(ECONN|EPIPE|ETIMEDOUT|ENOTFOUND|EAI_AGAIN|57P0|08|53)/.test(code ?? "") ||
    /timeout exceeded when trying to connect|Connection terminated|Client has encountered a connection error/.test(
      message ?? "",
    )
  );
};

const rowToSignedIn = (r: Record<string, unknown>): SignedIn =>
  ({
    sessionId: r.session_id,
    csrfToken: r.csrf_token,
    companyId: r.company_id,
    companyName: r.company_name,
    companySlug: r.company_slug,
    timezone: r.timezone,
    state: r.state,
    currency: r.currency,
    memberId: r.member_id,
    memberName: r.member_name,
    memberEmail: r.member_email,
    roles: r.roles,
  }) as SignedIn;

/** Opens the pool of the app role. `url` must name a role that owns nothing and cannot bypass row-level security. */
export function openDatabase({ url, max = 10 }: { url: string; max?: number }): Database {
  const pool = new pg.Pool({
    connectionString: url,
    max,
    types,
    // Reads that do not wait for each other go out together and come back in one round trip.
    pipeline: true,
    connectionTimeoutMillis: 5_000,
    // A statement that takes longer than this is a fault, and would hold one of few connections.
    statement_timeout: 15_000,
    idle_in_transaction_session_timeout: 30_000,
    application_name: "ledgerboard",
  });
  // An idle connection that dies is replaced at the next request; without a listener it would end the process.
  pool.on("error", () => undefined);
  // The same goes for one that dies on loan, between two statements; the next statement reports it.
  pool.on("connect", (client) => client.on("error", () => undefined));

  /** One transaction on one connection; `begin` is sent as one message together with setting the tenant. */
  async function transaction<T>(
    begin: string,
    work: (client: pg.PoolClient, opened: pg.QueryResult[]) => Promise<T>,
  ): Promise<T> {
    for (let attempt = 1; ; attempt++) {
      let client: pg.PoolClient;
      try {
        client = await pool.connect();
      } catch (cause) {
        throw new DatabaseUnavailable("The database cannot be reached.", { cause });
      }
      let broken: Error | undefined;
      try {
        const opened = (await client.query(begin)) as unknown as pg.QueryResult[];
        const result = await work(client, opened);
        const { command } = await client.query("COMMIT");
        // After a failed statement the answer to COMMIT is a rollback, without an error.
        if (command !== "COMMIT")
          throw new Error("A statement failed and its error was swallowed; nothing was kept.");
        return result;
      } catch (error) {
        try {
          await client.query("ROLLBACK");
        } catch (rollbackError) {
          broken = rollbackError as Error;
        }
        if (TRY_AGAIN.has((error as { code?: string }).code ?? "") && attempt < 4) continue;
        if (isUnavailable(error)) {
          broken ??= error as Error;
          throw new DatabaseUnavailable("The database connection was lost.", { cause: error });
        }
        throw error;
      } finally {
        client.release(broken);
      }
    }
  }

  return {
    withCompany(companyId, actor, fn) {
      if (!UUID.test(companyId)) throw new RangeError("Not a company id.");
      return transaction(`BEGIN; SELECT set_config('app.company_id', '${companyId}', true)`, (client) =>
        using(new Transaction(client, companyId, actor), fn),
      );
    },

    withSession(tokenHash, { requestId, readOnly }, fn) {
      if (!HEX.test(tokenHash)) throw new RangeError("Not a session hash.");
      return transaction(
        `BEGIN${readOnly ? " READ ONLY" : ""}; SELECT * FROM open_session('${tokenHash}')`,
        (client, opened) => {
          const row = opened[1]?.rows[0] as Record<string, unknown> | undefined;
          if (!row) return fn(null);
          const who = rowToSignedIn(row);
          const tx = new Transaction(client, who.companyId, { memberId: who.memberId, requestId });
          return using(tx, (db) => fn({ who, db }));
        },
      );
    },

    async findCompanies(kind, key) {
      try {
        const { rows } = await pool.query("SELECT find_companies($1, $2) AS id", [kind, key]);
        return rows.map((r: { id: string }) => r.id);
      } catch (error) {
        if (isUnavailable(error))
          throw new DatabaseUnavailable("The database cannot be reached.", { cause: error });
        throw error;
      }
    },

    async listen(onChange) {
      let client: pg.Client | undefined;
      let closed = false;
      let timer: NodeJS.Timeout | undefined;
      const connect = async (): Promise<void> => {
        const next = new pg.Client({ connectionString: url, application_name: "ledgerboard-listen" });
        next.on("notification", (n) => n.payload && onChange(JSON.parse(n.payload) as Change));
        const again = (): void => {
          if (closed || client !== next) return;
          client = undefined;
          timer = setTimeout(() => connect().catch(() => undefined), 1_000);
        };
        next.on("error", again);
        next.on("end", again);
        client = next;
        try {
          await next.connect();
          await next.query("LISTEN ledgerboard_changes");
        } catch {
          again();
        }
      };
      await connect();
      return async () => {
        closed = true;
        clearTimeout(timer);
        await client?.end().catch(() => undefined);
      };
    },

    close: () => pool.end(),
  };
}
