import { randomUUID } from "node:crypto";
import {
  type Change,
  type Database,
  DatabaseUnavailable,
  openDatabase,
  type TenantDb,
} from "@ledgerboard/database";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { fillEveryTable } from "./rows.ts";
import { openScratch, type Scratch } from "./scratch.ts";

const A = "00000000-0000-7000-8000-00000000000a";
const B = "00000000-0000-7000-8000-00000000000b";

let db: Scratch;
let database: Database;
/** A pool of one: whatever is left behind on its connection meets the next transaction. */
let single: Database;
let idsOfA: Map<string, string>;
beforeAll(async () => {
  db = await openScratch();
  database = openDatabase({ url: db.appUrl, max: 6 });
  single = openDatabase({ url: db.appUrl, max: 1 });
  idsOfA = await fillEveryTable(db.admin, A);
  await fillEveryTable(db.admin, B);
});
afterAll(async () => {
  await Promise.all([database.close(), single.close()]);
  await db.drop();
});

const customersNamed = async (name: string): Promise<number> =>
  (await db.admin.query("SELECT id FROM customers WHERE name = $1", [name])).rowCount ?? 0;
const pidOf = async (tx: TenantDb): Promise<number> =>
  (await tx.sql<{ pid: number }>`SELECT pg_backend_pid() AS pid`)[0]?.pid ?? 0;
const cut = (pid: number) => db.admin.query("SELECT pg_terminate_backend($1, 5000)", [pid]);

describe("the tenant setting", () => {
  beforeAll(async () => {
    // In this file's database the door function answers the setting it finds, so that a leak would show.
    await db.admin.query(`
      CREATE OR REPLACE FUNCTION find_companies(route_kind text, route_key text) RETURNS SETOF uuid
      LANGUAGE sql STABLE AS $$ SELECT nullif(current_setting('app.company_id', true), '')::uuid WHERE route_key = 'probe' $$`);
  });
  const left = async () => (await single.findCompanies("slug", "probe")).filter((id) => id !== null);

  test("is gone after a commit", async () => {
    const seen = await single.withCompany(A, {}, (tx) => tx.sql<{ id: string }>`SELECT id FROM companies`);
    expect(seen).toEqual([{ id: A }]);
    expect(await left()).toEqual([]);
  });

  test("is gone after an error", async () => {
    const failing = single.withCompany(A, {}, async () => {
      throw new Error("on purpose");
    });
    await expect(failing).rejects.toThrow("on purpose");
    expect(await left()).toEqual([]);
  });

  test("cannot be anything but a company's id", () => {
    expect(() => single.withCompany("'; DROP TABLE jobs; --", {}, async () => 1)).toThrow(RangeError);
    expect(() => single.withSession("x'; --", { requestId: "r", readOnly: true }, async () => 1)).toThrow(
      RangeError,
    );
  });
});

describe("a transaction", () => {
  test("takes all back when its work throws, written by either way", async () => {
    const failing = database.withCompany(A, {}, async (tx) => {
      await tx.sql`INSERT INTO customers (name) VALUES ('by SQL')`;
      await tx.prisma.customer.create({ data: { name: "by Prisma" } });
      await tx.audit({ action: "x", entity: "customer", entityId: randomUUID(), words: "taken back" });
      throw new Error("on purpose");
    });
    await expect(failing).rejects.toThrow("on purpose");
    expect(await customersNamed("by SQL")).toBe(0);
    expect(await customersNamed("by Prisma")).toBe(0);
    const { rowCount } = await db.admin.query("SELECT FROM audit_entries WHERE words = 'taken back'");
    expect(rowCount).toBe(0);
  });

  test("is one for SQL and Prisma: each sees what the other wrote, nobody else does", async () => {
    await database.withCompany(A, {}, async (tx) => {
      const made = await tx.prisma.customer.create({ data: { name: "seen within" } });
      expect(await tx.sql`SELECT name FROM customers WHERE id = ${made.id}`).toEqual([
        { name: "seen within" },
      ]);
      await tx.sql`UPDATE customers SET name = 'renamed within' WHERE id = ${made.id}`;
      expect((await tx.prisma.customer.findFirst({ where: { id: made.id } }))?.name).toBe("renamed within");
      expect(await customersNamed("renamed within")).toBe(0);
    });
    expect(await customersNamed("renamed within")).toBe(1);
  });

  test("holds what Prisma writes in a transaction of its own", async () => {
    const many = database.withCompany(A, {}, async (tx) => {
      await tx.prisma.customer.createMany({ data: [{ name: "many" }, { name: "many" }] });
      await tx.prisma.numberSequence.upsert({
        where: { companyId_scope: { companyId: A, scope: "many" } },
        create: { scope: "many", last: 1 },
        update: { last: 2 },
      });
      throw new Error("on purpose");
    });
    await expect(many).rejects.toThrow("on purpose");
    expect(await customersNamed("many")).toBe(0);
    expect((await db.admin.query("SELECT FROM number_sequences WHERE scope = 'many'")).rowCount).toBe(0);
  });

  test("is dead when it is over: its connection may serve another company by then", async () => {
    const kept = await database.withCompany(A, {}, async (tx) => tx);
    await expect(kept.sql`SELECT 1`).rejects.toThrow("This transaction is over");
    expect(() => kept.prisma).toThrow("This transaction is over");
  });

  test("does not report as done what the database took back", async () => {
    // After a failed statement PostgreSQL answers COMMIT with a rollback, without an error.
    const swallowed = database.withCompany(A, {}, async (tx) => {
      await tx.sql`INSERT INTO customers (name) VALUES ('swallowed')`;
      await tx.sql`SELECT 1 / 0`.catch(() => undefined);
      return "done";
    });
    await expect(swallowed).rejects.toThrow();
    expect(await customersNamed("swallowed")).toBe(0);
  });

  test.each([
    ["SQL", (tx: TenantDb, id: string) => tx.sql`UPDATE crews SET size = size WHERE id = ${id}`],
    [
      "Prisma",
      (tx: TenantDb, id: string) =>
        tx.prisma.crew.update({ where: { companyId_id: { companyId: A, id } }, data: { size: 3 } }),
    ],
  ])("that meets another crosswise is run again (%s)", async (_way, change) => {
    const { rows } = await db.admin.query(
      "INSERT INTO crews (company_id, name, size) VALUES ($1, $2, 2), ($1, $3, 2) RETURNING id",
      [A, randomUUID(), randomUUID()],
    );
    const [one, two] = rows.map((r) => r.id as string) as [string, string];
    let arrived = 0;
    const bothAreIn = async () => {
      arrived += 1;
      await vi.waitUntil(() => arrived >= 2, { timeout: 5_000 });
    };
    const crosswise = (first: string, second: string) =>
      database.withCompany(A, {}, async (tx) => {
        await change(tx, first);
        await bothAreIn();
        await change(tx, second);
      });
    await Promise.all([crosswise(one, two), crosswise(two, one)]);
    const after = await db.admin.query("SELECT version FROM crews WHERE id = ANY($1)", [[one, two]]);
    expect(after.rows).toEqual([{ version: 3 }, { version: 3 }]);
  });
});

