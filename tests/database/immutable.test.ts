import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { APPEND_ONLY, tenantTables } from "./catalog-rules.ts";
import { fillEveryTable } from "./rows.ts";
import { openScratch, refusal, type Scratch, undone } from "./scratch.ts";

const COMPANY = "00000000-0000-7000-8000-00000000000a";
let db: Scratch;
let ids: Map<string, string>;
beforeAll(async () => {
  db = await openScratch();
  ids = await fillEveryTable(db.admin, COMPANY);
});
afterAll(() => db.drop());

const where = (table: string): string => `company_id = '${COMPANY}' AND id = '${ids.get(table)}'`;

describe("append-only tables refuse, even the superuser who owns them", () => {
  test.each(APPEND_ONLY)("%s", async (table) => {
    const changes = {
      update: `UPDATE ${table} SET created_at = created_at WHERE ${where(table)}`,
      delete: `DELETE FROM ${table} WHERE ${where(table)}`,
      truncate: `TRUNCATE ${table} CASCADE`,
    };
    for (const [change, text] of Object.entries(changes)) {
      expect(await refusal(db.admin.query(text))).toEqual({
        code: "LB001",
        message: `append-only: ${change} of ${table} refused`,
      });
    }
    const { rows } = await db.admin.query(`SELECT version FROM ${table} WHERE ${where(table)}`);
    expect(rows).toEqual([{ version: 1 }]);
  });
});

describe("an issued revision", () => {
  const revision = () => `UPDATE revisions SET note = 'changed' WHERE ${where("revisions")}`;
  const line = () => `UPDATE scope_lines SET description = 'changed' WHERE ${where("scope_lines")}`;

  test("may change, with its lines, while it is a draft", async () => {
    await undone(db.admin, async (tx) => {
      expect((await tx.query(revision())).rowCount).toBe(1);
      expect((await tx.query(line())).rowCount).toBe(1);
      expect((await tx.query(`DELETE FROM scope_lines WHERE ${where("scope_lines")}`)).rowCount).toBe(1);
    });
  });

  test.each([
    ["changed", revision],
    ["taken back to a draft", () => `UPDATE revisions SET issued_at = NULL WHERE ${where("revisions")}`],
    ["removed", () => `DELETE FROM revisions WHERE ${where("revisions")}`],
    ["emptied with its table", () => "TRUNCATE revisions CASCADE"],
    ["changed by a line", line],
    ["relieved of a line", () => `DELETE FROM scope_lines WHERE ${where("scope_lines")}`],
    ["emptied with the table of its lines", () => "TRUNCATE scope_lines CASCADE"],
    [
      "given another line",
      () => `INSERT INTO scope_lines (company_id, revision_id, lineage_id, position, zone_id, component, action, quantity, unit, evidence)
        VALUES ('${COMPANY}', '${ids.get("revisions")}', uuidv7(), 2, '${ids.get("zones")}', 'tread', 'replace', 1, 'each', 'counted')`,
    ],
  ])("is not %s", async (_what, text) => {
    await undone(db.admin, async (tx) => {
      // Issuing is the last change a draft takes.
      await tx.query(`UPDATE revisions SET issued_at = now() WHERE ${where("revisions")}`);
      expect(await refusal(tx.query(text()))).toMatchObject({ code: "LB001" });
    });
  });

  test("is not given a line that was begun while it was a draft and committed after", async () => {
    const writer = await db.admin.connect();
    const issuer = await db.admin.connect();
    try {
      await writer.query("BEGIN");
      await writer.query(
        `INSERT INTO scope_lines (company_id, revision_id, lineage_id, position, zone_id, component, action, quantity, unit, evidence)
         VALUES ('${COMPANY}', '${ids.get("revisions")}', uuidv7(), 3, '${ids.get("zones")}', 'tread', 'replace', 1, 'each', 'counted')`,
      );
      await issuer.query("BEGIN; SET LOCAL lock_timeout = '300ms'");
      // Issuing has to wait for the line; were it taken at once, the line would land in an issued revision.
      const issued = issuer.query(`UPDATE revisions SET issued_at = now() WHERE ${where("revisions")}`);
      expect(await refusal(issued)).toMatchObject({ code: "55P03" });
    } finally {
      await issuer.query("ROLLBACK");
      await writer.query("ROLLBACK");
      issuer.release();
      writer.release();
    }
  });

  test("does not take in a line of a draft", async () => {
    await undone(db.admin, async (tx) => {
      const { rows } = await tx.query(
        `INSERT INTO revisions (company_id, estimate_id, job_id, number, kind, price_book_id, overhead_bp, margin_bp, material_tax_bp, author_id, issued_at)
         SELECT company_id, estimate_id, job_id, number + 1, kind, price_book_id, 0, 0, 0, author_id, now()
         FROM revisions WHERE ${where("revisions")} RETURNING id`,
      );
      const move = `UPDATE scope_lines SET revision_id = '${rows[0].id}' WHERE ${where("scope_lines")}`;
      expect(await refusal(tx.query(move))).toMatchObject({ code: "LB001" });
    });
  });
});

/** Only changes of these columns count: noting a sign-in on a member is no change others have to be told of. */
const COUNTED: Record<string, string[]> = { members: ["active", "email", "name", "password_hash", "roles"] };

test("every change of every other table raises its version by one and dates it", async () => {
  const changing = (await tenantTables(db.admin)).filter((t) => !APPEND_ONLY.includes(t));
  expect(changing.length).toBeGreaterThanOrEqual(20);
  for (const table of changing) {
    for (const column of COUNTED[table] ?? ["id"]) {
      await undone(db.admin, async (tx) => {
        // A writer who sets the version himself does not get his way.
        const set = `version = 40, updated_at = 'yesterday', "${column}" = "${column}"`;
        await tx.query(`UPDATE ${table} SET ${set} WHERE ${where(table)}`);
        const { rows } = await tx.query(
          `SELECT version, updated_at = now() AS dated FROM ${table} WHERE ${where(table)}`,
        );
        expect({ table, column, ...rows[0] }).toEqual({ table, column, version: 2, dated: true });
      });
    }
  }
});

test("the columns that count are these, and in every other table all of them", async () => {
  const { rows } = await db.admin.query(
    `SELECT t.tgrelid::regclass::text AS table, array_agg(a.attname ORDER BY a.attname)::text[] AS columns
     FROM pg_trigger t JOIN pg_attribute a ON a.attrelid = t.tgrelid AND a.attnum = ANY (t.tgattr)
     WHERE t.tgname = 'touch' GROUP BY t.tgrelid`,
  );
  expect(Object.fromEntries(rows.map((r) => [r.table, r.columns]))).toEqual(COUNTED);
  await undone(db.admin, async (tx) => {
    await tx.query(`UPDATE members SET last_seen_at = now(), failed_sign_ins = 3 WHERE ${where("members")}`);
    const seen = await tx.query(`SELECT version FROM members WHERE ${where("members")}`);
    expect(seen.rows).toEqual([{ version: 1 }]);
  });
});
