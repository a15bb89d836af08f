import { z } from "zod";
import {
  basisPoints,
  cursor,
  day,
  decimal,
  email,
  id,
  instant,
  line,
  money,
  moneyIn,
  note,
  page,
  phone,
  queryInt,
  stateCode,
  version,
} from "./common.ts";
import { endpoint } from "./endpoint.ts";

const profile = {
  name: line(80),
  phone: phone.nullable(),
  email: email.nullable(),
  address: note(300),
  state: stateCode,
  timezone: line(60),
  licenceLine: note(200),
  insuranceLine: note(200),
  /** Share of the contract asked as deposit, before the lawful cap is applied. */
  depositShareBp: basisPoints(),
  quoteValidDays: z.int().min(1, "At least one day.").max(365, "At most 365 days."),
};
export const company = z.object({
  id,
  slug: z.string(),
  jobPrefix: z.string(),
  currency: z.literal("USD"),
  name: z.string(),
  phone: z.string().nullable(),
  email: z.string().nullable(),
  address: z.string(),
  state: z.string(),
  timezone: z.string(),
  licenceLine: z.string(),
  insuranceLine: z.string(),
  depositShareBp: z.int(),
  quoteValidDays: z.int(),
  /** What the state's deposit rule says, with its source. */
  depositRule: z.object({
    status: z.string(),
    rule: z.string(),
    source: z.string(),
    asOf: z.string(),
    unsure: z.boolean(),
  }),
  version,
});
export type Company = z.infer<typeof company>;

export const policy = z.object({
  id,
  effectiveFrom: day,
  amount: money,
  percentBp: z.int(),
  hours: z.string().nullable(),
  structuralAction: z.boolean(),
});
export type Policy = z.infer<typeof policy>;

export const outboxMessage = z.object({
  id,
  kind: z.string(),
  to: z.string(),
  subject: z.string(),
  text: z.string(),
  state: z.enum(["pending", "sent", "kept", "failed"]),
  attempts: z.int(),
  lastError: z.string().nullable(),
  createdAt: instant,
  sentAt: instant.nullable(),
});
export type OutboxMessage = z.infer<typeof outboxMessage>;

export const getCompany = endpoint({
  id: "getCompany",
  method: "GET",
  path: "/company",
  tag: "company",
  summary: "The company's profile.",
  access: "company.read",
  response: company,
  status: 200,
  etag: true,
});
export const updateCompany = endpoint({
  id: "updateCompany",
  method: "PATCH",
  path: "/company",
  tag: "company",
  summary: "Change the company's profile.",
  access: "company.edit",
  ifMatch: true,
  etag: true,
  body: z.strictObject(profile).partial(),
  response: company,
  status: 200,
});
export const listPolicies = endpoint({
  id: "listPolicies",
  method: "GET",
  path: "/company/policies",
  tag: "company",
  summary: "Materiality policies, newest first; the first already in effect applies.",
  access: "company.read",
  response: z.object({ items: z.array(policy) }),
  status: 200,
});
export const addPolicy = endpoint({
  id: "addPolicy",
  method: "POST",
  path: "/company/policies",
  tag: "company",
  summary: "Set the materiality policy from a day on. Earlier policies stay on record.",
  access: "policy.edit",
  idempotent: true,
  body: z.strictObject({
    effectiveFrom: day,
    amount: moneyIn,
    percentBp: basisPoints(),
    hours: decimal.nullable(),
    structuralAction: z.boolean(),
  }),
  response: policy,
  status: 201,
});
export const listOutbox = endpoint({
  id: "listOutbox",
  method: "GET",
  path: "/company/outbox",
  tag: "company",
  summary: "Mail written by the service; kept here when no mail server is set up.",
  access: "outbox.read",
  query: z.strictObject({ after: cursor.optional(), limit: queryInt(1, 100).default(50) }),
  response: page(outboxMessage),
  status: 200,
});
