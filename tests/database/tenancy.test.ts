import { type Database, openDatabase } from "@ledgerboard/database";
import pg from "pg";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { tenantTables } from "./catalog-rules.ts";
import { fillEveryTable, foreignKeys } from "./rows.ts";
import { openScratch, refusal, type Scratch, undone } from "./scratch.ts";

const A = "00000000-0000-7000-8000-00000000000a";
const B = "00000000-0000-7000-8000-00000000000b";
const RLS = /violates row-level security policy/;

let db: Scratch;
let app: pg.Pool;
let database: Database;
let tables: string[];
let idsOfA: Map<string, string>;
let idsOfB: Map<string, string>;
beforeAll(async () => {
  db = await openScratch();
  app = new pg.Pool({ connectionString: db.appUrl, max: 2 });
  app.on("error", () => undefined);
  database = openDatabase({ url: db.appUrl, max: 2 });
  tables = await tenantTables(db.admin);
  idsOfA = await fillEveryTable(db.admin, A);
  idsOfB = await fillEveryTable(db.admin, B);
});
afterAll(async () => {
  await database.close();
  await app.end();
  await db.drop();
});

/** Rows changed or seen; 0 where the role has no such right at all. */
async function reached(tx: pg.PoolClient, text: string): Promise<number> {
  await tx.query("SAVEPOINT one");
  try {
    const { rowCount } = await tx.query(text);
    await tx.query("RELEASE SAVEPOINT one");
    return rowCount ?? 0;
  } catch (error) {
    await tx.query("ROLLBACK TO SAVEPOINT one");
    if (/^permission denied for table/.test((error as Error).message)) return 0;
    throw error;
  }
}

async function refusedInsert(tx: pg.PoolClient, text: string): Promise<void> {
  await tx.query("SAVEPOINT one");
  expect(await refusal(tx.query(text))).toMatchObject({ code: "42501", message: expect.stringMatching(RLS) });
  await tx.query("ROLLBACK TO SAVEPOINT one");
}

const actAs = (tx: pg.PoolClient, companyId: string) =>
  tx.query("SELECT set_config('app.company_id', $1, true)", [companyId]);

test("every tenant table holds a row of either company", () => {
  expect([...idsOfA.keys()].sort()).toEqual(tables);
  expect([...idsOfB.keys()].sort()).toEqual(tables);
});

test("without a tenant nothing is seen, changed or added, in any table", async () => {
  for (const table of tables) {
    await undone(app, async (tx) => {
      expect(await reached(tx, `SELECT id FROM ${table}`), table).toBe(0);
      expect(await reached(tx, `UPDATE ${table} SET created_at = now()`), table).toBe(0);
      expect(await reached(tx, `DELETE FROM ${table}`), table).toBe(0);
      await refusedInsert(tx, `INSERT INTO ${table} DEFAULT VALUES`);
      await refusedInsert(tx, `INSERT INTO ${table} (company_id) VALUES ('${A}')`);
    });
  }
});

test("a company sees its own row and reaches nothing of another's, in any table", async () => {
  const checksum = async () => {
    const sums: Record<string, string> = {};
    for (const table of tables) {
      const { rows } = await db.admin.query(
        `SELECT md5(string_agg(t::text, '|' ORDER BY t.id)) AS sum FROM ${table} t WHERE company_id = '${B}'`,
      );
      sums[table] = rows[0].sum;
    }
    return sums;
  };
  const before = await checksum();
  for (const table of tables) {
    const client = await app.connect();
    try {
      await client.query("BEGIN");
      await actAs(client, A);
      const { rows } = await client.query(`SELECT id, company_id FROM ${table}`);
      expect(rows, table).toEqual([{ id: idsOfA.get(table), company_id: A }]);
      const others = `WHERE company_id = '${B}' AND id = '${idsOfB.get(table)}'`;
      expect(await reached(client, `SELECT id FROM ${table} ${others}`), table).toBe(0);
      expect(await reached(client, `UPDATE ${table} SET created_at = now() ${others}`), table).toBe(0);
      expect(await reached(client, `DELETE FROM ${table} ${others}`), table).toBe(0);
      await refusedInsert(client, `INSERT INTO ${table} (company_id) VALUES ('${B}')`);
      // What was reached would stay.
      await client.query("COMMIT");
    } finally {
      client.release();
    }
  }
  expect(await checksum()).toEqual(before);
});

