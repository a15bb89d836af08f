import type { Input, quotes } from "@ledgerboard/contracts";
import { sayDate } from "@ledgerboard/contracts/dates";
import { formatMoney } from "@ledgerboard/contracts/money";
import type { TenantDb } from "@ledgerboard/database";
import { type Cancellation, cancellation } from "@ledgerboard/rules";
import { illegalMove, invalid } from "../../problem.ts";
import { refreshJob, takeJob } from "../jobs/facts.ts";
import { nextNumber } from "../numbers.ts";
import { canonicalJson, quoteDocument, sha256 } from "./document.ts";
import { newestQuote, type QuoteRecord, readOffer, readQuote, stateOfQuote } from "./queries.ts";
import { standingSignature, voidSignature } from "./signature.ts";

/**
 * Ends every quote of a job that somebody could still sign, for a reason that is kept. A standing signature is
 * left alone. Returns the numbers of the quotes ended. The job must be locked; the caller refreshes it.
 */
export async function endOpenQuotes(
  db: TenantDb,
  jobId: string,
  kind: "superseded" | "withdrawn",
  why: string,
): Promise<string[]> {
  const open = await db.sql<{ id: string; number: string }>`
    SELECT q.id, q.number FROM quotes q
    LEFT JOIN quote_endings e ON e.company_id = q.company_id AND e.quote_id = q.id
    LEFT JOIN acceptances a ON a.company_id = q.company_id AND a.quote_id = q.id
    LEFT JOIN acceptance_voids v ON v.company_id = a.company_id AND v.acceptance_id = a.id
    WHERE q.company_id = ${db.companyId} AND q.job_id = ${jobId}
      AND e.id IS NULL AND (a.id IS NULL OR v.id IS NOT NULL)
    ORDER BY q.id`;
  for (const quote of open) {
    await db.sql`INSERT INTO quote_endings (company_id, quote_id, kind, why, member_id)
      VALUES (${db.companyId}, ${quote.id}, ${kind}, ${why}, ${db.memberId})`;
    await db.audit({
      action: `quote.${kind}`,
      entity: "quote",
      entityId: quote.id,
      jobId,
      words: `Quote ${quote.number} ${kind}: ${why}`,
    });
  }
  return open.map((quote) => quote.number);
}

/** A signature on an older scope does not carry over to a new offer: it is voided, and the customer asked again. */
async function voidStandingSignature(db: TenantDb, jobId: string, why: string): Promise<void> {
  const standing = await standingSignature(db, jobId);
  if (!standing) return;
  const words = `The signature of ${standing.signer} on quote ${standing.quoteNumber} no longer stands: ${why}`;
  await voidSignature(db, jobId, standing, { why, words });
}

/** Issues a numbered, expiring quote from the newest issued revision and freezes what it offers. */
export async function issueQuote(
  db: TenantDb,
  jobId: string,
  validDays: number | undefined,
  today: string,
): Promise<{ id: string }> {
  await takeJob(db, jobId, today, "issue_quote");
  const offer = await readOffer(db, jobId);
  const document = quoteDocument(offer, today, validDays ?? offer.quoteValidDays);
  const text = canonicalJson(document);
  const number = await nextNumber(db, `Q-${today.slice(2, 4)}`);
  await voidStandingSignature(db, jobId, `Replaced by quote ${number}.`);
  await endOpenQuotes(db, jobId, "superseded", `Replaced by quote ${number}.`);
  const [quote] = await db.sql<{ id: string }>`
    INSERT INTO quotes (company_id, job_id, revision_id, number, price_cents, document, document_text, document_sha256,
                        issued_on, expires_on, issued_by_id)
    VALUES (${db.companyId}, ${jobId}, ${offer.revisionId}, ${number}, ${offer.priceCents}, ${text}, ${text}, ${sha256(text)},
            ${today}, ${document.expiresOn}, ${db.memberId}) RETURNING id`;
  if (!quote) throw new Error("The quote was not stored.");
  await db.audit({
    action: "quote.issued",
    entity: "quote",
    entityId: quote.id,
    jobId,
    words: `Quote ${number} issued for ${formatMoney(offer.priceCents)}, to be signed by ${sayDate(document.expiresOn)}.`,
  });
  await refreshJob(db, jobId, today);
  return quote;
}

