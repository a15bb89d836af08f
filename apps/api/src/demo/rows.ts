import type { TenantDb } from "@ledgerboard/database";

/** In an order in which every row finds what it points at. */
const TABLES = [
  "customers",
  "properties",
  "jobs",
  "leads",
  "promises",
  "zones",
  "visits",
  "observations",
  "estimates",
  "revisions",
  "scope_lines",
  "advisories",
  "variances",
  "quotes",
  "quote_endings",
  "acceptances",
  "acceptance_voids",
  "deposit_requests",
  "payments",
  "bookings",
  "holds",
  "audit_entries",
  "outbox_messages",
  "calendar_closures",
  "number_sequences",
] as const;
type Table = (typeof TABLES)[number];
/** Written before the story begins. */
type OpeningTable = "companies" | "members" | "calendars" | "materiality_policies";

/** Column names and values; a function stands for a value that is known only when the whole story is told. */
export type Row = Record<string, unknown>;

/** What the story will write, gathered by table. */
export class Rows {
  readonly #byTable = new Map<Table, Row[]>();
  readonly #issued: Row[] = [];

  /** All rows of one table must name the same columns. */
  add(table: Table, row: Row): Row {
    const rows = this.#byTable.get(table);
    if (rows) rows.push(row);
    else this.#byTable.set(table, [row]);
    return row;
  }

  /** A revision takes lines only while it is a draft, so it is issued after they are written. */
  issue(revision: { id: string; issued_at: string; issued_by_id: string }): void {
    this.#issued.push(revision);
  }

  /**
   * Writes everything. Rows go in as they are, not through the services: those stamp the present moment on what they
   * write, and two years of history would take half a minute.
   */
  async write(db: TenantDb): Promise<void> {
    for (const table of TABLES) {
      const rows = this.#byTable.get(table);
      if (rows) await insert(db, table, rows.map(settled));
    }
    await db.sql`
      UPDATE revisions r SET issued_at = i.issued_at, issued_by_id = i.issued_by_id
      FROM jsonb_to_recordset(${JSON.stringify(this.#issued)}::jsonb) AS i (id uuid, issued_at timestamptz, issued_by_id uuid)
      WHERE r.company_id = ${db.companyId} AND r.id = i.id`;
  }
}

const settled = (row: Row): Row =>
  Object.fromEntries(
    Object.entries(row).map(([key, value]) => [key, typeof value === "function" ? value() : value]),
  );

/** One statement a table. Its text is made of names written in this program alone; every value is a parameter. */
export async function insert(db: TenantDb, table: Table | OpeningTable, rows: readonly Row[]): Promise<void> {
  const columns = Object.keys(rows[0] ?? {}).join(", ");
  const text = [
    `INSERT INTO ${table} (company_id, ${columns}) SELECT `,
    `::uuid, ${columns} FROM jsonb_populate_recordset(NULL::${table}, `,
    "::jsonb)",
  ];
  await db.sql(Object.assign(text, { raw: text }), db.companyId, JSON.stringify(rows));
}
