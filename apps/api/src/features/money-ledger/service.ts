import { type Input, type Output, type quotes, words } from "@ledgerboard/contracts";
import { sayDate } from "@ledgerboard/contracts/dates";
import { formatMoney } from "@ledgerboard/contracts/money";
import type { TenantDb } from "@ledgerboard/database";
import { illegalMove, invalid } from "../../problem.ts";
import { refreshJob, takeJob } from "../jobs/facts.ts";
import { usd } from "../money.ts";
import { capOf, limitOf, sayCap, sayLimit, showCap, suggestDeposit } from "./cap.ts";
import { listEntries, readContract, readEntry, readRequest, sumPaid } from "./queries.ts";

/** Contract, deposit, ledger and balance of a job. */
export async function getJobMoney(db: TenantDb, jobId: string): Promise<quotes.JobMoney> {
  const record = await readContract(db, jobId);
  const { contract, depositShareBp } = record;
  const cap = capOf(record);
  const entries = await listEntries(db, jobId);
  const paid = entries.reduce((sum, entry) => sum + entry.amount.cents, 0);
  return {
    jobId,
    contract: contract && usd(contract.priceCents),
    request: await readRequest(db, jobId, contract?.quoteId ?? null),
    cap: cap && showCap(cap),
    suggested: contract && cap && usd(suggestDeposit(contract.priceCents, depositShareBp, cap)),
    paid: usd(paid),
    balance: contract && usd(contract.priceCents - paid),
    entries,
  };
}

/** Asks the customer for the deposit. Refuses more than a confirmed limit of the state, and more than the contract. */
export async function requestDeposit(
  db: TenantDb,
  jobId: string,
  body: Input<typeof quotes.requestDeposit>["body"],
  today: string,
): Promise<{ id: string }> {
  await takeJob(db, jobId, today, "request_deposit");
  const record = await readContract(db, jobId);
  const cap = capOf(record);
  if (!record.contract || !cap)
    throw illegalMove("The customer has not signed. Ask for no money before that.");
  const { quoteId, priceCents } = record.contract;
  const { cents } = body.amount;
  const limit = limitOf(cap);
  if (limit !== null && !cap.unsure && cents > limit) throw invalid("body.amount", sayLimit(cap, limit));
  if (cents > priceCents) {
    throw invalid("body.amount", `At most the whole contract, ${formatMoney(priceCents)}.`);
  }
  if (body.dueOn < today) throw invalid("body.dueOn", "That day has passed. Choose today or a later day.");
  const [request] = await db.sql<{ id: string }>`
    INSERT INTO deposit_requests (company_id, job_id, quote_id, amount_cents, cap_cents, cap_source, due_on, requested_by_id)
    VALUES (${db.companyId}, ${jobId}, ${quoteId}, ${cents}, ${limit}, ${cap.source}, ${body.dueOn}, ${db.memberId}) RETURNING id`;
  if (!request) throw new Error("The deposit request was not stored.");
  const asked =
    cents === 0 ? "No deposit asked." : `Deposit of ${formatMoney(cents)} asked, due ${sayDate(body.dueOn)}.`;
  await db.audit({
    action: "deposit.requested",
    entity: "deposit_request",
    entityId: request.id,
    jobId,
    words: `${asked} ${sayCap(cap)}`,
  });
  await refreshJob(db, jobId, today);
  return request;
}

/** Before work starts, money above the limit is on record like any other, but the record says so. */
async function sayExcess(db: TenantDb, jobId: string, paidCents: number): Promise<string> {
  const cap = capOf(await readContract(db, jobId));
  const limit = cap && limitOf(cap);
  if (!cap || limit === null || paidCents <= limit) return "";
  return ` Before work starts that is ${formatMoney(paidCents - limit)} too much. ${sayLimit(cap, limit)}`;
}

/** Enters money received, or paid back. */
export async function recordPayment(
  db: TenantDb,
  jobId: string,
  body: Input<typeof quotes.recordPayment>["body"],
  today: string,
): Promise<Output<typeof quotes.recordPayment>> {
  const job = await takeJob(db, jobId, today, "record_payment");
  if (body.receivedOn > today) throw invalid("body.receivedOn", "That day is still to come.");
  const paid = await sumPaid(db, jobId);
  const { kind, method, reference } = body;
  if (kind === "refund" && body.amount.cents > paid) {
    throw invalid("body.amount", `At most ${formatMoney(paid)} can be paid back: no more was paid.`);
  }
  const cents = kind === "refund" ? -body.amount.cents : body.amount.cents;
  const [row] = await db.sql<{ id: string }>`
    INSERT INTO payments (company_id, job_id, kind, method, amount_cents, received_on, reference, recorded_by_id)
    VALUES (${db.companyId}, ${jobId}, ${kind}, ${method}, ${cents}, ${body.receivedOn}, ${reference}, ${db.memberId})
    RETURNING id`;
  if (!row) throw new Error("The payment was not stored.");
  const started = job.facts.booking?.started === true;
  const excess = kind === "receipt" && !started ? await sayExcess(db, jobId, paid + cents) : "";
  const what = `${formatMoney(body.amount.cents)} ${kind === "refund" ? "paid back" : "received"} by ${words(method)}`;
  await db.audit({
    action: `payment.${kind}`,
    entity: "payment",
    entityId: row.id,
    jobId,
    words: `${what} on ${sayDate(body.receivedOn)}${reference && ` (${reference})`}.${excess}`,
  });
  await refreshJob(db, jobId, today);
  return (await readEntry(db, row.id)).entry;
}

/** Undoes an entry by its opposite, once. */
export async function reversePayment(
  db: TenantDb,
  paymentId: string,
  why: string,
  today: string,
): Promise<Output<typeof quotes.reversePayment>> {
  const { jobId } = await readEntry(db, paymentId);
  await takeJob(db, jobId, today, "record_payment");
  const { entry } = await readEntry(db, paymentId);
  if (entry.kind === "reversal") {
    throw illegalMove("This is itself a reversal. Enter the money again if it was right after all.");
  }
  if (entry.reversed) throw illegalMove("This entry has already been reversed.");
  const cents = -entry.amount.cents;
  if ((await sumPaid(db, jobId)) + cents < 0) {
    throw illegalMove("More would be paid back than was paid. Reverse the refund of it first.");
  }
  const [row] = await db.sql<{ id: string }>`
    INSERT INTO payments (company_id, job_id, kind, method, amount_cents, received_on, reference, reverses_id, why, recorded_by_id)
    VALUES (${db.companyId}, ${jobId}, 'reversal', ${entry.method}, ${cents}, ${today}, ${entry.reference}, ${paymentId}, ${why},
            ${db.memberId}) RETURNING id`;
  if (!row) throw new Error("The reversal was not stored.");
  const money = formatMoney(Math.abs(cents));
  await db.audit({
    action: "payment.reversed",
    entity: "payment",
    entityId: row.id,
    jobId,
    words: `The ${entry.kind} of ${money} entered for ${sayDate(entry.receivedOn)} was reversed: ${why}`,
  });
  await refreshJob(db, jobId, today);
  return (await readEntry(db, row.id)).entry;
}
