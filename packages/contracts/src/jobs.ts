import { z } from "zod";
import {
  because,
  created,
  cursor,
  day,
  decimal,
  done,
  email,
  id,
  instant,
  line,
  money,
  note,
  page,
  phone,
  queryInt,
  version,
} from "./common.ts";
import { customer, customerInput, property, propertyInput } from "./customers.ts";
import { endpoint } from "./endpoint.ts";
import { zoneGeometry } from "./geometry.ts";
import {
  CLOSE_REASONS,
  COMPONENTS,
  EVIDENCE,
  HOLDS,
  LEAD_SOURCES,
  PLACED_HOLDS,
  REVISION_KINDS,
  ROLES,
  STAGES,
  VISIT_KINDS,
  ZONE_KINDS,
} from "./vocabulary.ts";

const stage = z.enum(STAGES);
export const hold = z.object({ hold: z.enum(HOLDS), why: z.string() });
export const nextAct = z.object({
  act: z.string().nullable(),
  owedBy: z.enum([...ROLES, "customer"]).nullable(),
  words: z.string(),
});
const promised = z.object({ from: day, to: day, probabilityBp: z.int().nullable() });

/** One row of the waiting list or any other list of jobs. */
export const jobRow = z.object({
  id,
  number: z.string(),
  title: z.string(),
  customerName: z.string(),
  city: z.string(),
  stage,
  hazard: z.string().nullable(),
  pinnedWhy: z.string().nullable(),
  inquiryOn: day,
  /** Days since the inquiry, or until the work was finished or the job closed. */
  waitedDays: z.int(),
  /** Days past the promised window; 0 when within it or none was promised. */
  daysLate: z.int(),
  passed: z.array(z.object({ stage, on: day })),
  promised: promised.nullable(),
  startOn: day.nullable(),
  price: money.nullable(),
  holds: z.array(hold),
  next: nextAct,
  version,
});
export type JobRow = z.infer<typeof jobRow>;

export const zone = z.object({
  id,
  name: z.string(),
  kind: z.enum(ZONE_KINDS),
  lengthFt: z.string().nullable(),
  widthFt: z.string().nullable(),
  heightFt: z.string().nullable(),
  /** Measured or assumed shape; null where only length and width are known, or nothing. */
  geometry: zoneGeometry.nullable(),
  evidence: z.enum(EVIDENCE),
  notes: z.string(),
  version,
});
export type Zone = z.infer<typeof zone>;

export const visit = z.object({
  id,
  kind: z.enum(VISIT_KINDS),
  startsAt: instant,
  minutes: z.int(),
  memberId: id,
  memberName: z.string(),
  state: z.enum(["scheduled", "done", "cancelled"]),
  notes: z.string(),
  version,
});
export type Visit = z.infer<typeof visit>;

export const observation = z.object({
  id,
  zoneId: id.nullable(),
  component: z.enum(COMPONENTS).nullable(),
  text: z.string(),
  evidence: z.enum(EVIDENCE),
  by: z.string(),
  at: instant,
});

const person = z.object({ id, name: z.string() });
const actState = z.object({ allowed: z.boolean(), why: z.string().nullable() });

