import type pg from "pg";

/** Tables that belong to no tenant, each with the reason. A new one has to be written here to pass. */
export const NOT_TENANT = new Map([
  ["tenant_routes", "the door table: asked before the tenant is known, closed to the app role"],
  ["_prisma_migrations", "the record of applied migrations"],
]);
/** The one unique index without a company: a form address names one company. */
export const UNIQUE_ACROSS_COMPANIES = new Set(["tenant_routes_slug"]);
/** What is only ever added to: kept apart from the catalog, so that a trigger or grant gone missing is seen. */
export const APPEND_ONLY = [
  "acceptance_voids",
  "acceptances",
  "audit_entries",
  "deposit_requests",
  "files",
  "finding_passes",
  "leads",
  "materiality_policies",
  "observations",
  "payments",
  "promises",
  "quote_endings",
  "quotes",
  "variance_waivers",
  "variances",
];
export const APP_ROLE = "ledgerboard_app";

const TENANT = "nullif(current_setting('app.company_id', true), '')::uuid";

/** Expressions as PostgreSQL prints them and as people write them, made comparable. */
export const plain = (sql: string): string =>
  sql
    .toLowerCase()
    .replaceAll("::text", "")
    .replace(/[()\s]/g, "");

const rows = async <R extends pg.QueryResultRow>(db: pg.Pool, text: string): Promise<R[]> =>
  (await db.query<R>(text)).rows;

/** Tables of the schema `public` that carry company_id and are bound by the rules, in order of name. */
export async function tenantTables(db: pg.Pool): Promise<string[]> {
  const found = await rows<{ name: string }>(
    db,
    `SELECT c.relname AS name FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid AND a.attname = 'company_id'
     WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p') AND NOT a.attisdropped ORDER BY 1`,
  );
  return found.map((r) => r.name).filter((name) => !NOT_TENANT.has(name));
}

/** Every table is a tenant's with key (company_id, id), or listed as none. */
export async function keyFaults(db: pg.Pool): Promise<string[]> {
  const found = await rows<{ name: string; tenant: boolean; key: string | null }>(
    db,
    `SELECT c.relname AS name,
       EXISTS (SELECT FROM pg_attribute a WHERE a.attrelid = c.oid AND a.attname = 'company_id' AND NOT a.attisdropped) AS tenant,
       (SELECT string_agg(a.attname, ',' ORDER BY k.n)
          FROM pg_constraint p, unnest(p.conkey) WITH ORDINALITY k (num, n), pg_attribute a
          WHERE p.conrelid = c.oid AND p.contype = 'p' AND a.attrelid = c.oid AND a.attnum = k.num) AS key
     FROM pg_class c WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p') ORDER BY 1`,
  );
  return found
    .filter((t) => !NOT_TENANT.has(t.name))
    .flatMap((t) => {
      if (!t.tenant) return [`${t.name}: no company_id`];
      return t.key === "company_id,id" ? [] : [`${t.name}: primary key (${t.key ?? "none"})`];
    });
}

/** Every foreign key pairs company_id with company_id. */
export async function foreignKeyFaults(db: pg.Pool): Promise<string[]> {
  const found = await rows<{ name: string; table: string; pairs: string[] }>(
    db,
    `SELECT f.conname AS name, f.conrelid::regclass::text AS table,
       array_agg(a.attname || '=' || b.attname) AS pairs
     FROM pg_constraint f, unnest(f.conkey, f.confkey) k (here, there), pg_attribute a, pg_attribute b
     WHERE f.contype = 'f' AND f.connamespace = 'public'::regnamespace
       AND a.attrelid = f.conrelid AND a.attnum = k.here AND b.attrelid = f.confrelid AND b.attnum = k.there
     GROUP BY f.oid, f.conname, f.conrelid ORDER BY 2, 1`,
  );
  return found
    .filter((f) => !f.pairs.includes("company_id=company_id"))
    .map((f) => `${f.table}: foreign key ${f.name} without company_id on both sides`);
}

/** Unique means unique within a company, and every index begins with the company. */
export async function indexFaults(db: pg.Pool): Promise<string[]> {
  const found = await rows<{ table: string; name: string; unique: boolean; columns: (string | null)[] }>(
    db,
    `SELECT c.relname AS table, i.relname AS name, x.indisunique AS unique,
       array(SELECT a.attname FROM unnest(x.indkey[0:x.indnkeyatts - 1]) WITH ORDINALITY k (num, n)
             LEFT JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum = k.num ORDER BY k.n)::text[] AS columns
     FROM pg_index x JOIN pg_class c ON c.oid = x.indrelid JOIN pg_class i ON i.oid = x.indexrelid
     WHERE c.relnamespace = 'public'::regnamespace ORDER BY 1, 2`,
  );
  return found.flatMap(({ table, name, unique, columns }) => {
    if (NOT_TENANT.has(table)) {
      const apart = unique && table === "tenant_routes" && !columns.includes("company_id");
      return apart && !UNIQUE_ACROSS_COMPANIES.has(name)
        ? [`${table}: ${name} is unique across companies`]
        : [];
    }
    if (unique && !columns.includes("company_id")) return [`${table}: ${name} is unique across companies`];
    return columns[0] === "company_id" ? [] : [`${table}: index ${name} begins with ${columns[0]}`];
  });
}

