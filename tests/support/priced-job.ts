import { localDay } from "@ledgerboard/api/days";
import { refreshJob } from "@ledgerboard/api/features/jobs/facts";
import type { Client, Harness, TestCompany } from "./harness.ts";

export interface PricedJob {
  jobId: string;
  number: string;
  customerId: string;
  propertyId: string;
  zoneId: string;
  revisionId: string;
}

interface Line {
  component: string;
  action: string;
  quantity: string;
  unit: string;
  description?: string;
  evidence?: string;
  by?: string;
  priceCents: number;
}

export interface PricedJobOptions {
  /** State of the property. */
  state?: string;
  yearBuilt?: number | null;
  salt?: boolean;
  priceCents?: number;
  hours?: string;
  lines?: Line[];
  promisedTo?: string;
}

let count = 0;

async function insert(h: Harness, table: string, row: Record<string, unknown>): Promise<string> {
  const columns = Object.keys(row);
  const { rows } = await h.admin.query(
    `INSERT INTO ${table} (${columns.join(", ")}) VALUES (${columns.map((_, i) => `$${i + 1}`).join(", ")}) RETURNING id`,
    Object.values(row),
  );
  return rows[0].id as string;
}

export const todayOf = (h: Harness): string => localDay(h.services.now(), "America/New_York");

/** Has the program derive a job's stage and facts anew after rows were arranged by hand. */
export async function refresh(h: Harness, companyId: string, jobId: string): Promise<void> {
  await h.database.withCompany(companyId, {}, (db) => refreshJob(db, jobId, todayOf(h)));
}

/** Rates at which so much of anything costs so many cents. */
const ratesFor = (cents: number, quantity: string) => ({
  materials: [],
  labor: [],
  disposalUnitCents: "0",
  equipmentUnitCents: (cents / Number(quantity)).toFixed(6),
  laborCvBp: 0,
});

/** Adds an issued revision with its lines; the price is what it is told, not worked out. */
export async function issueRevision(
  h: Harness,
  company: TestCompany,
  job: Pick<PricedJob, "jobId" | "zoneId">,
  { priceCents = 961_000, hours = "48", lines }: PricedJobOptions = {},
): Promise<string> {
  const company_id = company.companyId;
  const { rows: books } = await h.admin.query("SELECT id FROM price_books WHERE company_id = $1", [
    company_id,
  ]);
  const price_book_id =
    books[0]?.id ??
    (await insert(h, "price_books", {
      company_id,
      name: "Book",
      effective_from: "2026-01-01",
      overhead_bp: 1000,
      margin_bp: 2000,
    }));
  const { rows: estimates } = await h.admin.query(
    "INSERT INTO estimates (company_id, job_id) VALUES ($1, $2) ON CONFLICT (company_id, job_id) DO UPDATE SET job_id = excluded.job_id RETURNING id",
    [company_id, job.jobId],
  );
  const { rows: numbers } = await h.admin.query(
    "SELECT count(*)::int + 1 AS n FROM revisions WHERE company_id = $1 AND job_id = $2",
    [company_id, job.jobId],
  );
  const number = numbers[0].n as number;
  const revisionId = await insert(h, "revisions", {
    company_id,
    estimate_id: estimates[0].id,
    job_id: job.jobId,
    number,
    kind: number === 1 ? "first_pass" : "site_review",
    price_book_id,
    // At these terms a line comes to exactly what it is told to cost.
    overhead_bp: 0,
    margin_bp: 0,
    material_tax_bp: 0,
    author_id: company.estimator.memberId,
    hours,
    price_cents: priceCents,
  });
  const scope: Line[] = lines ?? [
    { component: "decking", action: "replace", quantity: "214", unit: "sqft", priceCents },
  ];
  for (const [position, { priceCents: cents, description, evidence, by, ...line }] of scope.entries()) {
    const { rows } = await h.admin.query("SELECT uuidv7() AS id");
    await insert(h, "scope_lines", {
      company_id,
      revision_id: revisionId,
      lineage_id: rows[0].id,
      position,
      zone_id: job.zoneId,
      ...line,
      description: description ?? "",
      evidence: evidence ?? "measured",
      by: by ?? "us",
      rates: cents === 0 ? null : ratesFor(cents, line.quantity),
      price_cents: cents,
    });
  }
  await h.admin.query(
    "UPDATE revisions SET issued_at = now(), issued_by_id = $3 WHERE company_id = $1 AND id = $2",
    [company_id, revisionId, company.estimator.memberId],
  );
  await refresh(h, company_id, job.jobId);
  return revisionId;
}

/** A job with one issued revision, arranged past the program: what quotes, deposits and bookings start from. */
export async function pricedJob(
  h: Harness,
  company: TestCompany,
  options: PricedJobOptions = {},
): Promise<PricedJob> {
  const company_id = company.companyId;
  const number = `TC-26-${String(++count).padStart(4, "0")}`;
  const customer_id = await insert(h, "customers", { company_id, name: `Customer ${count}` });
  const property_id = await insert(h, "properties", {
    company_id,
    customer_id,
    street: "12 Shore Road",
    city: "Annapolis",
    state: options.state ?? "MD",
    postal_code: "21401",
    year_built: options.yearBuilt === undefined ? 1990 : options.yearBuilt,
    salt_exposure: options.salt ?? false,
  });
  const jobId = await insert(h, "jobs", {
    company_id,
    number,
    title: "Deck repair",
    customer_id,
    property_id,
    inquiry_on: todayOf(h),
    promised_from: options.promisedTo ?? null,
    promised_to: options.promisedTo ?? null,
  });
  const zoneId = await insert(h, "zones", { company_id, job_id: jobId, name: "Lower deck", kind: "deck" });
  const revisionId = await issueRevision(h, company, { jobId, zoneId }, options);
  return { jobId, number, customerId: customer_id, propertyId: property_id, zoneId, revisionId };
}

/** Issues a quote over HTTP and returns it. */
export async function issueQuote(sales: Client, jobId: string, body: object = {}) {
  const issued = await sales.post(`/jobs/${jobId}/quotes`, body);
  if (issued.status !== 201) throw new Error(`No quote: ${JSON.stringify(issued.body)}`);
  return (await sales.get(`/quotes/${issued.body.id}`)).body;
}

/** A priced job whose customer signed today, over HTTP; at the office unless told, so no right to cancel runs. */
export async function signedJob(
  h: Harness,
  company: TestCompany,
  options: PricedJobOptions & { signedAt?: "home" | "office" | "remote" } = {},
): Promise<PricedJob & { quoteId: string }> {
  const { signedAt = "office", ...rest } = options;
  const job = await pricedJob(h, company, rest);
  const quote = await issueQuote(company.sales, job.jobId);
  const signed = await company.sales.post(`/quotes/${quote.id}/acceptance`, {
    signer: "Pat Doe",
    signedOn: todayOf(h),
    signedAt,
    documentSha256: quote.documentSha256,
  });
  if (signed.status !== 201) throw new Error(`Not signed: ${JSON.stringify(signed.body)}`);
  return { ...job, quoteId: quote.id };
}

/** The sentences of a job's timeline, oldest first. */
export async function timelineOf(h: Harness, jobId: string): Promise<string[]> {
  const { rows } = await h.admin.query("SELECT words FROM audit_entries WHERE job_id = $1 ORDER BY id", [
    jobId,
  ]);
  return rows.map((row) => row.words as string);
}
