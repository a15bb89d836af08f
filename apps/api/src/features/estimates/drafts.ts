import type { Endpoint } from "@ledgerboard/contracts";
import { may, type RevisionKind, type Role } from "@ledgerboard/contracts";
import { formatMoney, MAX_CENTS } from "@ledgerboard/contracts/money";
import { words } from "@ledgerboard/contracts/vocabulary";
import type { TenantDb } from "@ledgerboard/database";
import type { Context } from "../../http/implement.ts";
import { illegalMove, invalid, Problem } from "../../problem.ts";
import { type JobInHand, lockJob, requireAct } from "../jobs/facts.ts";
import { findRevision, type RevisionRow, readPriced } from "./queries.ts";

/** Who acts, on which day, in which transaction: what every act here is given. */
export type Hand = Pick<Context<Endpoint>, "db" | "who" | "today" | "services">;

/** "Site review (revision 2)". */
export function nameOf({ kind, number }: Pick<RevisionRow, "kind" | "number">): string {
  const name = words(kind);
  return `${name.charAt(0).toUpperCase()}${name.slice(1)} (revision ${number})`;
}

/** What a site review did to the price, as the timeline says it: "+$740: a material change", "the price unchanged". */
export function sayChange(deltaCents: number, material: boolean): string {
  const price =
    deltaCents === 0 ? "the price unchanged" : `${deltaCents > 0 ? "+" : ""}${formatMoney(deltaCents)}`;
  return `${price}${material ? ": a material change" : ""}`;
}

/** A site review is the senior estimator's; everybody who may estimate may write a first pass. */
export function requireKind(who: Hand["who"], kind: RevisionKind): void {
  if (kind === "site_review" && !may(who.roles as Role[], "estimates.site_review")) {
    throw new Problem("not-allowed", "A site review is made by a senior estimator or the owner.");
  }
}

/** Takes a draft and its job in hand for a change. Refuses what is issued, and what the job's state does not allow. */
export async function takeDraft(
  { db, who, today }: Hand,
  revisionId: string,
  act: "edit_revision" | "issue_revision",
): Promise<{ job: JobInHand; revision: RevisionRow }> {
  const seen = await findRevision(db, revisionId);
  requireKind(who, seen.kind);
  const job = await lockJob(db, seen.jobId, today);
  // Read again: it may have been issued or thrown away while this waited for the lock.
  const revision = await findRevision(db, revisionId);
  if (revision.issuedAt) {
    throw illegalMove(
      `${nameOf(revision)} is issued and stays as it is. Start a site review to change the scope.`,
    );
  }
  requireAct(job, act);
  return { job, revision };
}

/**
 * Prices a draft anew and stores what each line and the whole come to. The one place that writes a price. Throws a
 * problem that names `field` when a line or the whole is priced beyond all reason.
 */
export async function reprice(db: TenantDb, revisionId: string, field = "body.quantity"): Promise<void> {
  const { lines, totals } = await withinReason(field, () => readPriced(db, revisionId));
  const prices = lines.map(({ id, price }) => ({ id, cents: price.priceCents, hours: price.hours }));
  // Only lines whose price moved, so that the others keep the version somebody may hold of them.
  await db.sql`
    UPDATE scope_lines l SET price_cents = p.cents, hours = p.hours
    FROM jsonb_to_recordset(${JSON.stringify(prices)}::jsonb) AS p (id uuid, cents integer, hours numeric)
    WHERE l.company_id = ${db.companyId} AND l.revision_id = ${revisionId} AND l.id = p.id
      AND (l.price_cents, l.hours) IS DISTINCT FROM (p.cents, p.hours)`;
  await db.sql`
    UPDATE revisions SET hours = ${totals.hours}, material_cents = ${totals.materialCents}, labor_cents = ${totals.laborCents},
           cost_cents = ${totals.costCents}, price_cents = ${totals.priceCents}
    WHERE company_id = ${db.companyId} AND id = ${revisionId}`;
}

/** What a pricing comes to. Throws a problem that names `field` when a line or the whole is beyond all reason. */
export async function withinReason<P extends { totals: { priceCents: number } }>(
  field: string,
  price: () => P | Promise<P>,
): Promise<P> {
  try {
    const priced = await price();
    if (priced.totals.priceCents <= MAX_CENTS) return priced;
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw invalid(field, error.message);
  }
  throw invalid(field, "With this the estimate comes to more than $10,000,000; check the quantities.");
}
