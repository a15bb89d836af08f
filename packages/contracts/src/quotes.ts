import { z } from "zod";
import {
  because,
  created,
  cursor,
  day,
  done,
  id,
  instant,
  line,
  money,
  moneyIn,
  note,
  page,
  queryInt,
} from "./common.ts";
import { endpoint } from "./endpoint.ts";
import { PAYMENT_KINDS, PAYMENT_METHODS, SIGNING_PLACES } from "./vocabulary.ts";

/** What a quote offers, frozen when it is issued: the customer signs exactly this. */
export const quoteDocument = z.object({
  company: z.object({
    name: z.string(),
    address: z.string(),
    phone: z.string().nullable(),
    licenceLine: z.string(),
    insuranceLine: z.string(),
  }),
  customerName: z.string(),
  property: z.string(),
  jobNumber: z.string(),
  title: z.string(),
  lines: z.array(
    z.object({
      zone: z.string(),
      words: z.string(),
      by: z.string(),
      price: money,
    }),
  ),
  /** Costs of the whole job: permit, travel, whole packs, rounding. Older quotes have none of what follows. */
  wholeJob: z.array(z.object({ words: z.string(), price: money })).default([]),
  /** Optional extras, priced beside the offer and not part of it. */
  alternates: z.array(z.object({ name: z.string(), lines: z.array(z.string()), price: money })).default([]),
  /** What cannot be seen yet: charged at the agreed unit price if it is found, up to the cap. */
  ifFound: z
    .array(
      z.object({
        zone: z.string(),
        words: z.string(),
        unitPrice: money,
        perUnit: z.string(),
        capQuantity: z.string(),
        cap: money,
      }),
    )
    .default([]),
  /** Existing conditions short of today's code, with what the customer decided. */
  advisories: z
    .array(z.object({ words: z.string(), reference: z.string(), decision: z.string() }))
    .default([]),
  price: money,
  issuedOn: day,
  expiresOn: day,
  cautions: z.array(z.string()),
});
export const quote = z.object({
  id,
  number: z.string(),
  jobId: id,
  revisionId: id,
  price: money,
  issuedAt: instant,
  expiresOn: day,
  state: z.enum(["open", "accepted", "superseded", "declined", "expired", "void"]),
  documentSha256: z.string(),
  document: quoteDocument,
  acceptance: z
    .object({
      signer: z.string(),
      signedOn: day,
      signedAt: z.enum(SIGNING_PLACES),
      cancelUntil: day.nullable(),
      voidWhy: z.string().nullable(),
    })
    .nullable(),
});
export type Quote = z.infer<typeof quote>;

const quoteId = z.strictObject({ quoteId: id });
const jobId = z.strictObject({ jobId: id });

export const issueQuote = endpoint({
  id: "issueQuote",
  method: "POST",
  path: "/jobs/:jobId/quotes",
  tag: "quotes",
  summary: "Issue a numbered, expiring quote from the newest issued revision.",
  access: "quotes.issue",
  idempotent: true,
  params: jobId,
  body: z.strictObject({
    validDays: z.int().min(1, "At least one day.").max(365, "At most 365 days.").optional(),
  }),
  response: created,
  status: 201,
});
export const getQuote = endpoint({
  id: "getQuote",
  method: "GET",
  path: "/quotes/:quoteId",
  tag: "quotes",
  summary: "A quote as it was issued, with its signature if any.",
  access: "quotes.read",
  params: quoteId,
  response: quote,
  status: 200,
});
export const recordAcceptance = endpoint({
  id: "recordAcceptance",
  method: "POST",
  path: "/quotes/:quoteId/acceptance",
  tag: "quotes",
  summary: "Record the customer's signature on this exact quote.",
  access: "quotes.record_acceptance",
  idempotent: true,
  params: quoteId,
  body: z.strictObject({
    signer: line(120),
    signedOn: day,
    signedAt: z.enum(SIGNING_PLACES),
    /** The hash of the document that was signed, as shown with the quote. */
    documentSha256: z.string().regex(/^[0-9a-f]{64}$/, "Not a SHA-256."),
  }),
  response: created,
  status: 201,
});
export const declineQuote = endpoint({
  id: "declineQuote",
  method: "POST",
  path: "/quotes/:quoteId/decline",
  tag: "quotes",
  summary: "Record that the customer said no to this quote.",
  access: "quotes.record_acceptance",
  idempotent: true,
  params: quoteId,
  body: z.strictObject({ why: because() }),
  response: done,
  status: 200,
});

