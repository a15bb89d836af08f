import { z } from "zod";
import {
  basisPoints,
  because,
  created,
  day,
  done,
  id,
  line,
  money,
  moneyIn,
  note,
  quantity,
} from "./common.ts";
import { endpoint } from "./endpoint.ts";
import { allowanceIn, chargeFields, comparison, revision, scopeLine } from "./estimate-shapes.ts";
import { ACTIONS, BRIDGE_STEPS, COMPONENTS, DOERS, EVIDENCE, REASONS, UNITS } from "./vocabulary.ts";

export type { Comparison, Revision, ScopeLine } from "./estimate-shapes.ts";

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
  /** Code of an assembly of the price book; null for a line that carries no price (keep, for one). */
  assemblyCode: line(40).nullable(),
  description: note(300),
  quantity,
  unit: z.enum(UNITS),
  evidence: z.enum(EVIDENCE),
  by: z.enum(DOERS),
  alternate: line(60).nullable(),
  allowance: allowanceIn.nullable(),
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
    assemblyCode: lineBody.assemblyCode.default(null),
    alternate: lineBody.alternate.default(null),
    allowance: lineBody.allowance.default(null),
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
export const updateRevision = endpoint({
  id: "updateRevision",
  method: "PATCH",
  path: "/revisions/:revisionId",
  tag: "estimates",
  summary: "Change what a draft charges for the whole job, its margin or its note.",
  access: "estimates.first_pass",
  ifMatch: true,
  etag: true,
  params: revisionId,
  body: z.strictObject({
    note: note(2000).optional(),
    charges: z
      .array(z.strictObject({ ...chargeFields, cost: moneyIn }))
      .max(20, "At most 20 charges.")
      .optional(),
    marginBp: basisPoints(9000).optional(),
  }),
  response: revision,
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

const priceChange = z.object({
  lineId: id,
  words: z.string(),
  assemblyCode: z.string().nullable(),
  before: money,
  after: money,
});
export const refreshPrices = endpoint({
  id: "refreshPrices",
  method: "POST",
  path: "/revisions/:revisionId/prices",
  tag: "estimates",
  summary:
    "Bring a draft first pass to the prices of the book in effect. A dry run shows the bridge from the old price to the new.",
  access: "estimates.first_pass",
  idempotent: true,
  dryRuns: true,
  params: revisionId,
  body: z.strictObject({ dryRun: z.boolean() }),
  response: z.object({
    applied: z.boolean(),
    book: z.object({ id, name: z.string(), effectiveFrom: day }),
    from: money,
    to: money,
    bridge: z.array(z.object({ step: z.enum(BRIDGE_STEPS), delta: money })),
    lines: z.array(priceChange),
    /** Lines whose assembly the book no longer has; they keep their rates. */
    kept: z.array(z.object({ lineId: id, words: z.string(), why: z.string() })),
  }),
  status: 200,
});
