import { z } from "zod";
import { because, created, day, done, id, instant, line, money, note, quantity, version } from "./common.ts";
import { endpoint } from "./endpoint.ts";
import { ACTIONS, COMPONENTS, DOERS, EVIDENCE, REASONS, REVISION_KINDS, UNITS } from "./vocabulary.ts";

export const lineRates = z.object({
  materialUnitCents: z.string(),
  wasteBp: z.int(),
  hoursPerUnit: z.string(),
  laborRateCode: z.string(),
  laborHourlyCents: z.int(),
  laborBurdenBp: z.int(),
});
export const linePrice = z.object({
  material: money,
  tax: money,
  hours: z.string(),
  labor: money,
  overhead: money,
  cost: money,
  price: money,
});
export const scopeLine = z.object({
  id,
  /** The same across the revisions a line was copied through. */
  lineageId: id,
  zoneId: id,
  zoneName: z.string(),
  component: z.enum(COMPONENTS),
  action: z.enum(ACTIONS),
  itemCode: z.string().nullable(),
  description: z.string(),
  quantity: z.string(),
  unit: z.enum(UNITS),
  evidence: z.enum(EVIDENCE),
  by: z.enum(DOERS),
  reasonCode: z.enum(REASONS).nullable(),
  reason: z.string().nullable(),
  reviewed: z.boolean(),
  rates: lineRates.nullable(),
  price: linePrice,
  version,
});
export type ScopeLine = z.infer<typeof scopeLine>;

export const terms = z.object({ overheadBp: z.int(), marginBp: z.int(), materialTaxBp: z.int() });
export const revision = z.object({
  id,
  jobId: id,
  number: z.int(),
  kind: z.enum(REVISION_KINDS),
  state: z.enum(["draft", "issued"]),
  basedOnId: id.nullable(),
  priceBookName: z.string(),
  terms,
  note: z.string(),
  author: z.string(),
  createdAt: instant,
  issuedAt: instant.nullable(),
  lines: z.array(scopeLine),
  totals: linePrice,
  /** Priced lines a site review has not touched yet, and their money. */
  unreviewed: z.object({ lines: z.int(), price: money }),
  version,
});
export type Revision = z.infer<typeof revision>;

export const lineChange = z.object({
  kind: z.enum(["unchanged", "quantity", "rate", "action", "evidence", "added", "removed"]),
  before: scopeLine.nullable(),
  after: scopeLine.nullable(),
  delta: money,
  deltaHours: z.string(),
  structural: z.boolean(),
});
export const BRIDGE_STEPS = ["removed", "added", "action", "quantity", "rate", "overhead_and_tax"] as const;
export const comparison = z.object({
  jobId: id,
  varianceId: id.nullable(),
  from: z.object({ id, number: z.int(), kind: z.enum(REVISION_KINDS), price: money, hours: z.string() }),
  to: z.object({ id, number: z.int(), kind: z.enum(REVISION_KINDS), price: money, hours: z.string() }),
  bridge: z.array(z.object({ step: z.enum(BRIDGE_STEPS), delta: money })),
  delta: money,
  deltaHours: z.string(),
  changes: z.array(lineChange),
  material: z.boolean(),
  rules: z.array(
    z.object({
      rule: z.string(),
      fired: z.boolean(),
      measured: z.string(),
      limit: z.string(),
      words: z.string(),
    }),
  ),
  waivedWhy: z.string().nullable(),
  /** Whether the material change still waits for the customer or the owner. */
  open: z.boolean(),
  policyFrom: day,
});
export type Comparison = z.infer<typeof comparison>;

const revisionId = z.strictObject({ revisionId: id });
const lineId = z.strictObject({ lineId: id });

