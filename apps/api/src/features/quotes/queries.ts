import type { quotes, SigningPlace } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { notFound } from "../../problem.ts";
import { listAdvisories } from "../advisories/queries.ts";
import { readPriced } from "../estimates/queries.ts";
import { quoteState } from "../jobs/detail.ts";
import { usd } from "../money.ts";
import type { Offer } from "./document.ts";
import { offered } from "./offered.ts";

/** A quote with its ending and signature. */
export interface QuoteRecord {
  id: string;
  number: string;
  jobId: string;
  revisionId: string;
  priceCents: number;
  issuedAt: string;
  issuedOn: string;
  expiresOn: string;
  documentText: string;
  documentSha256: string;
  ending: string | null;
  signer: string | null;
  signedOn: string | null;
  signedAt: SigningPlace | null;
  cancelUntil: string | null;
  voidWhy: string | null;
}

/** A quote by its id. Not found is a problem. */
export async function readQuote(db: TenantDb, quoteId: string): Promise<QuoteRecord> {
  const [row] = await db.sql<QuoteRecord>`
    SELECT q.id, q.number, q.job_id AS "jobId", q.revision_id AS "revisionId", q.price_cents AS "priceCents",
           q.created_at AS "issuedAt", q.issued_on AS "issuedOn", q.expires_on AS "expiresOn",
           q.document_text AS "documentText", q.document_sha256 AS "documentSha256", e.kind AS ending,
           a.signer, a.signed_on AS "signedOn", a.signed_at AS "signedAt", a.cancel_until AS "cancelUntil", v.why AS "voidWhy"
    FROM quotes q
    LEFT JOIN quote_endings e ON e.company_id = q.company_id AND e.quote_id = q.id
    LEFT JOIN acceptances a ON a.company_id = q.company_id AND a.quote_id = q.id
    LEFT JOIN acceptance_voids v ON v.company_id = a.company_id AND v.acceptance_id = a.id
    WHERE q.company_id = ${db.companyId} AND q.id = ${quoteId}`;
  if (!row) throw notFound("quote");
  return row;
}

export function stateOfQuote(quote: QuoteRecord, today: string): quotes.Quote["state"] {
  const { ending, signer, voidWhy, expiresOn } = quote;
  return quoteState({ ending, signed: signer !== null, voided: voidWhy !== null, expiresOn }, today);
}

/** A quote as it was issued, with what became of it. */
export function toQuote(quote: QuoteRecord, today: string): quotes.Quote {
  const { id, number, jobId, revisionId, issuedAt, expiresOn, documentSha256 } = quote;
  const { signer, signedOn, signedAt, cancelUntil, voidWhy } = quote;
  return {
    id,
    number,
    jobId,
    revisionId,
    price: usd(quote.priceCents),
    issuedAt,
    expiresOn,
    state: stateOfQuote(quote, today),
    documentSha256,
    document: JSON.parse(quote.documentText) as quotes.Quote["document"],
    acceptance: signer && signedOn && signedAt ? { signer, signedOn, signedAt, cancelUntil, voidWhy } : null,
  };
}

/** Number of the newest quote of a job, whatever became of it. */
export async function newestQuote(
  db: TenantDb,
  jobId: string,
): Promise<{ id: string; number: string } | null> {
  const [row] = await db.sql<{ id: string; number: string }>`
    SELECT id, number FROM quotes WHERE company_id = ${db.companyId} AND job_id = ${jobId} ORDER BY id DESC LIMIT 1`;
  return row ?? null;
}

/** What a quote of this job would offer today: its newest issued revision. The job must have one. */
export async function readOffer(db: TenantDb, jobId: string): Promise<Offer> {
  const [head] = await db.sql<Omit<Offer, "lines" | "wholeJob" | "alternates" | "advisories">>`
    SELECT json_build_object('name', co.name, 'address', co.address, 'phone', co.phone,
             'licenceLine', co.licence_line, 'insuranceLine', co.insurance_line) AS company,
           co.quote_valid_days AS "quoteValidDays", j.customer_name AS "customerName",
           p.street || ', ' || p.city || ', ' || p.state || ' ' || p.postal_code AS property,
           p.year_built AS "yearBuilt", p.salt_exposure AS "saltExposure", j.number AS "jobNumber", j.title,
           r.id AS "revisionId", r.price_cents AS "priceCents"
    FROM job_rows j
    JOIN companies co ON co.company_id = j.company_id
    JOIN properties p ON p.company_id = j.company_id AND p.id = j.property_id
    JOIN revisions r ON r.company_id = j.company_id AND r.job_id = j.id AND r.issued_at IS NOT NULL
    WHERE j.company_id = ${db.companyId} AND j.id = ${jobId}
    ORDER BY r.number DESC LIMIT 1`;
  if (!head) throw notFound("issued revision");
  const priced = await readPriced(db, head.revisionId);
  return { ...head, ...offered(priced, await listAdvisories(db, jobId)) };
}
