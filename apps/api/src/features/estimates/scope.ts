import type { estimates as contract, Input } from "@ledgerboard/contracts";
import { ratio, toDecimal } from "@ledgerboard/contracts/money";
import { words } from "@ledgerboard/contracts/vocabulary";
import type { TenantDb } from "@ledgerboard/database";
import { allowanceFindings, type LineRates, sameAllowance, sameRates } from "@ledgerboard/estimating";
import { invalid } from "../../problem.ts";
import { findAssembly } from "../price-book/queries.ts";
import type { RevisionRow, StoredLine } from "./queries.ts";

/** What a person decides about a scope line. */
export type LineValues = Input<typeof contract.addLine>["body"];
type WorkOf = Pick<LineValues, "component" | "action" | "assemblyCode" | "alternate" | "unit">;

/** "Lower deck: joist, sister, 6 each" */
export const describe = (line: LineValues & { zoneName: string }): string =>
  `${line.zoneName}: ${words(line.component)}, ${words(line.action)}, ${line.quantity} ${words(line.unit)}`;

const otherWork = (a: WorkOf, b: WorkOf): boolean =>
  a.component !== b.component ||
  a.action !== b.action ||
  a.assemblyCode !== b.assemblyCode ||
  a.unit !== b.unit;

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
  const code = values.assemblyCode;
  if (code === null) return null;
  if (values.action === "keep") {
    throw invalid("body.assemblyCode", "What is kept carries no price; leave the assembly out.");
  }
  if (stored && !priceMoved && !otherWork(values, stored)) return stored.rates;

  const assembly = await findAssembly(db, revision.priceBookId, code, { salt: revision.salt });
  if (!assembly) throw invalid("body.assemblyCode", "The price book has no such assembly.");
  if (assembly.retired) throw invalid("body.assemblyCode", `${code} is retired; choose another assembly.`);
  if (assembly.component !== values.component || assembly.action !== values.action) {
    const [its, wanted] = [assembly, values].map((w) => `${words(w.component)}, ${words(w.action)}`);
    throw invalid("body.assemblyCode", `${code} is for ${its}; choose an assembly for ${wanted}, or none.`);
  }
  if (assembly.unit !== values.unit)
    throw invalid("body.unit", `${code} is counted in ${words(assembly.unit)}.`);
  return assembly.rates;
}

/** Whether a site review's line says something else than the line it was copied from; an added line always does. */
function departs(values: LineValues, rates: LineRates | null, base: StoredLine | null): boolean {
  return (
    base === null ||
    otherWork(values, base) ||
    values.by !== base.by ||
    values.alternate !== base.alternate ||
    !sameAllowance(values.allowance, base.allowance) ||
    values.quantity !== base.quantity ||
    (rates !== null && base.rates !== null && !sameRates(rates, base.rates))
  );
}

/** An allowance belongs to concealed work, and its bounds must hold its likeliest amount. */
export function checkAllowance(values: LineValues): void {
  if (!values.allowance) return;
  if (values.evidence !== "concealed") {
    throw invalid("body.allowance", "An allowance is for concealed work; set the evidence to concealed.");
  }
  const [first] = allowanceFindings(values.quantity, values.allowance);
  if (first) throw invalid(`body.${first.field}`, first.words);
}

/** A site review says why, by a code and in words, wherever it departs from what it reviews. */
export function requireReason(values: LineValues, rates: LineRates | null, base: StoredLine | null): void {
  if (!departs(values, rates, base)) return;
  if (values.reasonCode === null) {
    throw invalid("body.reasonCode", "Choose why this differs from what was reviewed.");
  }
  if ((values.reason?.length ?? 0) < 3) throw invalid("body.reason", "Say why in a few words.");
}