export const startRevision = endpoint({
  id: "startRevision",
  method: "POST",
  path: "/jobs/:jobId/revisions",
  tag: "estimates",
  summary: "Start a first pass, or a site review copied from the newest issued revision.",
  access: "estimates.first_pass",
  idempotent: true,
  params: z.strictObject({ jobId: id }),
  body: z.strictObject({ kind: z.enum(["first_pass", "site_review"]) }),
  response: created,
  status: 201,
});
export const getRevision = endpoint({
  id: "getRevision",
  method: "GET",
  path: "/revisions/:revisionId",
  tag: "estimates",
  summary: "A revision with its scope lines and prices.",
  access: "estimates.read",
  params: revisionId,
  response: revision,
  status: 200,
  etag: true,
});
const lineBody = {
  zoneId: id,
  component: z.enum(COMPONENTS),
  action: z.enum(ACTIONS),
  /** Code of a price book item; null for a line that carries no price (keep, for one). */
  itemCode: line(40).nullable(),
  description: note(300),
  quantity,
  unit: z.enum(UNITS),
  evidence: z.enum(EVIDENCE),
  by: z.enum(DOERS),
  reasonCode: z.enum(REASONS).nullable(),
  reason: note(500).nullable(),
};
export const addLine = endpoint({
  id: "addLine",
  method: "POST",
  path: "/revisions/:revisionId/lines",
  tag: "estimates",
  summary: "Add a scope line to a draft; its rates are copied from the price book.",
  access: "estimates.first_pass",
  idempotent: true,
  params: revisionId,
  body: z.strictObject({
    ...lineBody,
    itemCode: lineBody.itemCode.default(null),
    description: lineBody.description.default(""),
    by: lineBody.by.default("us"),
    evidence: lineBody.evidence.default("assumed"),
    reasonCode: lineBody.reasonCode.default(null),
    reason: lineBody.reason.default(null),
  }),
  response: scopeLine,
  status: 201,
});
export const updateLine = endpoint({
  id: "updateLine",
  method: "PATCH",
  path: "/lines/:lineId",
  tag: "estimates",
  summary: "Change a scope line of a draft, or mark it reviewed. A site review must say why a line changed.",
  access: "estimates.first_pass",
  ifMatch: true,
  params: lineId,
  body: z.strictObject(lineBody).partial().extend({ reviewed: z.boolean().optional() }),
  response: scopeLine,
  status: 200,
});
export const removeLine = endpoint({
  id: "removeLine",
  method: "DELETE",
  path: "/lines/:lineId",
  tag: "estimates",
  summary: "Take a scope line out of a draft.",
  access: "estimates.first_pass",
  params: lineId,
  response: done,
  status: 200,
});
export const issueRevision = endpoint({
  id: "issueRevision",
  method: "POST",
  path: "/revisions/:revisionId/issue",
  tag: "estimates",
  summary:
    "Close a draft for good. A site review is compared with what it was copied from; a material one voids a standing signature and supersedes open quotes.",
  access: "estimates.first_pass",
  idempotent: true,
  params: revisionId,
  response: z.object({ material: z.boolean(), varianceId: id.nullable(), consequences: z.array(z.string()) }),
  status: 200,
});
export const discardRevision = endpoint({
  id: "discardRevision",
  method: "DELETE",
  path: "/revisions/:revisionId",
  tag: "estimates",
  summary: "Throw a draft away. Issued revisions stay.",
  access: "estimates.first_pass",
  params: revisionId,
  response: done,
  status: 200,
});
export const compareRevisions = endpoint({
  id: "compareRevisions",
  method: "GET",
  path: "/jobs/:jobId/comparison",
  tag: "estimates",
  summary:
    "What changed between two revisions, as a bridge that sums to the cent. Without ids: the newest against what it was copied from.",
  access: "estimates.read",
  params: z.strictObject({ jobId: id }),
  query: z.strictObject({ from: id.optional(), to: id.optional() }),
  response: comparison,
  status: 200,
});
export const waiveVariance = endpoint({
  id: "waiveVariance",
  method: "POST",
  path: "/variances/:varianceId/waive",
  tag: "estimates",
  summary: "The owner lets a material change pass without a new signature, and says why.",
  access: "variances.waive",
  idempotent: true,
  params: z.strictObject({ varianceId: id }),
  body: z.strictObject({ why: because() }),
  response: done,
  status: 200,
});
