import type { estimates as contract, Input, Output } from "@ledgerboard/contracts";
import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import type { TenantDb } from "@ledgerboard/database";
import {
  type Bridge,
  type ComparableLine,
  type Comparison,
  compareRevisions,
  type MaterialityPolicy,
  type RuleFinding,
} from "@ledgerboard/estimating";
import { notFound, Problem } from "../../problem.ts";
import { requireJob } from "../jobs/require.ts";
import { usd } from "../money.ts";
import { listRevisions, type PricedRevision, policyInEffect, readPriced } from "./queries.ts";
import { toScopeLine } from "./view.ts";

/** What the pure comparison says of two revisions of a job. */
export const compare = (from: PricedRevision, to: PricedRevision, policy: MaterialityPolicy): Comparison =>
  compareRevisions(
    { lines: from.lines, charges: from.charges, terms: from.revision },
    { lines: to.lines, charges: to.charges, terms: to.revision },
    policy,
  );

/** A comparison that was made for good when a site review was issued. */
interface StoredVariance {
  id: string;
  material: boolean;
  rules: RuleFinding[];
  bridge: Bridge;
  waivedWhy: string | null;
  open: boolean;
  policyFrom: string;
}

async function findVariance(db: TenantDb, fromId: string, toId: string): Promise<StoredVariance | null> {
  const [row] = await db.sql<StoredVariance>`
    SELECT v.id, v.material, v.rules, v.bridge, w.why AS "waivedWhy", p.effective_from AS "policyFrom",
      v.material AND coalesce((j.facts ->> 'materialVarianceOpen')::boolean, false)
        AND NOT EXISTS (SELECT FROM variances n WHERE n.company_id = v.company_id AND n.job_id = v.job_id
                          AND n.material AND n.id > v.id) AS open
    FROM variances v
    JOIN jobs j ON j.company_id = v.company_id AND j.id = v.job_id
    JOIN materiality_policies p ON p.company_id = v.company_id AND p.id = v.policy_id
    LEFT JOIN variance_waivers w ON w.company_id = v.company_id AND w.variance_id = v.id
    WHERE v.company_id = ${db.companyId} AND v.from_revision_id = ${fromId} AND v.to_revision_id = ${toId}`;
  return row ?? null;
}

/**
 * Which two revisions to compare. Left out: the newest, drafts too, against what it was copied from, or against the
 * newest issued first pass where it was copied from nothing.
 */
async function choosePair(
  db: TenantDb,
  jobId: string,
  wanted: { from?: string | undefined; to?: string | undefined },
): Promise<[from: string, to: string]> {
  const revisions = await listRevisions(db, jobId);
  const given = (id: string) => {
    const found = revisions.find((r) => r.id === id);
    if (!found) throw notFound("revision of this job");
    return found;
  };
  const to = wanted.to ? given(wanted.to) : revisions.at(-1);
  if (!to) {
    await requireJob(db, jobId);
    throw new Problem("not-found", "Nothing is priced on this job yet.");
  }
  if (wanted.from) return [given(wanted.from).id, to.id];
  const from = to.basedOnId ?? revisions.findLast((r) => r.kind === "first_pass" && r.issued)?.id;
  if (!from || from === to.id) {
    throw new Problem("not-found", "There is only one revision yet, so there is nothing to compare.");
  }
  return [from, to.id];
}

const toSide = ({ revision, totals }: PricedRevision) => ({
  id: revision.id,
  number: revision.number,
  kind: revision.kind,
  price: usd(totals.priceCents),
  hours: totals.hours,
});

export async function readComparison(
  db: TenantDb,
  today: string,
  jobId: string,
  query: Input<typeof contract.compareRevisions>["query"],
): Promise<Output<typeof contract.compareRevisions>> {
  const [fromId, toId] = await choosePair(db, jobId, query);
  const from = await readPriced(db, fromId);
  const to = await readPriced(db, toId);
  const policy = await policyInEffect(db, today);
  const found = compare(from, to, policy);
  // What was decided when the review was issued is shown as it was decided, whatever the policy says today.
  const stored = await findVariance(db, fromId, toId);
  const { material, rules } = stored ?? found.verdict;
  const { fromCents, toCents, steps } = stored?.bridge ?? found.bridge;

  const shown = new Map<string, ScopeLine>([...from.lines, ...to.lines].map((l) => [l.id, toScopeLine(l)]));
  const show = (line: ComparableLine | null): ScopeLine | null => (line && shown.get(line.id)) ?? null;
  return {
    jobId,
    varianceId: stored?.id ?? null,
    from: toSide(from),
    to: toSide(to),
    bridge: steps.map(({ step, cents }) => ({ step, delta: usd(cents) })),
    delta: usd(toCents - fromCents),
    deltaHours: found.hours.delta,
    changes: found.changes.map((change) => ({
      kind: change.kind,
      before: show(change.before),
      after: show(change.after),
      delta: usd(change.deltaCents),
      deltaHours: change.deltaHours,
      structural: change.structural,
    })),
    material,
    rules,
    waivedWhy: stored?.waivedWhy ?? null,
    open: stored?.open ?? false,
    policyFrom: stored?.policyFrom ?? policy.effectiveFrom,
  };
}
