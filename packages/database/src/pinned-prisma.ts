import { PrismaPg } from "@prisma/adapter-pg";
import pg from "pg";
import { PrismaClient } from "./generated/prisma/client.ts";

type AnyQuery = (...args: unknown[]) => Promise<unknown>;

const TRANSACTION_WORDS = new Map([
  ["BEGIN", "SAVEPOINT prisma_inner"],
  ["COMMIT", "RELEASE SAVEPOINT prisma_inner"],
  ["ROLLBACK", "ROLLBACK TO SAVEPOINT prisma_inner"],
]);

/**
 * A pool with exactly one connection in it, on loan from the real pool. Prisma believes it owns a pool; all it
 * says goes down the connection that holds the tenant transaction, so it cannot step outside of it. A transaction
 * Prisma opens by itself (a nested write, say) becomes a savepoint of ours.
 */
class PinnedPool extends pg.Pool {
  readonly #query: AnyQuery;

  constructor(client: pg.PoolClient) {
    super({ max: 1 });
    this.#query = (client.query as AnyQuery).bind(client);
  }

  override query: pg.Pool["query"] = ((...args: unknown[]) => this.#query(...args)) as pg.Pool["query"];

  override connect: pg.Pool["connect"] = (async () => ({
    query: (config: { text?: string } | string, ...rest: unknown[]) => {
      const text = typeof config === "string" ? config : (config.text ?? "");
      const inner = TRANSACTION_WORDS.get(text.trim().toUpperCase());
      return inner ? this.#query(inner) : this.#query(config, ...rest);
    },
    on: () => undefined,
    removeListener: () => undefined,
    release: () => undefined,
  })) as unknown as pg.Pool["connect"];
}

const clients = new WeakMap<pg.PoolClient, PrismaClient>();

/** The Prisma client that speaks through this one connection; made once per connection and kept with it. */
export function prismaOn(client: pg.PoolClient): PrismaClient {
  let prisma = clients.get(client);
  if (!prisma) {
    prisma = new PrismaClient({ adapter: new PrismaPg(new PinnedPool(client)) });
    clients.set(client, prisma);
  }
  return prisma;
}
