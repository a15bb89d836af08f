import { addAssembly } from "@ledgerboard/contracts/price-book";
import { recipeFaults, storedRecipe } from "./assemblies.ts";
import { Cells, ofHundredths, yesNo } from "./csv-cells.ts";
import type { ListFormat, Wanted } from "./csv-format.ts";
import { type Fault, harmless, type Row } from "./csv-text.ts";
import { type AssemblyFields, insertAssemblies, writeAssembly } from "./store.ts";
import { TOO_DEAR, tooDear } from "./taking.ts";

const SHARED = [
  "code",
  "component",
  "action",
  "description",
  "unit",
  "note",
  "labor_variation_percent",
  "retired",
] as const;
/** What a part of each kind says; the other cells of its row stay blank. */
const PARTS: Record<string, readonly string[]> = {
  material: ["part_code", "in_salt", "per_unit", "waste_percent"],
  labor: ["part_code", "hours_per_unit", "setup_hours"],
  disposal: ["cost"],
  equipment: ["cost"],
};
const PART_COLUMNS = [
  "part_code",
  "in_salt",
  "per_unit",
  "waste_percent",
  "hours_per_unit",
  "setup_hours",
  "cost",
];
const COLUMNS = [...SHARED, "part", ...PART_COLUMNS];
const COLUMN_OF: Record<string, string> = {
  laborCvBp: "labor_variation_percent",
  code: "part_code",
  inSalt: "in_salt",
  perUnit: "per_unit",
  wasteBp: "waste_percent",
  hoursPerUnit: "hours_per_unit",
  setupHours: "setup_hours",
  disposalUnitCents: "cost",
  equipmentUnitCents: "cost",
};

/** A row for each part of the recipe; an assembly that takes nothing has one row without a part. */
function write({ recipe, ...assembly }: AssemblyFields): Record<string, string>[] {
  const shared = {
    code: harmless(assembly.code),
    component: assembly.component,
    action: assembly.action,
    description: harmless(assembly.description),
    unit: assembly.unit,
    note: harmless(assembly.note),
    labor_variation_percent: ofHundredths(recipe.laborCvBp),
    retired: yesNo(assembly.retired),
  };
  const cost = (part: string, cents: string) =>
    Number(cents) > 0 ? [{ part, cost: ofHundredths(cents) }] : [];
  const parts: Record<string, string>[] = [
    ...recipe.materials.map(({ code, inSalt, perUnit, wasteBp }) => ({
      part: "material",
      part_code: harmless(code),
      in_salt: harmless(inSalt ?? ""),
      per_unit: perUnit,
      waste_percent: ofHundredths(wasteBp),
    })),
    ...recipe.labor.map(({ code, hoursPerUnit, setupHours }) => ({
      part: "labor",
      part_code: harmless(code),
      hours_per_unit: hoursPerUnit,
      setup_hours: setupHours,
    })),
    ...cost("disposal", recipe.disposalUnitCents),
    ...cost("equipment", recipe.equipmentUnitCents),
  ];
  return (parts.length > 0 ? parts : [{}]).map((part) => ({ ...shared, ...part }));
}

/** Sorts the rows by their part and faults what does not belong. */
function sortParts(cells: Cells, rows: readonly Row[]): Record<string, Row[]> {
  const sorted: Record<string, Row[]> = { material: [], labor: [], disposal: [], equipment: [] };
  for (const row of rows) {
    const part = cells.text(row, "part").toLowerCase();
    const known = PARTS[part];
    if (part !== "" && !known) {
      cells.fault(row, "part", `Choose one of ${Object.keys(PARTS).join(", ")}.`);
      continue;
    }
    const words =
      part === "" ? "Say in the column part what this belongs to." : `Leave this blank for ${part}.`;
    cells.blank(
      row,
      PART_COLUMNS.filter((column) => !known?.includes(column)),
      words,
    );
    sorted[part]?.push(row);
  }
  for (const part of ["disposal", "equipment"]) {
    const again = sorted[part]?.[1];
    if (again) cells.fault(again, "part", `${again.cells.code} has ${part} twice; add the two up.`);
  }
  return sorted;
}