test("a company cannot hand a row of its own to another", async () => {
  let tried = 0;
  for (const table of tables) {
    await undone(app, async (tx) => {
      await actAs(tx, A);
      const { code, message } = await refusal(
        tx.query(`UPDATE ${table} SET company_id = '${B}' WHERE id = '${idsOfA.get(table)}'`),
      );
      expect(code, table).toBe("42501");
      if (RLS.test(message)) tried += 1;
      else expect(message).toMatch(/^permission denied for table/);
    });
  }
  expect(tried).toBeGreaterThanOrEqual(20);
});

test("no foreign key points into another company, even where policies do not bind", async () => {
  const keys = (await foreignKeys(db.admin)).filter((k) => k.columns.length > 1);
  expect(keys.length).toBeGreaterThanOrEqual(60);
  for (const { name, table, target, columns, targetColumns } of keys) {
    await undone(db.admin, async (tx) => {
      // Row triggers and checks out of the way: the foreign key alone is asked.
      await tx.query(`ALTER TABLE ${table} DISABLE TRIGGER USER`);
      const { rows: checks } = await tx.query(
        "SELECT conname FROM pg_constraint WHERE conrelid = $1::regclass AND contype = 'c'",
        [table],
      );
      for (const { conname } of checks) await tx.query(`ALTER TABLE ${table} DROP CONSTRAINT "${conname}"`);
      const set = columns
        .map((column, i) => [column, targetColumns[i]])
        .filter(([column]) => column !== "company_id")
        .map(([column, there]) => `"${column}" = b."${there}"`);
      const point = tx.query(
        `UPDATE ${table} t SET ${set.join(", ")} FROM ${target} b
         WHERE t.id = '${idsOfA.get(table)}' AND b.id = '${idsOfB.get(target)}'`,
      );
      expect(await refusal(point), `${table}: ${name}`).toMatchObject({ code: "23503" });
    });
  }
});

describe("the role", () => {
  test.each([
    "SET ROLE postgres",
    "SET SESSION AUTHORIZATION postgres",
    "SET row_security = off; SELECT 1 FROM jobs",
  ])("does not get past the policies by %s", async (text) => {
    await undone(app, async (tx) => {
      expect((await refusal(tx.query(text))).code).toBe("42501");
    });
  });

  test("cannot read the door table, nor switch a policy or trigger off", async () => {
    for (const text of [
      "SELECT * FROM tenant_routes",
      "ALTER TABLE jobs DISABLE ROW LEVEL SECURITY",
      "ALTER TABLE payments DISABLE TRIGGER ALL",
      "DROP POLICY tenant ON jobs",
      "CREATE TABLE mine (id int)",
    ]) {
      await undone(app, async (tx) => {
        expect((await refusal(tx.query(text))).code, text).toBe("42501");
      });
    }
  });
});

describe("find_companies", () => {
  test("answers the exact key and nothing near it", async () => {
    const { rows } = await db.admin.query("SELECT company_id, token_hash FROM sessions ORDER BY company_id");
    const hash = rows[0].token_hash as string;
    expect(await database.findCompanies("session", hash)).toEqual([A]);
    const near = ["", "%", "_".repeat(64), hash.slice(0, 63), `${hash} `, hash.toUpperCase(), `${hash}0`];
    for (const key of near) expect(await database.findCompanies("session", key), key).toEqual([]);
    for (const kind of ["invitation", "password_reset", "slug", "email"] as const) {
      expect(await database.findCompanies(kind, hash)).toEqual([]);
    }
  });

  test("follows the row: a changed key leads nowhere, the new one does", async () => {
    const before = (await db.admin.query(`SELECT email FROM members WHERE company_id = '${A}'`)).rows[0]
      .email;
    await db.admin.query(`UPDATE members SET email = 'new@place.example' WHERE company_id = '${A}'`);
    expect(await database.findCompanies("email", before)).toEqual([]);
    expect(await database.findCompanies("email", "new@place.example")).toEqual([A]);
  });

  test("one mail address may lead to several companies, one form address only to one", async () => {
    await db.admin.query(`UPDATE members SET email = 'both@place.example'`);
    expect(await database.findCompanies("email", "both@place.example")).toEqual([A, B]);
    const slug = (await db.admin.query(`SELECT slug FROM companies WHERE company_id = '${A}'`)).rows[0].slug;
    const taken = db.admin.query(`UPDATE companies SET slug = $1 WHERE company_id = '${B}'`, [slug]);
    expect(await refusal(taken)).toMatchObject({
      code: "23505",
      message: expect.stringContaining("tenant_routes_slug"),
    });
  });
});
