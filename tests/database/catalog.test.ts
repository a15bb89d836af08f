import {
  ACTIONS,
  ADVISORY_DECISIONS,
  CLOSE_REASONS,
  COMPONENTS,
  company,
  DOERS,
  EVIDENCE,
  jobs,
  LEAD_SOURCES,
  MATERIAL_UNITS,
  PAYMENT_KINDS,
  PAYMENT_METHODS,
  PLACED_HOLDS,
  REASONS,
  REVISION_KINDS,
  ROLES,
  SIGNING_PLACES,
  STAGES,
  UNITS,
  VISIT_KINDS,
  ZONE_KINDS,
} from "@ledgerboard/contracts";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import {
  APPEND_ONLY,
  checkedLists,
  foreignKeyFaults,
  indexFaults,
  keyFaults,
  policyFaults,
  roleFaults,
  tenantTables,
} from "./catalog-rules.ts";
import { openScratch, type Scratch } from "./scratch.ts";

const VOCABULARY: Record<string, readonly string[]> = {
  "acceptances.signed_at": SIGNING_PLACES,
  "advisories.component": COMPONENTS,
  "advisories.decision": ADVISORY_DECISIONS,
  "assemblies.action": ACTIONS,
  "assemblies.component": COMPONENTS,
  "assemblies.unit": UNITS,
  "holds.hold": PLACED_HOLDS,
  "jobs.closed_reason": CLOSE_REASONS,
  "jobs.stage": STAGES,
  "leads.source": LEAD_SOURCES,
  "materials.unit": MATERIAL_UNITS,
  "members.roles": ROLES,
  "observations.component": COMPONENTS,
  "observations.evidence": EVIDENCE,
  "outbox_messages.state": company.outboxMessage.shape.state.options,
  "payments.kind": PAYMENT_KINDS,
  "payments.method": PAYMENT_METHODS,
  "quote_endings.kind": ["superseded", "declined", "withdrawn"],
  "revisions.kind": REVISION_KINDS,
  "scope_lines.action": ACTIONS,
  "scope_lines.by": DOERS,
  "scope_lines.component": COMPONENTS,
  "scope_lines.evidence": EVIDENCE,
  "scope_lines.reason_code": REASONS,
  "scope_lines.unit": UNITS,
  "visits.kind": VISIT_KINDS,
  "visits.state": jobs.visit.shape.state.options,
  "zones.evidence": EVIDENCE,
  "zones.kind": ZONE_KINDS,
};

let db: Scratch;
beforeAll(async () => {
  db = await openScratch();
});
afterAll(() => db.drop());

describe("the migrated database", () => {
  test("keys every tenant table by (company_id, id)", async () => {
    expect(await keyFaults(db.admin)).toEqual([]);
    // The rule would hold of an empty database too.
    expect((await tenantTables(db.admin)).length).toBeGreaterThanOrEqual(35);
  });

  test("carries company_id in every foreign key", async () => {
    expect(await foreignKeyFaults(db.admin)).toEqual([]);
  });

  test("is unique per company only, and every index begins with the company", async () => {
    expect(await indexFaults(db.admin)).toEqual([]);
  });

  test("binds every tenant table by forced row-level security, reading and writing", async () => {
    expect(await policyFaults(db.admin)).toEqual([]);
  });

  test("gives the program's role no more than it needs", async () => {
    expect(await roleFaults(db.admin, APPEND_ONLY)).toEqual([]);
  });

  test("lists the append-only tables in full: whatever the role may not change is one of them", async () => {
    const { rows } = await db.admin.query<{ name: string }>(
      `SELECT c.relname AS name FROM pg_class c WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r'
         AND has_table_privilege('ledgerboard_app', c.oid, 'SELECT')
         AND NOT has_any_column_privilege('ledgerboard_app', c.oid, 'UPDATE') ORDER BY 1`,
    );
    expect(rows.map((r) => r.name)).toEqual(APPEND_ONLY);
  });

  test("checks exactly the words of the vocabulary", async () => {
    const lists = Object.fromEntries([...(await checkedLists(db.admin))].map(([k, v]) => [k, [...v].sort()]));
    const wanted = Object.fromEntries(Object.entries(VOCABULARY).map(([k, v]) => [k, [...v].sort()]));
    expect(lists).toEqual(wanted);
  });
});

