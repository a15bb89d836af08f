import { readFile } from "node:fs/promises";
import type pg from "pg";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { NOT_TENANT, plain } from "./catalog-rules.ts";
import { parsePrismaSchema, type TableModel } from "./prisma-schema.ts";
import { openScratch, type Scratch, undone } from "./scratch.ts";

/** The same picture of the database as of the schema file, read from the catalog. */
async function readCatalog(db: pg.Pool | pg.PoolClient): Promise<Map<string, TableModel>> {
  const { rows: columns } = await db.query(
    `SELECT c.relname AS table, a.attname AS column, format_type(a.atttypid, a.atttypmod) AS type,
       NOT a.attnotnull AS nullable, a.attgenerated <> '' AS generated, pg_get_expr(d.adbin, d.adrelid) AS default
     FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped
     LEFT JOIN pg_attrdef d ON d.adrelid = c.oid AND d.adnum = a.attnum
     WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p') ORDER BY 1, a.attnum`,
  );
  const { rows: keys } = await db.query(
    `SELECT c.relname AS table, x.indisprimary AS primary,
       array(SELECT a.attname FROM unnest(x.indkey[0:x.indnkeyatts - 1]) WITH ORDINALITY k (num, n)
             JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum = k.num ORDER BY k.n)::text[] AS columns
     FROM pg_index x JOIN pg_class c ON c.oid = x.indrelid
     -- Prisma has no words for partial keys and for keys in which nulls are alike.
     WHERE c.relnamespace = 'public'::regnamespace AND x.indisunique AND x.indpred IS NULL AND NOT x.indnullsnotdistinct`,
  );
  const tables = new Map<string, TableModel>();
  for (const row of columns) {
    if (NOT_TENANT.has(row.table)) continue;
    if (!tables.has(row.table)) tables.set(row.table, { columns: new Map(), primaryKey: [], unique: [] });
    tables.get(row.table)?.columns.set(row.column, {
      type: row.type,
      nullable: row.nullable,
      default: row.generated ? "generated" : row.default,
    });
  }
  for (const { table, primary, columns: of } of keys) {
    const model = tables.get(table);
    if (primary && model) model.primaryKey = of;
    else model?.unique.push(of);
  }
  return tables;
}

/** Defaults made comparable: 'assumed'::text and "assumed", '{}'::jsonb and "{}". */
const sameDefault = (text: string | null): string | null =>
  text === null
    ? null
    : plain(text)
        .replace(/::(jsonb|text\[\]|integer\[\]|\[\])$/, "")
        .replace(/^'\{\}'\[\]$/, "'{}'")
        .replace(/^["'](.*)["']$/, "$1")
        .replace(/^(\[\]|\{\})$/, "empty");

/** Every difference between the schema file and the database, in both directions. */
function differences(file: Map<string, TableModel>, database: Map<string, TableModel>): string[] {
  const out: string[] = [];
  const report = (where: string, what: string, inFile: unknown, inDatabase: unknown) => {
    const [a, b] = [JSON.stringify(inFile), JSON.stringify(inDatabase)];
    if (a !== b) out.push(`${where}: ${what} is ${a} in schema.prisma, ${b} in the database`);
  };
  for (const name of new Set([...file.keys(), ...database.keys()])) {
    const [a, b] = [file.get(name), database.get(name)];
    if (!a || !b) {
      out.push(`${name}: the table is only in ${a ? "schema.prisma" : "the database"}`);
      continue;
    }
    report(name, "the primary key", a.primaryKey, b.primaryKey);
    const sorted = (keys: string[][]) => keys.map((k) => k.join(",")).sort();
    report(name, "unique", sorted(a.unique), sorted(b.unique));
    for (const column of new Set([...a.columns.keys(), ...b.columns.keys()])) {
      const [x, y] = [a.columns.get(column), b.columns.get(column)];
      const where = `${name}.${column}`;
      if (!x || !y) {
        out.push(`${where}: the column is only in ${x ? "schema.prisma" : "the database"}`);
        continue;
      }
      report(where, "the type", x.type, y.type);
      report(where, "nullable", x.nullable, y.nullable);
      report(where, "the default", sameDefault(x.default), sameDefault(y.default));
    }
  }
  return out.sort();
}

let db: Scratch;
let file: Map<string, TableModel>;
beforeAll(async () => {
  db = await openScratch();
  file = parsePrismaSchema(await readFile("prisma/schema.prisma", "utf8"));
});
afterAll(() => db.drop());

test("schema.prisma and the migrated database are the same", async () => {
  const database = await readCatalog(db.admin);
  expect(differences(file, database)).toEqual([]);
  expect(database.size).toBeGreaterThanOrEqual(35);
});

describe("a drift is seen", () => {
  test.each([
    ["ALTER TABLE jobs ADD COLUMN colour text", "jobs.colour: the column is only in the database"],
    ["ALTER TABLE jobs DROP COLUMN hazard CASCADE", "jobs.hazard: the column is only in schema.prisma"],
    ["CREATE TABLE ladders (company_id uuid, id uuid)", "ladders: the table is only in the database"],
    ["DROP TABLE files", "files: the table is only in schema.prisma"],
    [
      "ALTER TABLE zones ALTER COLUMN width_ft TYPE numeric(9,4)",
      'zones.width_ft: the type is "numeric(8,4)" in schema.prisma, "numeric(9,4)" in the database',
    ],
    [
      "ALTER TABLE visits ALTER COLUMN notes DROP NOT NULL",
      "visits.notes: nullable is false in schema.prisma, true in the database",
    ],
    [
      "ALTER TABLE visits ALTER COLUMN minutes DROP DEFAULT",
      'visits.minutes: the default is "60" in schema.prisma, null in the database',
    ],
    [
      "ALTER TABLE visits ALTER COLUMN minutes SET DEFAULT 90",
      'visits.minutes: the default is "60" in schema.prisma, "90" in the database',
    ],
    [
      "ALTER TABLE estimates DROP CONSTRAINT estimates_company_id_job_id_key",
      'estimates: unique is ["company_id,job_id"] in schema.prisma, [] in the database',
    ],
    [
      "ALTER TABLE holds DROP CONSTRAINT holds_pkey, ADD PRIMARY KEY (id, company_id)",
      'holds: the primary key is ["company_id","id"] in schema.prisma, ["id","company_id"] in the database',
    ],
  ])("%s", async (change, words) => {
    await undone(db.admin, async (tx) => {
      await tx.query(change);
      expect(differences(file, await readCatalog(tx))).toContain(words);
    });
  });
});
