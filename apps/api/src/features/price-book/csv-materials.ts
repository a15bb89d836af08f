import { addMaterial } from "@ledgerboard/contracts/price-book";
import { Cells, ofHundredths, yesNo } from "./csv-cells.ts";
import type { ListFormat, Wanted } from "./csv-format.ts";
import { type Fault, harmless, type Row } from "./csv-text.ts";
import { storedPacks, usersOf } from "./materials.ts";
import { insertMaterials, type MaterialFields, materialCodes, writeMaterial } from "./store.ts";
import { list, TOO_DEAR, tooDear } from "./taking.ts";

const COLUMNS = [
  "code",
  "name",
  "unit",
  "section",
  "whole_packs",
  "pack_size",
  "pack_price",
  "retired",
] as const;
const COLUMN_OF: Record<string, string> = {
  wholePacks: "whole_packs",
  packs: "pack_size",
  size: "pack_size",
  price: "pack_price",
};

/** A row for each pack; a material without a price has one row with neither size nor price. */
function write({
  code,
  name,
  unit,
  section,
  wholePacks,
  packs,
  retired,
}: MaterialFields): Record<string, string>[] {
  const shared = {
    code: harmless(code),
    name: harmless(name),
    unit,
    section: harmless(section ?? ""),
    whole_packs: yesNo(wholePacks),
    retired: yesNo(retired),
  };
  if (packs.length === 0) return [shared];
  return packs.map(({ size, cents }) => ({ ...shared, pack_size: size, pack_price: ofHundredths(cents) }));
}

function readOne(cells: Cells, rows: readonly [Row, ...Row[]]): Wanted<MaterialFields> | null {
  const before = cells.faults.length;
  const shared = (column: (typeof COLUMNS)[number]) => cells.shared(rows, column);
  const retired = cells.yesNo(shared("retired"), "retired");
  const packRows = rows.filter((row) => row.cells.pack_size || row.cells.pack_price);
  const sizes = packRows.map((row) => cells.number(row, "pack_size", 4));
  sizes.forEach((size, i) => {
    const row = packRows[i];
    if (row && size !== null && sizes.indexOf(size) < i)
      cells.fault(row, "pack_size", `${row.cells.code} has a pack of ${size} twice.`);
  });
  const value = {
    code: cells.text(rows[0], "code"),
    name: cells.text(shared("name"), "name"),
    unit: cells.text(shared("unit"), "unit"),
    section: cells.text(shared("section"), "section") || null,
    wholePacks: cells.yesNo(shared("whole_packs"), "whole_packs"),
    packs: packRows.map((row, i) => ({
      size: sizes[i],
      price: { cents: cells.wholeHundredths(row, "pack_price"), currency: "USD" },
    })),
  };
  if (cells.faults.length > before) return null;
  const place = (path: readonly PropertyKey[]) => {
    const [field, nth, part] = path.map(String);
    const row = (field === "packs" && packRows[Number(nth)]) || rows[0];
    const column = (part && COLUMN_OF[part]) ?? COLUMN_OF[field ?? ""] ?? field ?? "code";
    return { line: row.line, column };
  };
  const body = cells.accepted(addMaterial, value, place);
  return body && { fields: { ...body, packs: storedPacks(body.packs), retired: retired === true }, place };
}

/** Materials of a price book as a file. */
export const materialList: ListFormat<MaterialFields> = {
  words: "materials",
  columns: COLUMNS,
  stored: (contents) => contents.materials,
  write,
  read(table) {
    const cells = new Cells(table);
    const wanted = cells.byCode(table.rows).flatMap((rows) => readOne(cells, rows) ?? []);
    return { wanted, faults: cells.faults };
  },
  describe: ({ name, unit, section, wholePacks, packs, retired }) => ({
    name,
    unit,
    section: section ?? "",
    whole_packs: yesNo(wholePacks),
    packs: [...packs]
      .sort((a, b) => Number(a.size) - Number(b.size))
      .map(({ size, cents }) => `${size} for $${ofHundredths(cents)}`)
      .join(", "),
    retired: yesNo(retired),
  }),
  into: (contents, materials) => ({ ...contents, materials }),
  check(wanted, before, after) {
    const faults = wanted.flatMap(({ fields, place }): Fault[] => {
      const was = before.materials.find((m) => m.code === fields.code);
      const users = fields.retired && !was?.retired ? usersOf(before, fields.code) : [];
      if (users.length === 0) return [];
      return [
        {
          ...place(["retired"]),
          words: `${list(users)} still ${users.length === 1 ? "takes" : "take"} it; change or retire those first.`,
        },
      ];
    });
    if (faults.length > 0) return faults;
    const dear = new Set(tooDear(after));
    return wanted.flatMap(({ fields, place }): Fault[] => {
      const user = after.assemblies.find(
        (a) => dear.has(a.code) && materialCodes(a.recipe).includes(fields.code),
      );
      return user ? [{ ...place(["packs", 0, "price"]), words: `${user.code}: ${TOO_DEAR}` }] : [];
    });
  },
  insert: insertMaterials,
  update: writeMaterial,
};