/** Row-level security is on, forced, and every policy ties both what is seen and what is written to the tenant. */
export async function policyFaults(db: pg.Pool): Promise<string[]> {
  const found = await rows<{
    name: string;
    on: boolean;
    forced: boolean;
    policies: { name: string; cmd: string; qual: string | null; check: string | null }[];
  }>(
    db,
    `SELECT c.relname AS name, c.relrowsecurity AS on, c.relforcerowsecurity AS forced,
       (SELECT coalesce(json_agg(json_build_object('name', p.polname, 'cmd', p.polcmd,
          'qual', pg_get_expr(p.polqual, p.polrelid), 'check', pg_get_expr(p.polwithcheck, p.polrelid))), '[]')
        FROM pg_policy p WHERE p.polrelid = c.oid) AS policies
     FROM pg_class c WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p') ORDER BY 1`,
  );
  const wanted = plain(`company_id = ${TENANT}`);
  return found
    .filter((t) => !NOT_TENANT.has(t.name))
    .flatMap((t) => [
      ...(t.on ? [] : [`${t.name}: row-level security is off`]),
      ...(t.forced ? [] : [`${t.name}: row-level security is not forced`]),
      ...(t.policies.some((p) => p.cmd === "*") ? [] : [`${t.name}: no policy for every command`]),
      ...t.policies.flatMap((p) => [
        ...(plain(p.qual ?? "") === wanted ? [] : [`${t.name}: policy ${p.name} lets others' rows be seen`]),
        ...(plain(p.check ?? "") === wanted
          ? []
          : [`${t.name}: policy ${p.name} lets others' rows be written`]),
      ]),
    ]);
}

/** The program's role owns nothing, is bound by the policies, and has no more rights than it needs. */
export async function roleFaults(db: pg.Pool, appendOnly: readonly string[]): Promise<string[]> {
  const role = `'${APP_ROLE}'`;
  const faults: string[] = [];
  const [flags] = await rows<Record<string, boolean>>(
    db,
    `SELECT rolsuper, rolbypassrls, rolcreatedb, rolcreaterole, rolreplication,
       EXISTS (SELECT FROM pg_auth_members m WHERE m.member = r.oid) AS in_other_roles,
       EXISTS (SELECT FROM pg_shdepend d WHERE d.refclassid = 'pg_authid'::regclass AND d.refobjid = r.oid AND d.deptype = 'o'
         AND d.dbid IN (0, (SELECT oid FROM pg_database WHERE datname = current_database()))) AS owns,
       has_schema_privilege(r.oid, 'public', 'CREATE') AS creates_in_public
     FROM pg_roles r WHERE rolname = ${role}`,
  );
  if (!flags) return [`${APP_ROLE} does not exist`];
  for (const [flag, on] of Object.entries(flags)) if (on) faults.push(`${APP_ROLE}: ${flag}`);

  const tables = await rows<{ name: string } & Record<string, boolean>>(
    db,
    `SELECT c.relname AS name,
       has_any_column_privilege(${role}, c.oid, 'SELECT') AS select, has_any_column_privilege(${role}, c.oid, 'INSERT') AS insert,
       has_any_column_privilege(${role}, c.oid, 'UPDATE') AS update, has_table_privilege(${role}, c.oid, 'DELETE') AS delete,
       has_table_privilege(${role}, c.oid, 'TRUNCATE') AS truncate, has_table_privilege(${role}, c.oid, 'TRIGGER') AS trigger,
       has_table_privilege(${role}, c.oid, 'REFERENCES') AS "references"
     FROM pg_class c WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p') ORDER BY 1`,
  );
  for (const table of tables) {
    const refused = NOT_TENANT.has(table.name)
      ? ["select", "insert", "update", "delete", "truncate", "trigger", "references"]
      : [
          "truncate",
          "trigger",
          "references",
          ...(appendOnly.includes(table.name) ? ["update", "delete"] : []),
        ];
    for (const right of refused) if (table[right]) faults.push(`${APP_ROLE} may ${right} ${table.name}`);
  }

  const definers = await rows<{ name: string; path: boolean; may: boolean; everybody: boolean }>(
    db,
    `SELECT p.proname AS name, coalesce(array_to_string(p.proconfig, ','), '') LIKE '%search_path=%' AS path,
       has_function_privilege(${role}, p.oid, 'EXECUTE') AS may,
       EXISTS (SELECT FROM aclexplode(coalesce(p.proacl, acldefault('f', p.proowner))) x WHERE x.grantee = 0) AS everybody
     FROM pg_proc p WHERE p.prosecdef AND p.pronamespace = 'public'::regnamespace ORDER BY 1`,
  );
  for (const { name, path, may, everybody } of definers) {
    if (!path) faults.push(`${name}: runs as its owner with the caller's search_path`);
    if (everybody) faults.push(`${name}: runs as its owner for everybody`);
    if (may && name !== "find_companies")
      faults.push(`${APP_ROLE} may call ${name}, which runs as its owner`);
  }
  return faults;
}

/** Word lists the database checks: "jobs.stage" -> its values, in the order of the check. */
export async function checkedLists(db: pg.Pool): Promise<Map<string, string[]>> {
  const found = await rows<{ table: string; text: string }>(
    db,
    `SELECT conrelid::regclass::text AS table, pg_get_constraintdef(oid) AS text
     FROM pg_constraint WHERE contype = 'c' AND connamespace = 'public'::regnamespace`,
  );
  const lists = new Map<string, string[]>();
  for (const { table, text } of found) {
    const match = /"?(\w+)"?\s*(?:= ANY|<@) \(?(?:\()?ARRAY\[([^\]]*)\]/.exec(text);
    if (!match?.[1]) continue;
    lists.set(
      `${table}.${match[1]}`,
      [...(match[2] ?? "").matchAll(/'((?:[^']|'')*)'/g)].map((m) => m[1] ?? ""),
    );
  }
  return lists;
}