/** Refuses a quote that is not the one now out: only the newest may be answered. */
async function requireOut(db: TenantDb, quote: QuoteRecord, today: string): Promise<void> {
  const newest = await newestQuote(db, quote.jobId);
  if (newest && newest.id !== quote.id) {
    throw illegalMove(`Quote ${quote.number} was replaced by ${newest.number}. Use that one.`);
  }
  const state = stateOfQuote(quote, today);
  if (state !== "open" && state !== "expired") {
    throw illegalMove(`Quote ${quote.number} is ${state}. Issue a new quote.`);
  }
}

function checkSignature(
  quote: QuoteRecord,
  body: Input<typeof quotes.recordAcceptance>["body"],
  today: string,
): void {
  if (body.documentSha256 !== quote.documentSha256) {
    throw invalid(
      "body.documentSha256",
      `The signed paper is not quote ${quote.number} as it was issued. Have this exact quote signed.`,
    );
  }
  if (body.signedOn > today) throw invalid("body.signedOn", "That day is still to come.");
  if (body.signedOn < quote.issuedOn) {
    throw invalid("body.signedOn", `The quote was issued on ${sayDate(quote.issuedOn)}, after that day.`);
  }
  if (body.signedOn > quote.expiresOn) {
    throw invalid("body.signedOn", `The quote ran out on ${sayDate(quote.expiresOn)}, before that day.`);
  }
}

function sayCancellation(right: Cancellation): string {
  if (!right.lastDay) return `No federal right to cancel. ${right.rule} ${right.checkLocalLaw}`;
  return `The right to cancel runs to ${sayDate(right.lastDay)} (${right.source}). ${right.checkLocalLaw}`;
}

/** Records the customer's signature on one exact quote, and until when the sale may be cancelled. */
export async function recordAcceptance(
  db: TenantDb,
  quoteId: string,
  body: Input<typeof quotes.recordAcceptance>["body"],
  today: string,
): Promise<{ id: string }> {
  const { jobId } = await readQuote(db, quoteId);
  await takeJob(db, jobId, today, "record_acceptance");
  const quote = await readQuote(db, quoteId);
  await requireOut(db, quote, today);
  checkSignature(quote, body, today);
  const { signer, signedOn, signedAt } = body;
  const right = cancellation({ signedOn, signedAt, contractCents: quote.priceCents });
  const [acceptance] = await db.sql<{ id: string }>`
    INSERT INTO acceptances (company_id, job_id, quote_id, signer, signed_on, signed_at, document_sha256, cancel_until, recorded_by_id)
    VALUES (${db.companyId}, ${jobId}, ${quoteId}, ${signer}, ${signedOn}, ${signedAt}, ${quote.documentSha256},
            ${right.lastDay}, ${db.memberId}) RETURNING id`;
  if (!acceptance) throw new Error("The signature was not stored.");
  await db.audit({
    action: "quote.accepted",
    entity: "quote",
    entityId: quoteId,
    jobId,
    words: `${signer} signed quote ${quote.number} for ${formatMoney(quote.priceCents)} on ${sayDate(signedOn)}. ${sayCancellation(right)}`,
  });
  await refreshJob(db, jobId, today);
  return acceptance;
}

/** Records that the customer said no to the quote now out. */
export async function declineQuote(
  db: TenantDb,
  quoteId: string,
  why: string,
  today: string,
): Promise<{ done: true }> {
  const { jobId } = await readQuote(db, quoteId);
  await takeJob(db, jobId, today, "decline_quote");
  const quote = await readQuote(db, quoteId);
  await requireOut(db, quote, today);
  await db.sql`INSERT INTO quote_endings (company_id, quote_id, kind, why, member_id)
    VALUES (${db.companyId}, ${quoteId}, 'declined', ${why}, ${db.memberId})`;
  await db.audit({
    action: "quote.declined",
    entity: "quote",
    entityId: quoteId,
    jobId,
    words: `The customer declined quote ${quote.number}: ${why}`,
  });
  await refreshJob(db, jobId, today);
  return { done: true };
}
