import { randomBytes } from "node:crypto";
import { cp, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { migrate } from "@ledgerboard/database/migrate";
import { createDatabase, dropDatabase } from "@ledgerboard/database/roles";
import {
  type BookMaterial,
  type LineRates,
  type PricingTerms,
  priceLine,
  type Recipe,
  resolveRecipe,
} from "@ledgerboard/estimating";
import { Decimal } from "decimal.js";
import pg from "pg";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { fillEveryTable } from "./rows.ts";
import { refusal } from "./scratch.ts";

/** What was priced before materials had packs and assemblies had recipes must price the same ever after. */

const FIRST = "20261125000000_first";
const ENGINE = "20261125120000_estimating_engine";
const A = "00000000-0000-7000-8000-00000000000a";
const B = "00000000-0000-7000-8000-00000000000b";
const TERMS: PricingTerms = {
  overheadBp: 1575,
  marginBp: 3333,
  materialTaxBp: 625,
  minimumChargeCents: 0,
  roundUpToCents: 0,
};

/** Rates as lines kept them before. */
interface OldRates {
  materialUnitCents: string;
  wasteBp: number;
  hoursPerUnit: string;
  laborRateCode: string;
  laborHourlyCents: number;
  laborBurdenBp: number;
}
const rates = (
  materialUnitCents: string,
  wasteBp: number,
  hoursPerUnit: string,
  laborHourlyCents = 3400,
  laborBurdenBp = 3200,
): OldRates => ({
  materialUnitCents,
  wasteBp,
  hoursPerUnit,
  laborRateCode: "carpenter",
  laborHourlyCents,
  laborBurdenBp,
});

const LINES: { quantity: string; unit: string; by: string; rates: OldRates | null }[] = [
  { quantity: "214.5", unit: "sqft", by: "us", rates: rates("420", 1000, "0.09") },
  { quantity: "37.25", unit: "lf", by: "us", rates: rates("35.1234", 500, "0.0333") },
  { quantity: "3", unit: "each", by: "us", rates: rates("0.0001", 0, "2.5") },
  { quantity: "99999.9999", unit: "each", by: "us", rates: rates("12.3456", 10_000, "0") },
  { quantity: "7", unit: "hour", by: "us", rates: rates("0", 0, "1") },
  { quantity: "1", unit: "lot", by: "us", rates: rates("5000000", 250, "1000", 100_000, 20_000) },
  { quantity: "0.0001", unit: "sqft", by: "us", rates: rates("0.5", 1, "0.5") },
  { quantity: "12", unit: "each", by: "owner", rates: rates("2850", 500, "1.5") },
  { quantity: "5", unit: "each", by: "us", rates: null },
];

const cents = (value: Decimal): Decimal => value.toDecimalPlaces(0, Decimal.ROUND_HALF_UP);
const share = (bp: number) => new Decimal(bp).div(10_000);

/** The rule by which lines were priced before, in words and with a decimal library. */
function oldPrice(line: (typeof LINES)[number]): { priceCents: number; hours: string } {
  if (!line.rates || line.by !== "us") return { priceCents: 0, hours: "0" };
  const { materialUnitCents, wasteBp, hoursPerUnit, laborHourlyCents, laborBurdenBp } = line.rates;
  const material = cents(new Decimal(line.quantity).times(share(wasteBp).plus(1)).times(materialUnitCents));
  const tax = cents(material.times(share(TERMS.materialTaxBp)));
  const hours = new Decimal(line.quantity).times(hoursPerUnit).toDecimalPlaces(4, Decimal.ROUND_HALF_UP);
  const labor = cents(hours.times(laborHourlyCents).times(share(laborBurdenBp).plus(1)));
  const direct = material.plus(tax).plus(labor);
  const cost = direct.plus(cents(direct.times(share(TERMS.overheadBp))));
  return {
    priceCents: cents(cost.div(new Decimal(1).minus(share(TERMS.marginBp)))).toNumber(),
    hours: hours.toString(),
  };
}

let name: string;
let url: string;
let db: pg.Pool;
let dir: string;
const migrationsUpTo = async (...names: string[]) => {
  for (const each of names) await cp(join("prisma/migrations", each), join(dir, each), { recursive: true });
  return migrate(url, { dir });
};

async function oldCompany(companyId: string): Promise<void> {
  const ids = await fillEveryTable(db, companyId);
  await db.query(
    "UPDATE price_books SET overhead_bp = $2, margin_bp = $3, material_tax_bp = $4 WHERE id = $1",
    [ids.get("price_books"), TERMS.overheadBp, TERMS.marginBp, TERMS.materialTaxBp],
  );
  await db.query(
    `INSERT INTO labor_rates (company_id, price_book_id, code, name, hourly_cents, burden_bp)
     VALUES ($1, $2, 'carpenter', 'Carpenter', 3400, 3200)`,
    [companyId, ids.get("price_books")],
  );
  for (const [i, line] of LINES.entries()) {
    await db.query(
      `INSERT INTO scope_lines (company_id, revision_id, lineage_id, position, zone_id, component, action, item_code,
                                description, quantity, unit, evidence, by, rates, price_cents, hours)
       VALUES ($1, $2, uuidv7(), $3, $4, 'tread', 'replace', $5, $6, $7, $8, 'counted', $9, $10, $11, $12)`,
      [
        companyId,
        ids.get("revisions"),
        10 + i,
        ids.get("zones"),
        i % 2 === 0 ? `ITEM-${i}` : null,
        i % 3 === 0 ? "" : `Work ${i}`,
        line.quantity,
        line.unit,
        line.by,
        line.rates && JSON.stringify(line.rates),
        oldPrice(line).priceCents,
        oldPrice(line).hours,
      ],
    );
    if (line.rates?.laborHourlyCents !== 3400) continue;
    await db.query(
      `INSERT INTO price_book_items (company_id, price_book_id, code, component, action, description, unit,
                                     material_unit_cents, waste_bp, hours_per_unit, labor_rate_code, retired_at)
       VALUES ($1, $2, $3, 'tread', 'replace', $4, $5, $6, $7, $8, 'carpenter', $9)`,
      [
        companyId,
        ids.get("price_books"),
        `ITEM-${i}`,
        `Work ${i}`,
        line.unit,
        line.rates.materialUnitCents,
        line.rates.wasteBp,
        line.rates.hoursPerUnit,
        i === 1 ? "2026-05-01T00:00:00Z" : null,
      ],
    );
  }
  // Issued: its lines may not change any more, but for their spelling in the migration.
  await db.query("UPDATE revisions SET issued_at = now() WHERE id = $1", [ids.get("revisions")]);
}

interface StoredLine {
  id: string;
  position: number;
  quantity: string;
  by: "us" | "owner" | "others";
  rates: LineRates | null;
  priceCents: number;
  hours: string;
  version: number;
  updatedAt: string;
}
const linesOf = async (companyId: string): Promise<StoredLine[]> =>
  (
    await db.query(
      `SELECT id, position, trim_scale(quantity)::text AS quantity, by, rates, price_cents AS "priceCents",
              trim_scale(hours)::text AS hours, version, updated_at::text AS "updatedAt"
       FROM scope_lines WHERE company_id = $1 ORDER BY position`,
      [companyId],
    )
  ).rows;

const before = new Map<string, StoredLine[]>();
const itemsBefore = new Map<string, { id: string; code: string; version: number }[]>();
beforeAll(async () => {
  name = `scratch_${randomBytes(6).toString("hex")}`;
  url = await createDatabase(inject("adminUrl"), name);
  dir = await mkdtemp(join(tmpdir(), "ledgerboard-migrations-"));
  db = new pg.Pool({ connectionString: url, max: 2 });
  db.on("error", () => undefined);
  expect((await migrationsUpTo(FIRST)).applied).toEqual([FIRST]);
  for (const companyId of [A, B]) {
    await oldCompany(companyId);
    before.set(companyId, await linesOf(companyId));
    const items = "SELECT id, code, version FROM price_book_items WHERE company_id = $1 ORDER BY code";
    itemsBefore.set(companyId, (await db.query(items, [companyId])).rows);
  }
  expect((await migrationsUpTo(FIRST, ENGINE)).applied).toEqual([ENGINE]);
});
afterAll(async () => {
  await db.end();
  await dropDatabase(inject("adminUrl"), name);
  await rm(dir, { recursive: true, force: true });
});

test.each([A, B])(
  "every line of company %s prices to the same cents and hours as before",
  async (companyId) => {
    const lines = (await linesOf(companyId)).filter((line) => line.position >= 10);
    expect(lines.length).toBe(LINES.length);
    for (const [i, line] of lines.entries()) {
      const was = LINES[i] as (typeof LINES)[number];
      const old = oldPrice(was);
      expect([i, line.quantity, line.rates === null]).toEqual([i, was.quantity, was.rates === null]);
      const { priceCents, hours } = priceLine(line, TERMS);
      expect({ i, priceCents, hours }).toEqual({ i, ...old });
    }
  },
);

test("nothing else of a line is touched: stored price, hours, version and day of change", async () => {
  for (const companyId of [A, B]) {
    const bare = (lines: StoredLine[] = []) => lines.map(({ rates: _rates, ...line }) => line);
    expect(bare(await linesOf(companyId))).toEqual(bare(before.get(companyId)));
  }
});

test("items become assemblies of the same id and version, priced as the items were", async () => {
  const read = async <T extends pg.QueryResultRow>(text: string, companyId: string): Promise<T[]> =>
    (await db.query<T>(text, [companyId])).rows;
  for (const companyId of [A, B]) {
    const assemblies = await read<{
      id: string;
      code: string;
      recipe: Recipe;
      retired: boolean;
      version: number;
    }>(
      "SELECT id, code, recipe, retired_at IS NOT NULL AS retired, version FROM assemblies WHERE company_id = $1 ORDER BY code",
      companyId,
    );
    const materials = await read<
      Pick<BookMaterial, "code" | "name" | "unit" | "packs"> & { retired: boolean }
    >(
      "SELECT code, name, unit, packs, retired_at IS NOT NULL AS retired FROM materials WHERE company_id = $1",
      companyId,
    );
    const laborRates = await read<{ code: string; hourlyCents: number; burdenBp: number }>(
      `SELECT code, hourly_cents AS "hourlyCents", burden_bp AS "burdenBp" FROM labor_rates WHERE company_id = $1`,
      companyId,
    );
    expect(assemblies.map(({ id, code, version }) => ({ id, code, version }))).toEqual(
      itemsBefore.get(companyId),
    );
    const book = {
      materials: materials.map((m) => ({ ...m, section: null, wholePacks: false })),
      laborRates,
    };
    let priced = 0;
    for (const { code, recipe, retired } of assemblies) {
      const line = LINES[Number(/^ITEM-(\d)$/.exec(code)?.[1] ?? -1)];
      if (!line) continue;
      const one = { quantity: "1", by: "us" as const, rates: resolveRecipe(recipe, book, { salt: false }) };
      const old = oldPrice({ ...line, quantity: "1", by: "us" });
      expect([code, priceLine(one, TERMS)]).toEqual([code, expect.objectContaining(old)]);
      expect([code, retired]).toEqual([code, code === "ITEM-1"]);
      priced += 1;
    }
    expect(priced).toBe(7);
    expect(materials.filter((m) => m.retired).map((m) => m.code)).toEqual(["ITEM-1"]);
    // Labor alone takes no material.
    expect(materials.some((m) => m.code === "ITEM-4")).toBe(false);
  }
  const { rows } = await db.query("SELECT to_regclass('price_book_items') AS old");
  expect(rows).toEqual([{ old: null }]);
});

test("the tables are shut again: policies forced, triggers back, issued lines refused", async () => {
  const { rows: forced } = await db.query(
    `SELECT relname, relrowsecurity AND relforcerowsecurity AS forced FROM pg_class
     WHERE relname IN ('scope_lines', 'materials', 'assemblies') ORDER BY 1`,
  );
  expect(forced.map((r) => [r.relname, r.forced])).toEqual([
    ["assemblies", true],
    ["materials", true],
    ["scope_lines", true],
  ]);
  const { rows: triggers } = await db.query(
    "SELECT tgname, tgenabled FROM pg_trigger WHERE tgrelid = 'scope_lines'::regclass AND NOT tgisinternal",
  );
  expect(triggers.map((t) => t.tgname)).toEqual(expect.arrayContaining(["issued_stays", "touch"]));
  expect(triggers.filter((t) => t.tgenabled !== "O")).toEqual([]);
  const change = db.query("UPDATE scope_lines SET description = 'changed' WHERE company_id = $1", [A]);
  expect(await refusal(change)).toMatchObject({ code: "LB001" });
});
