import type { RevisionKind } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import {
  type Allowance,
  type Charge,
  type ComparableLine,
  type MaterialityPolicy,
  type PricedRevision as Priced,
  type PricingTerms,
  priceRevision,
} from "@ledgerboard/estimating";
import { illegalMove, notFound } from "../../problem.ts";

/** Terms a revision was started with. */
export interface Terms extends PricingTerms {
  /** How far the labor of different lines runs over together, for the spread of the cost. */
  laborCorrelationBp: number;
}

/** A revision without its lines. */
export interface RevisionRow extends Terms {
  id: string;
  jobId: string;
  number: number;
  kind: RevisionKind;
  basedOnId: string | null;
  priceBookId: string;
  priceBookName: string;
  priceBookFrom: string;
  charges: Charge[];
  /** Whether somebody set the margin of this draft apart from its book. */
  marginByHand: boolean;
  /** Whether the property is exposed to salt, which decides between substitutes. */
  salt: boolean;
  /** Year the house was built; null when nobody knows. */
  yearBuilt: number | null;
  note: string;
  author: string;
  createdAt: string;
  issuedAt: string | null;
  version: number;
}

/** A scope line as it is stored; its price follows from it and the revision's terms. */
export interface StoredLine extends ComparableLine {
  revisionId: string;
  description: string;
  alternate: string | null;
  allowance: Allowance | null;
  reviewed: boolean;
  version: number;
}

export async function findRevision(db: TenantDb, revisionId: string): Promise<RevisionRow> {
  const [row] = await db.sql<RevisionRow>`
    SELECT r.id, r.job_id AS "jobId", r.number, r.kind, r.based_on_id AS "basedOnId", r.price_book_id AS "priceBookId",
           b.name AS "priceBookName", b.effective_from AS "priceBookFrom", p.salt_exposure AS salt, p.year_built AS "yearBuilt", r.charges,
           r.minimum_charge_cents AS "minimumChargeCents", r.round_up_to_cents AS "roundUpToCents",
           r.labor_correlation_bp AS "laborCorrelationBp", r.margin_by_hand AS "marginByHand", r.overhead_bp AS "overheadBp", r.margin_bp AS "marginBp",
           r.material_tax_bp AS "materialTaxBp", r.note, m.name AS author, r.created_at AS "createdAt",
           r.issued_at AS "issuedAt", r.version
    FROM revisions r
    JOIN price_books b ON b.company_id = r.company_id AND b.id = r.price_book_id
    JOIN jobs j ON j.company_id = r.company_id AND j.id = r.job_id
    JOIN properties p ON p.company_id = j.company_id AND p.id = j.property_id
    JOIN members m ON m.company_id = r.company_id AND m.id = r.author_id
    WHERE r.company_id = ${db.companyId} AND r.id = ${revisionId}`;
  if (!row) throw notFound("revision");
  return row;
}

/** Ids of a job's revisions, oldest first. */
export const listRevisions = (
  db: TenantDb,
  jobId: string,
): Promise<{ id: string; kind: RevisionKind; basedOnId: string | null; issued: boolean }[]> => db.sql`
  SELECT id, kind, based_on_id AS "basedOnId", issued_at IS NOT NULL AS issued
  FROM revisions WHERE company_id = ${db.companyId} AND job_id = ${jobId} ORDER BY number`;

/** Lines of a revision in their order; only the one of `lineageId` when that is given. */
export const listLines = (
  db: TenantDb,
  revisionId: string,
  lineageId: string | null = null,
): Promise<StoredLine[]> => db.sql`
  SELECT l.id, l.revision_id AS "revisionId", l.lineage_id AS "lineageId", l.zone_id AS "zoneId", z.name AS "zoneName",
         l.component, l.action, l.assembly_code AS "assemblyCode", l.description, trim_scale(l.quantity)::text AS quantity,
         l.unit, l.evidence, l.by, l.alternate, l.allowance,
         l.reason_code AS "reasonCode", l.reason, l.reviewed_at IS NOT NULL AS reviewed,
         l.rates, l.version
  FROM scope_lines l JOIN zones z ON z.company_id = l.company_id AND z.id = l.zone_id
  WHERE l.company_id = ${db.companyId} AND l.revision_id = ${revisionId}
    AND (${lineageId}::uuid IS NULL OR l.lineage_id = ${lineageId})
  ORDER BY l.position, l.id`;

/** Where a line is kept. Not found is a problem. */
export async function findLine(
  db: TenantDb,
  lineId: string,
): Promise<{ revisionId: string; lineageId: string }> {
  const [row] = await db.sql<{ revisionId: string; lineageId: string }>`
    SELECT revision_id AS "revisionId", lineage_id AS "lineageId"
    FROM scope_lines WHERE company_id = ${db.companyId} AND id = ${lineId}`;
  if (!row) throw notFound("scope line");
  return row;
}

/** A revision with everything in it priced by its own terms. */
export type PricedRevision = Priced<StoredLine, Charge> & { revision: RevisionRow };

export async function readPriced(db: TenantDb, revisionId: string): Promise<PricedRevision> {
  const revision = await findRevision(db, revisionId);
  const lines = await listLines(db, revisionId);
  return { revision, ...priceRevision({ lines, charges: revision.charges }, revision) };
}

/** Lines of a site review that carry money, now or when something is found, and that nobody has looked at yet. */
export function unreviewed({ revision, lines }: PricedRevision): { lines: number; cents: number } {
  const carriesMoney = (l: (typeof lines)[number]) => l.price.priceCents > 0 || l.agreed !== null;
  const left = lines.filter((l) => revision.kind === "site_review" && !l.reviewed && carriesMoney(l));
  return { lines: left.length, cents: left.reduce((sum, l) => sum + l.price.priceCents, 0) };
}

/** The company's materiality policy in effect on a day. */
export async function policyInEffect(
  db: TenantDb,
  today: string,
): Promise<MaterialityPolicy & { id: string; effectiveFrom: string }> {
  const [row] = await db.sql<MaterialityPolicy & { id: string; effectiveFrom: string }>`
    SELECT id, effective_from AS "effectiveFrom", amount_cents AS "amountCents", percent_bp AS "percentBp",
           trim_scale(hours)::text AS hours, structural_action AS "structuralAction"
    FROM materiality_policies WHERE company_id = ${db.companyId} AND effective_from <= ${today}
    ORDER BY effective_from DESC, id DESC LIMIT 1`;
  if (!row)
    throw illegalMove("No materiality policy is in effect. The owner sets one in the company's settings.");
  return row;
}