export const job = jobRow.extend({
  customer,
  property,
  lead: z.object({ source: z.enum(LEAD_SOURCES), words: z.string(), receivedAt: instant }).nullable(),
  salesperson: person.nullable(),
  estimator: person.nullable(),
  closed: z.object({ reason: z.enum(CLOSE_REASONS), note: z.string(), on: day }).nullable(),
  zones: z.array(zone),
  visits: z.array(visit),
  observations: z.array(observation),
  revisions: z.array(
    z.object({
      id,
      number: z.int(),
      kind: z.enum(REVISION_KINDS),
      state: z.enum(["draft", "issued"]),
      price: money,
      hours: z.string(),
      author: z.string(),
      createdAt: instant,
      issuedAt: instant.nullable(),
    }),
  ),
  variance: z
    .object({
      id,
      fromRevisionId: id,
      toRevisionId: id,
      material: z.boolean(),
      open: z.boolean(),
      waivedWhy: z.string().nullable(),
      delta: money,
      words: z.array(z.string()),
    })
    .nullable(),
  quotes: z.array(
    z.object({
      id,
      number: z.string(),
      revisionId: id,
      price: money,
      issuedAt: instant,
      expiresOn: day,
      state: z.enum(["open", "accepted", "superseded", "declined", "expired", "void"]),
      signer: z.string().nullable(),
      signedOn: day.nullable(),
    }),
  ),
  deposit: z.object({ due: money, paid: money }).nullable(),
  booking: z
    .object({
      id,
      crewId: id,
      crewName: z.string(),
      startOn: day,
      endOn: day,
      crewDays: z.int(),
      state: z.enum(["booked", "under_way", "finished"]),
      actualHours: z.string().nullable(),
      version,
    })
    .nullable(),
  placedHolds: z.array(
    z.object({ id, hold: z.enum(PLACED_HOLDS), why: z.string(), by: z.string(), at: instant }),
  ),
  /** Cautions for work on this property: each defers to local codes and licensed practice. */
  cautions: z.array(z.object({ id: z.string(), words: z.string(), source: z.string(), defer: z.string() })),
  /** Every act with whether it may be done now, and if not, the plain reason. */
  acts: z.record(z.string(), actState),
});
export type Job = z.infer<typeof job>;

export const timelineEntry = z.object({
  id,
  at: instant,
  by: z.string(),
  action: z.string(),
  words: z.string(),
});
export type TimelineEntry = z.infer<typeof timelineEntry>;

const jobId = z.strictObject({ jobId: id });
export const JOB_VIEWS = ["waiting", "booked", "under_way", "finished", "closed", "all"] as const;

