import type { estimates as contract, Input } from "@ledgerboard/contracts";
import type { Charge } from "@ledgerboard/estimating";
import { illegalMove } from "../../problem.ts";
import { refreshJob, takeJob } from "../jobs/facts.ts";
import { bookInEffect } from "../price-book/queries.ts";
import { type Hand, nameOf, reprice, requireKind, takeDraft } from "./drafts.ts";
import { findRevision, listRevisions, type RevisionRow, type Terms } from "./queries.ts";

type Kind = Input<typeof contract.startRevision>["body"]["kind"];
type Start = Terms & { priceBookId: string; basedOnId: string | null; charges: Charge[] };

/**
 * What a new revision starts from. A site review keeps the book and terms of what it reviews, so that a line nobody
 * touches keeps its price.
 */
async function startFrom({ db, today }: Hand, jobId: string, kind: Kind): Promise<Start> {
  if (kind === "first_pass") {
    const book = await bookInEffect(db, today);
    return { ...book, priceBookId: book.id, basedOnId: null, charges: [] };
  }
  const base = (await listRevisions(db, jobId)).findLast((r) => r.issued);
  if (!base) throw illegalMove("Nothing has been issued to review. Issue a first pass first.");
  return { ...(await findRevision(db, base.id)), basedOnId: base.id };
}

async function insertRevision(hand: Hand, jobId: string, kind: Kind, start: Start): Promise<RevisionRow> {
  const { db, who, services } = hand;
  await db.sql`INSERT INTO estimates (company_id, job_id) VALUES (${db.companyId}, ${jobId})
    ON CONFLICT (company_id, job_id) DO NOTHING`;
  const [row] = await db.sql<{ id: string }>`
    INSERT INTO revisions (company_id, estimate_id, job_id, number, kind, based_on_id, price_book_id, overhead_bp,
                           margin_bp, material_tax_bp, minimum_charge_cents, round_up_to_cents, labor_correlation_bp,
                           charges, author_id, created_at)
    SELECT e.company_id, e.id, e.job_id,
           1 + coalesce((SELECT max(r.number) FROM revisions r WHERE r.company_id = e.company_id AND r.estimate_id = e.id), 0),
           ${kind}, ${start.basedOnId}, ${start.priceBookId}, ${start.overheadBp}, ${start.marginBp}, ${start.materialTaxBp},
           ${start.minimumChargeCents}, ${start.roundUpToCents}, ${start.laborCorrelationBp},
           ${JSON.stringify(start.charges)}::jsonb, ${who.memberId}, ${services.now().toISOString()}
    FROM estimates e WHERE e.company_id = ${db.companyId} AND e.job_id = ${jobId}
    RETURNING id`;
  if (!row) throw new Error("The job's estimate is missing.");
  return findRevision(db, row.id);
}

export async function startRevision(hand: Hand, jobId: string, kind: Kind): Promise<{ id: string }> {
  const { db, today } = hand;
  requireKind(hand.who, kind);
  await takeJob(db, jobId, today, kind === "first_pass" ? "start_first_pass" : "start_site_review");
  const revision = await insertRevision(hand, jobId, kind, await startFrom(hand, jobId, kind));
  // Reasons are not copied: they are why the reviewed revision changed, not why this one does.
  await db.sql`
    INSERT INTO scope_lines (company_id, revision_id, lineage_id, position, zone_id, component, action, assembly_code,
                             description, quantity, unit, evidence, by, alternate, allowance, rates)
    SELECT company_id, ${revision.id}, lineage_id, position, zone_id, component, action, assembly_code, description,
           quantity, unit, evidence, by, alternate, allowance, rates
    FROM scope_lines WHERE company_id = ${db.companyId} AND revision_id = ${revision.basedOnId}`;
  await reprice(db, revision.id);
  await db.audit({
    action: "revision.started",
    entity: "revision",
    entityId: revision.id,
    jobId,
    words: `${nameOf(revision)} started.`,
  });
  await refreshJob(db, jobId, today);
  return { id: revision.id };
}

export async function discardRevision(hand: Hand, revisionId: string): Promise<{ done: true }> {
  const { db, today } = hand;
  const { revision } = await takeDraft(hand, revisionId, "edit_revision");
  await db.sql`DELETE FROM scope_lines WHERE company_id = ${db.companyId} AND revision_id = ${revisionId}`;
  await db.sql`DELETE FROM revisions WHERE company_id = ${db.companyId} AND id = ${revisionId}`;
  await db.audit({
    action: "revision.discarded",
    entity: "revision",
    entityId: revisionId,
    jobId: revision.jobId,
    words: `${nameOf(revision)} was thrown away before it was issued.`,
  });
  await refreshJob(db, revision.jobId, today);
  return { done: true };
}
