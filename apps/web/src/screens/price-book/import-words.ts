import type { PRICE_LISTS } from "@ledgerboard/contracts/price-book";
import { plural, sentence } from "../../ui/format.ts";

export type PriceList = (typeof PRICE_LISTS)[number];

/** The lists of a price book that can be had as files, as people call them. */
export const LISTS: readonly { value: PriceList; label: string }[] = [
  { value: "materials", label: "Materials" },
  { value: "labor_rates", label: "Labor rates" },
  { value: "assemblies", label: "Assemblies" },
];

const ONE: Record<PriceList, [string, string]> = {
  materials: ["material", "materials"],
  labor_rates: ["labor rate", "labor rates"],
  assemblies: ["assembly", "assemblies"],
};

interface Counts {
  rows: number;
  added: number;
  changed: number;
  unchanged: number;
}

/** What a file without faults says: "41 rows read: one new material, two materials changed." */
export function importWords({ rows, added, changed, unchanged }: Counts, list: PriceList): string {
  const [one, many] = ONE[list];
  if (added + changed + unchanged === 0) return `The file has no ${many} in it.`;
  const parts = [
    added > 0 && plural(added, `new ${one}`, `new ${many}`),
    changed > 0 && `${plural(changed, one, many)} changed`,
    unchanged > 0 && `${plural(unchanged, one, many)} as now`,
  ].filter(Boolean);
  return `${sentence(plural(rows, "row"))} read: ${parts.join(", ")}.`;
}

const MOST_CHARACTERS = 500_000;

/** Why the text cannot be sent as a CSV; undefined when it can. */
export function textFault(csv: string): string | undefined {
  if (csv.trim() === "") return "Choose a file, or paste its text here.";
  if (csv.length > MOST_CHARACTERS) return "At most 500,000 characters: split the file in two.";
  if (csv.includes("\uFFFD") || csv.includes("\0"))
    return "Some letters of the file could not be read: save it as CSV in UTF-8, then choose it again.";
  return undefined;
}
