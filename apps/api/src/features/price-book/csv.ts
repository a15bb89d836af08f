import type { priceBook as contract, Input, Output } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { assemblyList } from "./csv-assemblies.ts";
import type { ListFormat } from "./csv-format.ts";
import { laborList } from "./csv-labor.ts";
import { materialList } from "./csv-materials.ts";
import { type Fault, readCsv, writeCsv } from "./csv-text.ts";
import { type BookContents, findBook, readContents } from "./queries.ts";
import { takeBook } from "./taking.ts";

type Body = Input<typeof contract.importPrices>["body"];
type Outcome = Output<typeof contract.importPrices>;
type Change = Outcome["changes"][number];

/** Past so many faults a person starts again from an export. */
const MAX_FAULTS = 100;

/** One list of a price book as a file that importPrices reads back unchanged. */
export async function exportPrices(
  db: TenantDb,
  today: string,
  bookId: string,
  list: Body["list"],
): Promise<Output<typeof contract.exportPrices>> {
  const terms = await findBook(db, today, bookId);
  const contents = await readContents(db, terms);
  const file = <T extends { code: string }>(format: ListFormat<T>) =>
    writeCsv(format.columns, format.stored(contents).flatMap(format.write));
  const csv = {
    materials: () => file(materialList),
    labor_rates: () => file(laborList),
    assemblies: () => file(assemblyList),
  }[list]();
  return { fileName: `${list.replaceAll("_", "-")}-${terms.effectiveFrom}.csv`, csv };
}

/**
 * Reads a file into a price book. What it does not name stays. A dry run, and a file with any fault, change nothing
 * and say what would be changed, or what is wrong and where.
 */
export async function importPrices(
  db: TenantDb,
  today: string,
  bookId: string,
  body: Body,
): Promise<Outcome> {
  const contents = await takeBook(db, today, bookId);
  if (body.list === "materials") return run(db, contents, materialList, body);
  if (body.list === "labor_rates") return run(db, contents, laborList, body);
  return run(db, contents, assemblyList, body);
}

function changeOf(
  code: string,
  before: Record<string, string> | null,
  after: Record<string, string>,
): Change {
  const names = [...new Set([...Object.keys(before ?? {}), ...Object.keys(after)])];
  return {
    code,
    what: before ? "changed" : "added",
    fields: names
      .map((field) => ({ field, before: before?.[field] ?? "", after: after[field] ?? "" }))
      .filter((f) => f.before !== f.after),
  };
}

const inOrder = (faults: Fault[]): Fault[] => {
  const sorted = [...faults].sort((a, b) => a.line - b.line);
  if (sorted.length <= MAX_FAULTS) return sorted;
  const more = `There are ${sorted.length - MAX_FAULTS} more; put these right first.`;
  return [...sorted.slice(0, MAX_FAULTS), { line: sorted[MAX_FAULTS]?.line ?? 1, column: "", words: more }];
};

async function run<T extends { code: string }>(
  db: TenantDb,
  contents: BookContents,
  format: ListFormat<T>,
  { csv, dryRun }: Body,
): Promise<Outcome> {
  const table = readCsv(csv, format.columns);
  const read = table.faults.length > 0 ? { wanted: [], faults: table.faults } : format.read(table);
  const stored = new Map(format.stored(contents).map((item) => [item.code, item]));
  const compared = read.wanted.map(({ fields }) => {
    const before = stored.get(fields.code);
    const change = changeOf(fields.code, before ? format.describe(before) : null, format.describe(fields));
    return { fields, id: before?.id ?? null, change };
  });
  const added = compared.filter((c) => c.id === null);
  const changed = compared.filter((c) => c.id !== null && c.change.fields.length > 0);

  let faults = read.faults;
  if (faults.length === 0) {
    const after = new Map(stored);
    for (const { fields } of compared) {
      const { id = "", version = 1 } = stored.get(fields.code) ?? {};
      after.set(fields.code, { ...fields, id, version });
    }
    faults = format.check(read.wanted, contents, format.into(contents, [...after.values()]));
  }
  const applied = !dryRun && faults.length === 0;
  if (applied) {
    if (added.length > 0)
      await format.insert(
        db,
        contents.terms.id,
        added.map(({ fields }) => fields),
      );
    await Promise.all(changed.map(({ id, fields }) => format.update(db, id ?? "", fields)));
  }
  const changes = [...added, ...changed].map(({ change }) => change);
  if (!dryRun) {
    await db.audit({
      action: applied ? "price_book.imported" : "price_book.import_refused",
      entity: "price_book",
      entityId: contents.terms.id,
      words: applied
        ? `Price book: ${format.words} read from a file, ${added.length} added, ${changed.length} changed.`
        : `Price book: a file of ${format.words} had faults; nothing was changed.`,
      ...(applied && { changes: { changes } }),
    });
  }
  return {
    applied,
    rows: table.rows.length,
    added: added.length,
    changed: changed.length,
    unchanged: compared.length - added.length - changed.length,
    changes,
    faults: inOrder(faults),
  };
}
