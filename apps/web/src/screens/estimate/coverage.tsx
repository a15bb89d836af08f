import type { Zone } from "@ledgerboard/contracts/jobs";
import { type ScopeRow, scopeAgainstExisting } from "@ledgerboard/estimating";
import { Flag } from "../../ui/flag.tsx";
import { plural, quantity, sentence, words } from "../../ui/format.ts";
import { type Column, Table } from "../../ui/table.tsx";
import { takeoffOf } from "./plausible.ts";
import type { TypedLine } from "./prices.ts";

const amount = (value: string | null, unit: string) =>
  value === null ? (
    <span className="quiet">not known</span>
  ) : value === "0" ? (
    <span className="quiet est-nil">—</span>
  ) : (
    quantity(value, unit)
  );

const COLUMNS: Column<ScopeRow>[] = [
  {
    title: "Component",
    cell: ({ component, over, unit }) => (
      <span>
        {sentence(words(component))}
        {over && (
          <span className="block">
            <Flag alarm>{quantity(over, unit)} more than is there</Flag>
          </span>
        )}
      </span>
    ),
  },
  { title: "There", num: true, cell: ({ existing, unit }) => amount(existing, unit) },
  { title: "Kept", num: true, cell: ({ kept, unit }) => amount(kept, unit) },
  { title: "Treated", num: true, cell: ({ treated, unit }) => amount(treated, unit) },
  { title: "Replaced or removed", num: true, cell: ({ replaced, unit }) => amount(replaced, unit) },
  { title: "Added", num: true, cell: ({ added, unit }) => amount(added, unit) },
  { title: "No line speaks of", num: true, cell: ({ left, unit }) => amount(left, unit) },
];

/**
 * What is there in a zone beside what the lines do to it, as it is typed. Optional extras are left out: the customer
 * may leave them.
 */
export function Coverage({ zone, lines }: { zone: Zone; lines: readonly TypedLine[] }) {
  const base = lines.filter(({ alternate }) => alternate === null);
  const rows = scopeAgainstExisting(takeoffOf(zone), base);
  if (rows.length === 0) return null;
  const over = rows.filter((row) => row.over !== null).length;
  return (
    <details className="est-coverage">
      <summary>
        What is there, what is done to it
        {over > 0 && <Flag alarm>{plural(over, "component")} beyond what is there</Flag>}
      </summary>
      <Table
        caption={`${zone.name}: existing beside the scope`}
        columns={COLUMNS}
        rows={rows}
        rowKey={({ component, unit }) => `${component} ${unit}`}
      />
      {!zone.geometry && (
        <p className="quiet">
          <small>Nobody has drawn this zone yet: only what length and width tell is known to be there.</small>
        </p>
      )}
    </details>
  );
}