export const ledgerEntry = z.object({
  id,
  kind: z.enum(PAYMENT_KINDS),
  method: z.enum(PAYMENT_METHODS),
  /** Signed: receipts are positive, refunds negative, a reversal is the opposite of what it reverses. */
  amount: money,
  receivedOn: day,
  reference: z.string(),
  reversesId: id.nullable(),
  reversed: z.boolean(),
  by: z.string(),
  at: instant,
});
const cap = z.object({
  status: z.string(),
  cap: money.nullable(),
  rule: z.string(),
  source: z.string(),
  asOf: z.string(),
  unsure: z.boolean(),
  checkLocalLaw: z.string(),
});
export const jobMoney = z.object({
  jobId: id,
  contract: money.nullable(),
  request: z.object({ id, amount: money, dueOn: day, requestedAt: instant }).nullable(),
  /** What may lawfully be asked for this contract. */
  cap: cap.nullable(),
  suggested: money.nullable(),
  paid: money,
  balance: money.nullable(),
  entries: z.array(ledgerEntry),
});
export type JobMoney = z.infer<typeof jobMoney>;

export const getJobMoney = endpoint({
  id: "getJobMoney",
  method: "GET",
  path: "/jobs/:jobId/money",
  tag: "money",
  summary: "Contract, deposit request, ledger entries and balance of a job.",
  access: "money.read",
  params: jobId,
  response: jobMoney,
  status: 200,
});
export const listDeposits = endpoint({
  id: "listDeposits",
  method: "GET",
  path: "/deposits",
  tag: "money",
  summary: "Signed jobs with their deposits: what is due, paid and late.",
  access: "money.read",
  query: z.strictObject({
    state: z.enum(["due", "paid", "not_asked", "all"]).default("all"),
    after: cursor.optional(),
    limit: queryInt(1, 100).default(50),
  }),
  response: page(
    z.object({
      jobId: id,
      number: z.string(),
      customerName: z.string(),
      contract: money,
      due: money.nullable(),
      paid: money,
      dueOn: day.nullable(),
      state: z.enum(["due", "overdue", "paid", "not_asked"]),
    }),
  ),
  status: 200,
});
export const requestDeposit = endpoint({
  id: "requestDeposit",
  method: "POST",
  path: "/jobs/:jobId/deposit-requests",
  tag: "money",
  summary: "Ask for the deposit. More than the state's cap is refused, with the cap and its source.",
  access: "money.record",
  idempotent: true,
  params: jobId,
  body: z.strictObject({ amount: moneyIn, dueOn: day }),
  response: created,
  status: 201,
});
export const recordPayment = endpoint({
  id: "recordPayment",
  method: "POST",
  path: "/jobs/:jobId/payments",
  tag: "money",
  summary: "Enter money received, or paid back (kind refund).",
  access: "money.record",
  idempotent: true,
  params: jobId,
  body: z.strictObject({
    kind: z.enum(["receipt", "refund"]).default("receipt"),
    method: z.enum(PAYMENT_METHODS),
    amount: moneyIn.refine((v) => v.cents > 0, { path: ["cents"], message: "More than zero." }),
    receivedOn: day,
    reference: note(120).default(""),
  }),
  response: ledgerEntry,
  status: 201,
});
export const reversePayment = endpoint({
  id: "reversePayment",
  method: "POST",
  path: "/payments/:paymentId/reversal",
  tag: "money",
  summary: "Undo a wrong entry by its opposite; the ledger is never edited.",
  access: "money.reverse",
  idempotent: true,
  params: z.strictObject({ paymentId: id }),
  body: z.strictObject({ why: because(200) }),
  response: ledgerEntry,
  status: 201,
});