export const listJobs = endpoint({
  id: "listJobs",
  method: "GET",
  path: "/jobs",
  tag: "jobs",
  summary: "Jobs of a view, most pressing first: pinned, hazard, days past promise, days waited.",
  access: "jobs.read",
  query: z.strictObject({
    view: z.enum(JOB_VIEWS).default("waiting"),
    stage: stage.optional(),
    search: line(80).optional(),
    after: cursor.optional(),
    limit: queryInt(1, 200).default(50),
  }),
  response: page(jobRow),
  status: 200,
});
export const countJobs = endpoint({
  id: "countJobs",
  method: "GET",
  path: "/jobs/counts",
  tag: "jobs",
  summary: "How many jobs stand in each stage, how many are late, and how far crews are booked.",
  access: "jobs.read",
  response: z.object({
    stages: z.array(z.object({ stage, count: z.int() })),
    waiting: z.int(),
    late: z.int(),
    hazards: z.int(),
    materialOpen: z.int(),
    crews: z.int(),
    bookedTo: day.nullable(),
  }),
  status: 200,
});
export const getJob = endpoint({
  id: "getJob",
  method: "GET",
  path: "/jobs/:jobId",
  tag: "jobs",
  summary: "Everything known of one job, with what may be done now.",
  access: "jobs.read",
  params: jobId,
  response: job,
  status: 200,
  etag: true,
});
export const createLead = endpoint({
  id: "createLead",
  method: "POST",
  path: "/leads",
  tag: "jobs",
  summary: "Take an inquiry by phone: lead, customer (new or known), property and job in one step.",
  access: "leads.create",
  idempotent: true,
  body: z.strictObject({
    source: z.enum(LEAD_SOURCES).default("phone"),
    words: note(4000),
    title: line(120),
    /** A danger the customer reports, such as "tread loose"; null when none. */
    hazard: line(120).nullable().default(null),
    customerId: id.optional(),
    customer: customerInput.optional(),
    propertyId: id.optional(),
    property: propertyInput.optional(),
  }),
  response: z.object({
    jobId: id,
    number: z.string(),
    /** Customers who share the phone number or mail address, offered for merging. */
    duplicates: z.array(customer),
  }),
  status: 201,
});
export const publicCompany = endpoint({
  id: "publicCompany",
  method: "GET",
  path: "/public/companies/:slug",
  tag: "public",
  summary: "The name a public inquiry form shows.",
  access: "public",
  perMinute: 60,
  params: z.strictObject({ slug: z.string().max(60) }),
  response: z.object({ name: z.string(), phone: z.string().nullable(), state: z.string() }),
  status: 200,
});
export const publicInquiry = endpoint({
  id: "publicInquiry",
  method: "POST",
  path: "/public/companies/:slug/inquiries",
  tag: "public",
  summary: "The public web form. Filled-in traps and too-fast posts are taken and dropped silently.",
  access: "public",
  perMinute: 5,
  params: z.strictObject({ slug: z.string().max(60) }),
  body: z
    .strictObject({
      name: line(120),
      phone: phone.nullable().default(null),
      email: email.nullable().default(null),
      street: line(120),
      city: line(80),
      postalCode: propertyInput.shape.postalCode,
      words: note(4000).refine((v) => v.length >= 5, "Say in a few words what needs work."),
      unsafe: z.boolean().default(false),
      /** A field people never see; programs fill it in. */
      website: z.string().max(200).default(""),
      /** Milliseconds between showing the form and sending it. */
      filledInMs: z.int().min(0).max(1e9),
    })
    .refine((v) => v.phone !== null || v.email !== null, {
      path: ["phone"],
      message: "Leave a phone number or a mail address.",
    }),
  response: done,
  status: 202,
});
export const updateJob = endpoint({
  id: "updateJob",
  method: "PATCH",
  path: "/jobs/:jobId",
  tag: "jobs",
  summary: "Change a job's title, hazard, salesperson or senior estimator.",
  access: "jobs.edit",
  ifMatch: true,
  etag: true,
  params: jobId,
  body: z.strictObject({
    title: line(120).optional(),
    hazard: line(120).nullable().optional(),
    salespersonId: id.nullable().optional(),
    estimatorId: id.nullable().optional(),
  }),
  response: job,
  status: 200,
});
export const pinJob = endpoint({
  id: "pinJob",
  method: "PUT",
  path: "/jobs/:jobId/pin",
  tag: "jobs",
  summary: "Put a job at the head of the list and say why, or let it go (why: null).",
  access: "jobs.pin",
  params: jobId,
  body: z.strictObject({ why: because(200).nullable() }),
  response: done,
  status: 200,
});
export const promiseWindow = endpoint({
  id: "promiseWindow",
  method: "POST",
  path: "/jobs/:jobId/promises",
  tag: "jobs",
  summary: "Record the start window told to the customer. Earlier promises stay on record.",
  access: "promises.make",
  idempotent: true,
  params: jobId,
  body: z
    .strictObject({ from: day, to: day, probabilityBp: z.int().min(1).max(10_000).nullable().default(null) })
    .refine((v) => v.from <= v.to, { path: ["to"], message: "The window ends before it begins." }),
  response: created,
  status: 201,
});
export const getTimeline = endpoint({
  id: "getTimeline",
  method: "GET",
  path: "/jobs/:jobId/timeline",
  tag: "jobs",
  summary: "What happened to a job, newest first.",
  access: "jobs.read",
  params: jobId,
  query: z.strictObject({ after: cursor.optional(), limit: queryInt(1, 100).default(50) }),
  response: page(timelineEntry),
  status: 200,
});
export const closeJob = endpoint({
  id: "closeJob",
  method: "POST",
  path: "/jobs/:jobId/close",
  tag: "jobs",
  summary: "Close a job with a reason; an open quote is withdrawn and its booking is taken off the calendar.",
  access: "jobs.close",
  idempotent: true,
  params: jobId,
  body: z.strictObject({ reason: z.enum(CLOSE_REASONS), note: note(500).default("") }),
  response: done,
  status: 200,
});
export const reopenJob = endpoint({
  id: "reopenJob",
  method: "POST",
  path: "/jobs/:jobId/reopen",
  tag: "jobs",
  summary: "Take a closed job up again.",
  access: "jobs.close",
  idempotent: true,
  params: jobId,
  body: z.strictObject({ why: because() }),
  response: done,
  status: 200,
});
export const addVisit = endpoint({
  id: "addVisit",
  method: "POST",
  path: "/jobs/:jobId/visits",
  tag: "jobs",
  summary: "Schedule a visit to the site.",
  access: "visits.edit",
  idempotent: true,
  params: jobId,
  body: z.strictObject({
    kind: z.enum(VISIT_KINDS),
    startsAt: instant,
    minutes: z.int().min(10, "At least 10 minutes.").max(600, "At most 10 hours.").default(60),
    memberId: id,
    notes: note(1000).default(""),
  }),
  response: visit,
  status: 201,
});
export const updateVisit = endpoint({
  id: "updateVisit",
  method: "PATCH",
  path: "/visits/:visitId",
  tag: "jobs",
  summary: "Move a visit, mark it done or cancel it.",
  access: "visits.edit",
  ifMatch: true,
  params: z.strictObject({ visitId: id }),
  body: z.strictObject({
    startsAt: instant.optional(),
    minutes: z.int().min(10).max(600).optional(),
    memberId: id.optional(),
    state: z.enum(["scheduled", "done", "cancelled"]).optional(),
    notes: note(1000).optional(),
  }),
  response: visit,
  status: 200,
});
export const addObservation = endpoint({
  id: "addObservation",
  method: "POST",
  path: "/jobs/:jobId/observations",
  tag: "jobs",
  summary: "Note what was seen at the site.",
  access: "observations.create",
  idempotent: true,
  params: jobId,
  body: z.strictObject({
    zoneId: id.nullable().default(null),
    component: z.enum(COMPONENTS).nullable().default(null),
    text: because(2000),
    evidence: z.enum(EVIDENCE).default("assumed"),
  }),
  response: observation,
  status: 201,
});
const feet = decimal.refine((v) => Number(v) > 0 && Number(v) <= 500, "More than 0 and at most 500 ft.");
const zoneBody = {
  name: line(80),
  kind: z.enum(ZONE_KINDS),
  lengthFt: feet.nullable(),
  widthFt: feet.nullable(),
  heightFt: feet.nullable(),
  /** Where it is given, length, width and height follow from it. */
  geometry: zoneGeometry.nullable(),
  evidence: z.enum(EVIDENCE),
  notes: note(1000),
};
export const addZone = endpoint({
  id: "addZone",
  method: "POST",
  path: "/jobs/:jobId/zones",
  tag: "jobs",
  summary: "Add a part of the structure: lower deck, main stair, porch.",
  access: "estimates.first_pass",
  idempotent: true,
  params: jobId,
  body: z.strictObject({
    name: zoneBody.name,
    kind: zoneBody.kind,
    lengthFt: zoneBody.lengthFt.default(null),
    widthFt: zoneBody.widthFt.default(null),
    heightFt: zoneBody.heightFt.default(null),
    geometry: zoneBody.geometry.default(null),
    evidence: zoneBody.evidence.default("assumed"),
    notes: zoneBody.notes.default(""),
  }),
  response: zone,
  status: 201,
});
export const updateZone = endpoint({
  id: "updateZone",
  method: "PATCH",
  path: "/zones/:zoneId",
  tag: "jobs",
  summary: "Correct a zone's name or measures.",
  access: "estimates.first_pass",
  ifMatch: true,
  params: z.strictObject({ zoneId: id }),
  body: z.strictObject(zoneBody).partial(),
  response: zone,
  status: 200,
});
export const removeZone = endpoint({
  id: "removeZone",
  method: "DELETE",
  path: "/zones/:zoneId",
  tag: "jobs",
  summary: "Remove a zone that no scope line uses.",
  access: "estimates.first_pass",
  params: z.strictObject({ zoneId: id }),
  response: done,
  status: 200,
});
export const placeHold = endpoint({
  id: "placeHold",
  method: "POST",
  path: "/jobs/:jobId/holds",
  tag: "jobs",
  summary: "Place a hold: a named reason the job may not start.",
  access: "holds.edit",
  idempotent: true,
  params: jobId,
  body: z.strictObject({ hold: z.enum(PLACED_HOLDS), why: because(300) }),
  response: created,
  status: 201,
});
export const liftHold = endpoint({
  id: "liftHold",
  method: "POST",
  path: "/holds/:holdId/lift",
  tag: "jobs",
  summary: "Lift a hold that somebody placed.",
  access: "holds.edit",
  idempotent: true,
  params: z.strictObject({ holdId: id }),
  response: done,
  status: 200,
});
