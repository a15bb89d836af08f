import type { estimates as contract, Input } from "@ledgerboard/contracts";
import { ratio, toDecimal } from "@ledgerboard/contracts/money";
import { words } from "@ledgerboard/contracts/vocabulary";
import type { TenantDb } from "@ledgerboard/database";
import type { LineRates } from "@ledgerboard/estimating";
import { invalid } from "../../problem.ts";
import { findItem } from "../price-book/queries.ts";
import type { RevisionRow, StoredLine } from "./queries.ts";

/** What a person decides about a scope line. */
export type LineValues = Input<typeof contract.addLine>["body"];
type WorkOf = Pick<LineValues, "component" | "action" | "itemCode" | "unit">;

/** "Lower deck: joist, sister, 6 each" */
export const describe = (line: LineValues & { zoneName: string }): string =>
  `${line.zoneName}: ${words(line.component)}, ${words(line.action)}, ${line.quantity} ${words(line.unit)}`;

const otherWork = (a: WorkOf, b: WorkOf): boolean =>
  a.component !== b.component || a.action !== b.action || a.itemCode !== b.itemCode || a.unit !== b.unit;

/** One spelling of a number, so that "12.50" and "12.5" are not a change. */
export const plain = (quantity: string): string => toDecimal(ratio(quantity));

export async function checkZone(db: TenantDb, jobId: string, zoneId: string): Promise<void> {
  const [zone] = await db.sql`
    SELECT id FROM zones WHERE company_id = ${db.companyId} AND job_id = ${jobId} AND id = ${zoneId}`;
  if (!zone) throw invalid("body.zoneId", "This job has no such zone.");
}

/**
 * The rates a line is priced with. A line keeps those it has while its work stays the same, whatever the price book
 * has come to say; other work, or the reason that the price has moved, takes them anew from the revision's book.
 */
export async function ratesFor(
  db: TenantDb,
  revision: RevisionRow,
  values: LineValues,
  stored: StoredLine | null,
  priceMoved: boolean,
): Promise<LineRates | null> {
  const code = values.itemCode;
  if (code === null) return null;
  if (values.action === "keep") {
    throw invalid("body.itemCode", "What is kept carries no price; leave the item out.");
  }
  if (stored && !priceMoved && !otherWork(values, stored)) return stored.rates;

  const item = await findItem(db, revision.priceBookId, code);
  if (!item) throw invalid("body.itemCode", "The price book has no such item.");
  if (item.retired) throw invalid("body.itemCode", `${code} is retired; choose another item.`);
  if (item.component !== values.component || item.action !== values.action) {
    const [its, wanted] = [item, values].map((w) => `${words(w.component)}, ${words(w.action)}`);
    throw invalid("body.itemCode", `${code} is for ${its}; choose an item for ${wanted}, or none.`);
  }
  if (item.unit !== values.unit) throw invalid("body.unit", `${code} is counted in ${words(item.unit)}.`);
  return item.rates;
}

/** Whether a site review's line says something else than the line it was copied from; an added line always does. */
function departs(values: LineValues, rates: LineRates | null, base: StoredLine | null): boolean {
  return (
    base === null ||
    otherWork(values, base) ||
    values.by !== base.by ||
    values.quantity !== base.quantity ||
    (rates !== null && base.rates !== null && !sameRates(rates, base.rates))
  );
}

const RATES = [
  "materialUnitCents",
  "wasteBp",
  "hoursPerUnit",
  "laborRateCode",
  "laborHourlyCents",
  "laborBurdenBp",
] as const;
const sameRates = (a: LineRates, b: LineRates): boolean => RATES.every((key) => a[key] === b[key]);

/** A site review says why, by a code and in words, wherever it departs from what it reviews. */
export function requireReason(values: LineValues, rates: LineRates | null, base: StoredLine | null): void {
  if (!departs(values, rates, base)) return;
  if (values.reasonCode === null) {
    throw invalid("body.reasonCode", "Choose why this differs from what was reviewed.");
  }
  if ((values.reason?.length ?? 0) < 3) throw invalid("body.reason", "Say why in a few words.");
}
