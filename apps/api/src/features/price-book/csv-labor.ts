import { addLaborRate } from "@ledgerboard/contracts/price-book";
import { Cells, ofHundredths } from "./csv-cells.ts";
import type { ListFormat, Wanted } from "./csv-format.ts";
import { type Fault, harmless, type Row } from "./csv-text.ts";
import { insertRates, type RateFields, writeRate } from "./store.ts";
import { TOO_DEAR, tooDear } from "./taking.ts";

const COLUMNS = ["code", "name", "hourly", "burden_percent"] as const;

function readOne(cells: Cells, [row, again]: readonly [Row, ...Row[]]): Wanted<RateFields> | null {
  if (again) return cells.fault(again, "code", `${row.cells.code} is on line ${row.line} already.`);
  const before = cells.faults.length;
  const value = {
    code: cells.text(row, "code"),
    name: cells.text(row, "name"),
    hourly: { cents: cells.wholeHundredths(row, "hourly"), currency: "USD" },
    burdenBp: cells.wholeHundredths(row, "burden_percent"),
  };
  if (cells.faults.length > before) return null;
  const place = ([field]: readonly PropertyKey[]) => ({
    line: row.line,
    column: field === "burdenBp" ? "burden_percent" : String(field ?? "code"),
  });
  const body = cells.accepted(addLaborRate, value, place);
  if (!body) return null;
  const { hourly, ...rest } = body;
  return { fields: { ...rest, hourlyCents: hourly.cents }, place };
}

/** Labor rates of a price book as a file. */
export const laborList: ListFormat<RateFields> = {
  words: "labor rates",
  columns: COLUMNS,
  stored: (contents) => contents.laborRates,
  write: ({ code, name, hourlyCents, burdenBp }) => [
    {
      code: harmless(code),
      name: harmless(name),
      hourly: ofHundredths(hourlyCents),
      burden_percent: ofHundredths(burdenBp),
    },
  ],
  read(table) {
    const cells = new Cells(table);
    const wanted = cells.byCode(table.rows).flatMap((rows) => readOne(cells, rows) ?? []);
    return { wanted, faults: cells.faults };
  },
  describe: ({ name, hourlyCents, burdenBp }) => ({
    name,
    hourly: `$${ofHundredths(hourlyCents)}`,
    burden_percent: ofHundredths(burdenBp),
  }),
  into: (contents, laborRates) => ({ ...contents, laborRates }),
  check(wanted, _before, after) {
    const dear = new Set(tooDear(after));
    return wanted.flatMap(({ fields, place }): Fault[] => {
      const user = after.assemblies.find(
        (a) => dear.has(a.code) && a.recipe.labor.some((l) => l.code === fields.code),
      );
      return user ? [{ ...place(["hourly"]), words: `${user.code}: ${TOO_DEAR}` }] : [];
    });
  },
  insert: insertRates,
  update: writeRate,
};
