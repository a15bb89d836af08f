import { createHash } from "node:crypto";
import type pg from "pg";
import { checkedLists, tenantTables } from "./catalog-rules.ts";

interface Column {
  table: string;
  column: string;
  type: string;
  required: boolean;
  generated: boolean;
}
export interface ForeignKey {
  name: string;
  table: string;
  columns: string[];
  target: string;
  targetColumns: string[];
}

/** Foreign keys between tenant tables, from the catalog. */
export async function foreignKeys(db: pg.Pool): Promise<ForeignKey[]> {
  const { rows } = await db.query<ForeignKey>(
    `SELECT f.conname AS name, f.conrelid::regclass::text AS table, f.confrelid::regclass::text AS target,
       array_agg(a.attname ORDER BY k.n)::text[] AS columns, array_agg(b.attname ORDER BY k.n)::text[] AS "targetColumns"
     FROM pg_constraint f, unnest(f.conkey, f.confkey) WITH ORDINALITY k (here, there, n), pg_attribute a, pg_attribute b
     WHERE f.contype = 'f' AND f.connamespace = 'public'::regnamespace
       AND a.attrelid = f.conrelid AND a.attnum = k.here AND b.attrelid = f.confrelid AND b.attnum = k.there
     GROUP BY f.oid, f.conname, f.conrelid, f.confrelid ORDER BY 2, 1`,
  );
  return rows;
}

async function columns(db: pg.Pool): Promise<Column[]> {
  const { rows } = await db.query<Column>(
    `SELECT c.relname AS table, a.attname AS column, format_type(a.atttypid, NULL) AS type,
       a.attnotnull AND NOT a.atthasdef AS required, a.attgenerated <> '' AS generated
     FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped
     WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r' ORDER BY 1, a.attnum`,
  );
  return rows;
}

/** Columns whose form a check constraint asks for, beyond what their type says. */
function shaped(table: string, column: string, salt: string): unknown {
  const hash = createHash("sha256").update(`${table}${column}${salt}`).digest("hex");
  if (/sha256|token_hash|request_hash|password_hash/.test(column)) return hash;
  const named: Record<string, unknown> = {
    "companies.state": "MD",
    "companies.timezone": "America/New_York",
    "members.email": `${hash.slice(0, 8)}@place.example`,
    "members.roles": ["owner"],
    "invitations.roles": ["sales"],
    "calendars.weekdays": [1, 2, 3, 4, 5],
    "payments.kind": "receipt",
    "audit_entries.entity_id": "00000000-0000-7000-8000-000000000001",
    "scope_lines.lineage_id": "00000000-0000-7000-8000-000000000002",
  };
  return named[`${table}.${column}`];
}

function byType(type: string, salt: string): unknown {
  if (type === "text") return `text ${salt}`;
  if (type === "integer" || type === "numeric") return 7;
  if (type === "boolean") return true;
  if (type === "date") return "2026-11-30";
  if (type === "timestamp with time zone") return "2026-11-30T12:00:00Z";
  if (type === "jsonb") return "{}";
  if (type.endsWith("[]")) return [];
  throw new Error(`No example value for the type ${type}; add one here.`);
}

/** Columns that would change what the row means: a reversal, a merge, an issued revision. */
const LEFT_EMPTY = new Set(["payments.reverses_id", "customers.merged_into_id", "revisions.based_on_id"]);

/**
 * One row in every tenant table for one company, made from the catalog, so that a new table is covered as soon as
 * it exists. Optional references are filled too. Returns the id per table.
 */
export async function fillEveryTable(db: pg.Pool, companyId: string): Promise<Map<string, string>> {
  const salt = companyId.slice(-12);
  const [all, keys, lists, tables] = await Promise.all([
    columns(db),
    foreignKeys(db),
    checkedLists(db),
    tenantTables(db),
  ]);
  const made = new Map<string, Record<string, unknown>>();
  const pending = new Set(tables);
  while (pending.size > 0) {
    const table = [...pending].find((t) =>
      keys.every((k) => k.table !== t || k.target === t || made.has(k.target)),
    );
    if (!table) throw new Error(`These tables point at each other in a ring: ${[...pending].join(", ")}.`);
    const values: Record<string, unknown> = { company_id: companyId };
    if (table === "companies") values.id = companyId;
    for (const key of keys.filter((k) => k.table === table && k.target !== table)) {
      key.columns.forEach((column, i) => {
        if (column !== "company_id") values[column] = made.get(key.target)?.[key.targetColumns[i] ?? ""];
      });
    }
    for (const { column, type, required } of all.filter((c) => c.table === table && !c.generated)) {
      if (LEFT_EMPTY.has(`${table}.${column}`)) delete values[column];
      else if (required && values[column] === undefined) {
        values[column] =
          shaped(table, column, salt) ?? lists.get(`${table}.${column}`)?.[0] ?? byType(type, salt);
      }
    }
    const names = Object.keys(values);
    const { rows } = await db.query(
      `INSERT INTO ${table} (${names.map((n) => `"${n}"`).join(", ")}) VALUES (${names.map((_, i) => `$${i + 1}`).join(", ")}) RETURNING *`,
      Object.values(values),
    );
    made.set(table, rows[0]);
    pending.delete(table);
  }
  return new Map([...made].map(([table, row]) => [table, row.id as string]));
}