function readOne(cells: Cells, rows: readonly [Row, ...Row[]]): Wanted<AssemblyFields> | null {
  const before = cells.faults.length;
  const shared = (column: (typeof SHARED)[number]) => cells.shared(rows, column);
  const text = (column: (typeof SHARED)[number]) => cells.text(shared(column), column);
  const { material = [], labor = [], disposal = [], equipment = [] } = sortParts(cells, rows);
  const cost = ([row]: Row[]) => (row ? cells.hundredths(row, "cost", 4) : "0");
  const retired = cells.yesNo(shared("retired"), "retired");
  const value = {
    code: cells.text(rows[0], "code"),
    component: text("component"),
    action: text("action"),
    description: text("description"),
    unit: text("unit"),
    note: text("note"),
    recipe: {
      materials: material.map((row) => ({
        code: cells.text(row, "part_code"),
        inSalt: cells.text(row, "in_salt") || null,
        perUnit: cells.number(row, "per_unit", 4),
        wasteBp: cells.wholeHundredths(row, "waste_percent", "0"),
      })),
      labor: labor.map((row) => ({
        code: cells.text(row, "part_code"),
        hoursPerUnit: cells.number(row, "hours_per_unit", 4, "0"),
        setupHours: cells.number(row, "setup_hours", 4, "0"),
      })),
      disposalUnitCents: cost(disposal),
      equipmentUnitCents: cost(equipment),
      laborCvBp: cells.wholeHundredths(shared("labor_variation_percent"), "labor_variation_percent", "0"),
    },
  };
  if (cells.faults.length > before) return null;
  const place = (path: readonly PropertyKey[]) => {
    const [field = "code", part, nth, name] = path.map(String);
    if (field !== "recipe") return { line: rows[0].line, column: field };
    const row = {
      materials: material[Number(nth)],
      labor: labor[Number(nth)],
      disposalUnitCents: disposal[0],
      equipmentUnitCents: equipment[0],
    }[part ?? ""];
    return { line: (row ?? rows[0]).line, column: COLUMN_OF[name ?? part ?? ""] ?? "part" };
  };
  const body = cells.accepted(addAssembly, value, place);
  return body && { fields: { ...body, recipe: storedRecipe(body.recipe), retired: retired === true }, place };
}

/** Assemblies of a price book as a file. A file that names an assembly gives its whole recipe. */
export const assemblyList: ListFormat<AssemblyFields> = {
  words: "assemblies",
  columns: COLUMNS,
  stored: (contents) => contents.assemblies,
  write,
  read(table) {
    const cells = new Cells(table);
    const wanted = cells.byCode(table.rows).flatMap((rows) => readOne(cells, rows) ?? []);
    return { wanted, faults: cells.faults };
  },
  describe: ({ component, action, description, unit, note, recipe, retired }) => ({
    component,
    action,
    description,
    unit,
    note,
    labor_variation_percent: ofHundredths(recipe.laborCvBp),
    disposal: `$${ofHundredths(recipe.disposalUnitCents)}`,
    equipment: `$${ofHundredths(recipe.equipmentUnitCents)}`,
    retired: yesNo(retired),
    ...Object.fromEntries(
      recipe.materials.map(({ code, inSalt, perUnit, wasteBp }) => [
        `material ${code}`,
        `${perUnit} with ${ofHundredths(wasteBp)} % waste${inSalt === null ? "" : `, near salt ${inSalt}`}`,
      ]),
    ),
    ...Object.fromEntries(
      recipe.labor.map(({ code, hoursPerUnit, setupHours }) => [
        `labor ${code}`,
        `${hoursPerUnit} hours, ${setupHours} to set up`,
      ]),
    ),
  }),
  into: (contents, assemblies) => ({ ...contents, assemblies }),
  check(wanted, _before, after) {
    const faults = wanted.flatMap(({ fields, place }) =>
      recipeFaults(fields, after).map(
        ({ path, message }): Fault => ({ ...place(["recipe", ...path.split(".")]), words: message }),
      ),
    );
    if (faults.length > 0) return faults;
    const dear = new Set(tooDear(after));
    return wanted.flatMap(({ fields: { code }, place }): Fault[] =>
      dear.has(code) ? [{ ...place(["code"]), words: `${code}: ${TOO_DEAR}` }] : [],
    );
  },
  insert: insertAssemblies,
  update: writeAssembly,
};
