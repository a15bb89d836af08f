import type { customers, Input, jobs, LeadSource } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { toDate } from "../../days.ts";
import { invalid, notFound } from "../../problem.ts";
import { findDuplicatesOf, readMainCustomer, readProperty } from "../customers/queries.ts";
import { createCustomer, createProperty } from "../customers/service.ts";
import { nextNumber } from "../numbers.ts";
import { refreshJob } from "./facts.ts";

interface Inquiry {
  source: LeadSource;
  words: string;
  title: string;
  hazard: string | null;
  customerId: string;
  propertyId: string;
  salespersonId: string | null;
  contact: { name: string; phone: string | null; email: string | null };
}

/** Opens a job for an inquiry: number, job and the lead exactly as it came in. */
async function openJob(
  db: TenantDb,
  inquiry: Inquiry,
  today: string,
): Promise<{ jobId: string; number: string }> {
  const [company] = await db.sql<{ prefix: string }>`
    SELECT job_prefix AS prefix FROM companies WHERE company_id = ${db.companyId}`;
  if (!company) throw notFound("company");
  const number = await nextNumber(db, `${company.prefix}-${today.slice(2, 4)}`);
  const job = await db.prisma.job.create({
    data: {
      number,
      title: inquiry.title,
      hazard: inquiry.hazard,
      customerId: inquiry.customerId,
      propertyId: inquiry.propertyId,
      salespersonId: inquiry.salespersonId,
      inquiryOn: toDate(today),
    },
  });
  await db.prisma.lead.create({
    data: {
      jobId: job.id,
      source: inquiry.source,
      words: inquiry.words,
      contactName: inquiry.contact.name,
      contactPhone: inquiry.contact.phone,
      contactEmail: inquiry.contact.email,
    },
  });
  await db.audit({
    action: "job.opened",
    entity: "job",
    entityId: job.id,
    jobId: job.id,
    words: `Inquiry from ${inquiry.contact.name}: job ${number} opened.`,
    changes: { source: inquiry.source },
  });
  await refreshJob(db, job.id, today);
  return { jobId: job.id, number };
}

type LeadBody = Input<typeof jobs.createLead>["body"];

async function chooseCustomer(db: TenantDb, body: LeadBody): Promise<customers.Customer> {
  if (body.customerId && body.customer)
    throw invalid("body.customer", "Give a known customer or a new one, not both.");
  if (body.customerId) return readMainCustomer(db, body.customerId);
  if (!body.customer) throw invalid("body.customer", "Say who is asking.");
  if (!body.customer.phone && !body.customer.email) {
    throw invalid(
      "body.customer.phone",
      "Take a phone number or a mail address, so that somebody can answer.",
    );
  }
  return readMainCustomer(db, await createCustomer(db, body.customer));
}

async function chooseProperty(db: TenantDb, body: LeadBody, customerId: string): Promise<string> {
  if (body.propertyId && body.property)
    throw invalid("body.property", "Give a known property or a new one, not both.");
  if (!body.propertyId) {
    if (!body.property) throw invalid("body.property", "Say where the work is.");
    return createProperty(db, customerId, body.property);
  }
  const property = await readProperty(db, body.propertyId);
  const [owner] = await db.sql`
    SELECT p.id FROM properties p JOIN customers c ON c.company_id = p.company_id AND c.id = p.customer_id
    WHERE p.company_id = ${db.companyId} AND p.id = ${property.id} AND coalesce(c.merged_into_id, c.id) = ${customerId}`;
  if (!owner) throw invalid("body.propertyId", "That property belongs to another customer.");
  return property.id;
}

/** Takes an inquiry by phone; customers who share a phone number or mail address are offered for merging. */
export async function createLead(db: TenantDb, body: LeadBody, salespersonId: string | null, today: string) {
  const customer = await chooseCustomer(db, body);
  const propertyId = await chooseProperty(db, body, customer.id);
  const { source, words, title, hazard } = body;
  const opened = await openJob(
    db,
    { source, words, title, hazard, customerId: customer.id, propertyId, salespersonId, contact: customer },
    today,
  );
  return { ...opened, duplicates: await findDuplicatesOf(db, customer.id) };
}

type PublicBody = Input<typeof jobs.publicInquiry>["body"];

/** People take longer than this to fill in the form; programs do not. */
const FASTEST_PERSON_MS = 2_000;

/** Whether the public form was filled in by a program: a hidden field has text, or it was sent at once. */
export const isTrap = (body: PublicBody): boolean =>
  body.website !== "" || body.filledInMs < FASTEST_PERSON_MS;

/** Takes an inquiry from the public web form. */
export async function createPublicInquiry(
  db: TenantDb,
  body: PublicBody,
  state: string,
  today: string,
): Promise<void> {
  const { name, phone, email, street, city, postalCode } = body;
  const customerId = await createCustomer(db, { name, phone, email, notes: "" });
  const propertyId = await createProperty(db, customerId, {
    street,
    city,
    state,
    postalCode,
    latitude: null,
    longitude: null,
    yearBuilt: null,
    accessNotes: "",
    saltExposure: false,
  });
  await openJob(
    db,
    {
      source: "web_form",
      words: body.words,
      title: `Inquiry from ${city}`.slice(0, 120),
      hazard: body.unsafe ? "customer says unsafe" : null,
      customerId,
      propertyId,
      salespersonId: null,
      contact: { name, phone, email },
    },
    today,
  );
}