describe("the rules themselves, on a database made wrong on purpose", () => {
  let bad: Scratch;
  beforeAll(async () => {
    bad = await openScratch();
    await bad.admin.query(`
      CREATE TABLE wrong_key (company_id uuid NOT NULL, id uuid PRIMARY KEY, code text UNIQUE, job_id uuid);
      CREATE TABLE no_tenant (id uuid PRIMARY KEY);
      ALTER TABLE jobs ADD CONSTRAINT jobs_id_only UNIQUE (id);
      ALTER TABLE wrong_key ADD CONSTRAINT across FOREIGN KEY (job_id) REFERENCES jobs (id);
      CREATE INDEX jobs_by_title ON jobs (title, company_id);
      CREATE TABLE half_bound (company_id uuid NOT NULL, id uuid, PRIMARY KEY (company_id, id));
      ALTER TABLE half_bound ENABLE ROW LEVEL SECURITY;
      CREATE POLICY tenant ON half_bound
        USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (true);
      CREATE POLICY wide ON customers FOR SELECT USING (true);
      ALTER TABLE crews NO FORCE ROW LEVEL SECURITY;
      GRANT TRUNCATE ON crews TO ledgerboard_app;
      GRANT UPDATE (words) ON audit_entries TO ledgerboard_app;
      GRANT DELETE ON payments TO ledgerboard_app;
      GRANT SELECT (key) ON tenant_routes TO ledgerboard_app;
      CREATE TABLE owned (company_id uuid, id uuid);
      ALTER TABLE owned OWNER TO ledgerboard_app;
      CREATE FUNCTION peek() RETURNS SETOF tenant_routes LANGUAGE sql SECURITY DEFINER AS 'SELECT * FROM tenant_routes';
      ALTER TABLE holds DROP CONSTRAINT holds_hold_known;
      ALTER TABLE holds ADD CONSTRAINT holds_hold_known CHECK (hold IN ('permit', 'weather', 'mood'));
    `);
  });
  // The role is the server's, so what it owns here is given back with the database.
  afterAll(() => bad.drop());

  test("a wrong or missing key", async () => {
    expect(await keyFaults(bad.admin)).toEqual([
      "no_tenant: no company_id",
      "owned: primary key (none)",
      "wrong_key: primary key (id)",
    ]);
  });

  test("a foreign key across companies", async () => {
    expect(await foreignKeyFaults(bad.admin)).toEqual([
      "wrong_key: foreign key across without company_id on both sides",
    ]);
  });

  test("a unique key across companies and an index led by something else", async () => {
    expect(await indexFaults(bad.admin)).toEqual([
      "jobs: index jobs_by_title begins with title",
      "jobs: jobs_id_only is unique across companies",
      "no_tenant: no_tenant_pkey is unique across companies",
      "wrong_key: wrong_key_code_key is unique across companies",
      "wrong_key: wrong_key_pkey is unique across companies",
    ]);
  });

  test("policies that are missing, wide or not forced", async () => {
    const faults = await policyFaults(bad.admin);
    expect(faults).toContain("crews: row-level security is not forced");
    expect(faults).toContain("customers: policy wide lets others' rows be seen");
    expect(faults).toContain("half_bound: policy tenant lets others' rows be written");
    expect(faults).toContain("half_bound: row-level security is not forced");
    expect(faults).toContain("wrong_key: row-level security is off");
    expect(faults).toContain("wrong_key: no policy for every command");
  });

  test("rights too many", async () => {
    const faults = await roleFaults(bad.admin, APPEND_ONLY);
    expect(faults).toContain("ledgerboard_app: owns");
    expect(faults).toContain("ledgerboard_app may truncate crews");
    expect(faults).toContain("ledgerboard_app may update audit_entries");
    expect(faults).toContain("ledgerboard_app may delete payments");
    expect(faults).toContain("ledgerboard_app may select tenant_routes");
    expect(faults).toContain("peek: runs as its owner for everybody");
    expect(faults).toContain("peek: runs as its owner with the caller's search_path");
    expect(faults).toContain("ledgerboard_app may call peek, which runs as its owner");
  });

  test("a word the vocabulary does not know", async () => {
    expect((await checkedLists(bad.admin)).get("holds.hold")).toEqual(["permit", "weather", "mood"]);
  });
});
