import type { Output, quotes } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { notFound } from "../../problem.ts";
import { usd } from "../money.ts";

type LedgerEntry = Output<typeof quotes.recordPayment>;
type DepositRow = Output<typeof quotes.listDeposits>["items"][number];

/** What the money of a job is measured against; the contract is null unless a signature stands. */
export interface ContractRecord {
  /** State of the property: the law of the place of work applies. */
  state: string;
  depositShareBp: number;
  contract: { quoteId: string; number: string; priceCents: number } | null;
}

export async function readContract(db: TenantDb, jobId: string): Promise<ContractRecord> {
  const [row] = await db.sql<ContractRecord>`
    SELECT p.state, co.deposit_share_bp AS "depositShareBp",
      (SELECT json_build_object('quoteId', q.id, 'number', q.number, 'priceCents', q.price_cents)
         FROM acceptances a
         JOIN quotes q ON q.company_id = a.company_id AND q.id = a.quote_id
         LEFT JOIN acceptance_voids v ON v.company_id = a.company_id AND v.acceptance_id = a.id
         WHERE a.company_id = j.company_id AND a.job_id = j.id AND v.id IS NULL ORDER BY a.id DESC LIMIT 1) AS contract
    FROM jobs j
    JOIN companies co ON co.company_id = j.company_id
    JOIN properties p ON p.company_id = j.company_id AND p.id = j.property_id
    WHERE j.company_id = ${db.companyId} AND j.id = ${jobId}`;
  if (!row) throw notFound("job");
  return row;
}

/** The newest deposit asked for; of the contract where one stands, since an earlier contract's request ended with it. */
export async function readRequest(
  db: TenantDb,
  jobId: string,
  quoteId: string | null,
): Promise<quotes.JobMoney["request"]> {
  const [row] = await db.sql<{ id: string; cents: number; dueOn: string; requestedAt: string }>`
    SELECT id, amount_cents AS cents, due_on AS "dueOn", created_at AS "requestedAt" FROM deposit_requests
    WHERE company_id = ${db.companyId} AND job_id = ${jobId} AND (${quoteId}::uuid IS NULL OR quote_id = ${quoteId}::uuid)
    ORDER BY id DESC LIMIT 1`;
  return row ? { id: row.id, amount: usd(row.cents), dueOn: row.dueOn, requestedAt: row.requestedAt } : null;
}

/** All that was paid less all that was paid back, in whole cents: the sum of the entries, never anything else. */
export async function sumPaid(db: TenantDb, jobId: string): Promise<number> {
  const [row] = await db.sql<{ paid: number }>`
    SELECT coalesce(sum(amount_cents), 0)::bigint AS paid FROM payments
    WHERE company_id = ${db.companyId} AND job_id = ${jobId}`;
  return row?.paid ?? 0;
}

interface EntryRecord extends Omit<LedgerEntry, "amount"> {
  cents: number;
}

const toEntry = ({ cents, ...rest }: EntryRecord): LedgerEntry => ({ ...rest, amount: usd(cents) });

/** The ledger of a job in the order it was written. */
export async function listEntries(db: TenantDb, jobId: string): Promise<LedgerEntry[]> {
  const rows = await db.sql<EntryRecord>`
    SELECT p.id, p.kind, p.method, p.amount_cents AS cents, p.received_on AS "receivedOn", p.reference,
           p.reverses_id AS "reversesId", r.id IS NOT NULL AS reversed, m.name AS by, p.created_at AS at
    FROM payments p
    JOIN members m ON m.company_id = p.company_id AND m.id = p.recorded_by_id
    LEFT JOIN payments r ON r.company_id = p.company_id AND r.reverses_id = p.id
    WHERE p.company_id = ${db.companyId} AND p.job_id = ${jobId} ORDER BY p.id`;
  return rows.map(toEntry);
}

/** One entry of the ledger, with its job. Not found is a problem. */
export async function readEntry(
  db: TenantDb,
  paymentId: string,
): Promise<{ jobId: string; entry: LedgerEntry }> {
  const [row] = await db.sql<EntryRecord & { jobId: string }>`
    SELECT p.job_id AS "jobId", p.id, p.kind, p.method, p.amount_cents AS cents, p.received_on AS "receivedOn", p.reference,
           p.reverses_id AS "reversesId", r.id IS NOT NULL AS reversed, m.name AS by, p.created_at AS at
    FROM payments p
    JOIN members m ON m.company_id = p.company_id AND m.id = p.recorded_by_id
    LEFT JOIN payments r ON r.company_id = p.company_id AND r.reverses_id = p.id
    WHERE p.company_id = ${db.companyId} AND p.id = ${paymentId}`;
  if (!row) throw notFound("payment");
  const { jobId, ...rest } = row;
  return { jobId, entry: toEntry(rest) };
}

/** Jobs with a standing signature and not closed, the newest job first, after a job. `due` takes in what is late. */
export async function listDeposits(
  db: TenantDb,
  state: "due" | "paid" | "not_asked" | "all",
  today: string,
  after: string | null,
  limit: number,
): Promise<DepositRow[]> {
  const rows = await db.sql<
    Omit<DepositRow, "contract" | "due" | "paid"> & { contract: number; due: number | null; paid: number }
  >`
    SELECT * FROM (
      SELECT j.id AS "jobId", j.number, j.customer_name AS "customerName", q.price_cents AS contract,
             d.amount_cents AS due, paid.cents AS paid, d.due_on AS "dueOn",
             CASE WHEN d.amount_cents IS NULL THEN 'not_asked' WHEN paid.cents >= d.amount_cents THEN 'paid'
                  WHEN d.due_on < ${today}::date THEN 'overdue' ELSE 'due' END AS state
      FROM acceptances a
      JOIN quotes q ON q.company_id = a.company_id AND q.id = a.quote_id
      JOIN job_rows j ON j.company_id = a.company_id AND j.id = a.job_id
      LEFT JOIN LATERAL (SELECT r.amount_cents, r.due_on FROM deposit_requests r
        WHERE r.company_id = a.company_id AND r.job_id = a.job_id AND r.quote_id = a.quote_id
        ORDER BY r.id DESC LIMIT 1) d ON true
      CROSS JOIN LATERAL (SELECT coalesce(sum(p.amount_cents), 0)::bigint AS cents FROM payments p
        WHERE p.company_id = a.company_id AND p.job_id = a.job_id) paid
      WHERE a.company_id = ${db.companyId} AND j.closed_on IS NULL
        AND NOT EXISTS (SELECT FROM acceptance_voids v WHERE v.company_id = a.company_id AND v.acceptance_id = a.id)
        AND (${after}::uuid IS NULL OR j.id < ${after}::uuid)
    ) signed
    WHERE ${state} = 'all' OR state = ${state} OR (${state} = 'due' AND state = 'overdue')
    ORDER BY "jobId" DESC LIMIT ${limit}`;
  return rows.map(({ contract, due, paid, ...rest }) => ({
    ...rest,
    contract: usd(contract),
    due: due === null ? null : usd(due),
    paid: usd(paid),
  }));
}