test("two companies at once never meet: 200 interleaved Prisma and SQL reads", async () => {
  const jobs = { [A]: idsOfA.get("jobs") ?? "", [B]: "" };
  jobs[B] = (await db.admin.query(`SELECT id FROM jobs WHERE company_id = '${B}'`)).rows[0].id;
  const companies = Array.from({ length: 200 }, (_, i) => (i % 2 === 0 ? A : B));
  const seen = await Promise.all(
    companies.map((companyId) =>
      database.withCompany(companyId, {}, async (tx) => {
        const other = companyId === A ? B : A;
        const [first, unique, foreign, all, counted] = await Promise.all([
          tx.prisma.job.findFirst({}),
          tx.prisma.job.findUnique({ where: { companyId_id: { companyId, id: jobs[companyId] ?? "" } } }),
          tx.prisma.job.findUnique({ where: { companyId_id: { companyId: other, id: jobs[other] ?? "" } } }),
          tx.prisma.member.findMany({ select: { companyId: true } }),
          tx.sql<{ id: string }>`SELECT company_id AS id FROM properties`,
        ]);
        return [first?.companyId, unique?.companyId, foreign, all, counted];
      }),
    ),
  );
  expect(seen).toEqual(companies.map((id) => [id, id, null, [{ companyId: id }], [{ id }]]));
});

describe("a lost connection", () => {
  test.each([
    ["SQL", (tx: TenantDb) => tx.sql`SELECT 1`],
    ["Prisma", (tx: TenantDb) => tx.prisma.customer.create({ data: { name: "lost" } })],
    ["the commit", async () => undefined],
  ])("during %s is told plainly, and the next call works", async (_where, next) => {
    const lost = single.withCompany(A, {}, async (tx) => {
      await tx.sql`INSERT INTO customers (name) VALUES ('lost')`;
      await cut(await pidOf(tx));
      await next(tx);
    });
    await expect(lost).rejects.toBeInstanceOf(DatabaseUnavailable);
    expect(await customersNamed("lost")).toBe(0);
    expect(await single.withCompany(A, {}, (tx) => tx.sql`SELECT 1 AS one`)).toEqual([{ one: 1 }]);
    expect(await single.withCompany(A, {}, (tx) => tx.prisma.company.count())).toBe(1);
  });

  test("while idle is not noticed", async () => {
    const pid = await single.withCompany(A, {}, pidOf);
    await cut(pid);
    // The pool learns of it from the socket, a moment later.
    await vi.waitUntil(async () => (await single.withCompany(A, {}, pidOf).catch(() => pid)) !== pid);
    expect(await single.withCompany(A, {}, (tx) => tx.sql`SELECT 1 AS one`)).toEqual([{ one: 1 }]);
  });

  test("of the change feed is taken up again", async () => {
    const changes: Change[] = [];
    const stop = await database.listen((change) => changes.push(change));
    const announce = (words: string) =>
      database.withCompany(A, {}, (tx) =>
        tx.audit({ action: "x", entity: words, entityId: randomUUID(), words }),
      );
    try {
      await announce("before");
      await vi.waitUntil(() => changes.some((c) => c.entity === "before"), { timeout: 5_000 });
      const { rowCount } = await db.admin.query(
        "SELECT pg_terminate_backend(pid, 5000) FROM pg_stat_activity WHERE application_name = 'ledgerboard-listen' AND datname = current_database()",
      );
      expect(rowCount).toBe(1);
      await vi.waitUntil(
        async () => {
          await announce("after");
          return changes.some((c) => c.entity === "after");
        },
        { timeout: 10_000, interval: 200 },
      );
      expect(changes.find((c) => c.entity === "after")).toMatchObject({ company: A, jobId: null });
    } finally {
      await stop();
    }
    // Stopped means stopped: nothing more arrives and nothing reconnects.
    const known = changes.length;
    await announce("later");
    const { rows } = await db.admin.query(
      "SELECT count(*)::int AS n FROM pg_stat_activity WHERE application_name = 'ledgerboard-listen' AND datname = current_database()",
    );
    expect({ heard: changes.length, connections: rows[0].n }).toEqual({ heard: known, connections: 0 });
  });
});
