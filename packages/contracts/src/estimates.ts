import { z } from "zod";
import {
  basisPoints,
  because,
  created,
  day,
  decimal,
  done,
  id,
  instant,
  line,
  money,
  moneyIn,
  note,
  quantity,
  queryInt,
  version,
} from "./common.ts";
import { endpoint } from "./endpoint.ts";
import {
  ACTIONS,
  CHARGE_KINDS,
  COMPONENTS,
  DOERS,
  EVIDENCE,
  MATERIAL_UNITS,
  REASONS,
  REVISION_KINDS,
  STANDINGS,
  UNITS,
} from "./vocabulary.ts";

const ratesPack = z.object({ size: z.string(), cents: z.int() });
export const lineRates = z.object({
  materials: z.array(
    z.object({
      code: z.string(),
      name: z.string(),
      unit: z.enum(MATERIAL_UNITS),
      section: z.string().nullable(),
      packs: z.array(ratesPack),
      wholePacks: z.boolean(),
      perUnit: z.string(),
      wasteBp: z.int(),
    }),
  ),
  labor: z.array(
    z.object({
      code: z.string(),
      hoursPerUnit: z.string(),
      setupHours: z.string(),
      hourlyCents: z.int(),
      burdenBp: z.int(),
    }),
  ),
  disposalUnitCents: z.string(),
  equipmentUnitCents: z.string(),
  laborCvBp: z.int(),
});
export const linePrice = z.object({
  material: money,
  tax: money,
  hours: z.string(),
  labor: money,
  disposal: money,
  equipment: money,
  overhead: money,
  cost: money,
  price: money,
});
/** What is known of concealed work; the line's quantity is the likeliest amount if there is any. */
export const allowance = z.object({
  chanceBp: z.int(),
  lowQuantity: z.string(),
  highQuantity: z.string(),
  capQuantity: z.string(),
  charge: z.enum(["included", "if_found"]),
});
const allowanceIn = z.strictObject({
  chanceBp: basisPoints(10_000),
  lowQuantity: decimal,
  highQuantity: quantity,
  capQuantity: quantity,
  charge: z.enum(["included", "if_found"]),
});
export const scopeLine = z.object({
  id,
  /** The same across the revisions a line was copied through. */
  lineageId: id,
  zoneId: id,
  zoneName: z.string(),
  component: z.enum(COMPONENTS),
  action: z.enum(ACTIONS),
  assemblyCode: z.string().nullable(),
  description: z.string(),
  quantity: z.string(),
  unit: z.enum(UNITS),
  evidence: z.enum(EVIDENCE),
  by: z.enum(DOERS),
  /** Name of the optional extra the line belongs to; null for the base scope. */
  alternate: z.string().nullable(),
  allowance: allowance.nullable(),
  reasonCode: z.enum(REASONS).nullable(),
  reason: z.string().nullable(),
  reviewed: z.boolean(),
  rates: lineRates.nullable(),
  standing: z.enum(STANDINGS),
  /** What the line adds where it stands; nothing when it is charged only if found. */
  price: linePrice,
  /** For concealed work: the agreed unit price and its cap. */
  agreed: z.object({ unitPrice: money, capQuantity: z.string(), cap: money }).nullable(),
  version,
});
export type ScopeLine = z.infer<typeof scopeLine>;

export const terms = z.object({
  overheadBp: z.int(),
  marginBp: z.int(),
  materialTaxBp: z.int(),
  minimumChargeCents: z.int(),
  roundUpToCents: z.int(),
  laborCorrelationBp: z.int(),
});
const chargeFields = { kind: z.enum(CHARGE_KINDS), words: line(120), atCost: z.boolean() };
export const charge = z.object({ ...chargeFields, words: z.string(), cost: money, price: linePrice });
export const purchase = z.object({
  code: z.string(),
  name: z.string(),
  unit: z.string(),
  section: z.string().nullable(),
  wholePacks: z.boolean(),
  needed: z.string(),
  used: money,
  packs: z.array(z.object({ size: z.string(), price: money, count: z.int() })),
  cost: money,
  leftover: money,
});
export const revision = z.object({
  id,
  jobId: id,
  number: z.int(),
  kind: z.enum(REVISION_KINDS),
  state: z.enum(["draft", "issued"]),
  basedOnId: id.nullable(),
  priceBookId: id,
  priceBookName: z.string(),
  priceBookFrom: day,
  /** The book in effect today where it is another than the revision's, or has other prices; else null. */
  newerPrices: z.object({ bookId: id, name: z.string(), effectiveFrom: day }).nullable(),
  terms,
  note: z.string(),
  author: z.string(),
  createdAt: instant,
  issuedAt: instant.nullable(),
  lines: z.array(scopeLine),
  charges: z.array(charge),
  adjustments: z.array(
    z.object({
      kind: z.enum(["whole_packs", "minimum_charge", "rounding"]),
      price: linePrice,
      before: money,
    }),
  ),
  alternates: z.array(z.object({ name: z.string(), price: linePrice })),
  purchases: z.array(purchase),
  totals: linePrice,
  /** Priced lines a site review has not touched yet, and their money. */
  unreviewed: z.object({ lines: z.int(), price: money }),
  version,
});
export type Revision = z.infer<typeof revision>;

export const lineChange = z.object({
  kind: z.enum(["unchanged", "quantity", "rate", "action", "allowance", "evidence", "added", "removed"]),
  before: scopeLine.nullable(),
  after: scopeLine.nullable(),
  delta: money,
  deltaHours: z.string(),
  structural: z.boolean(),
});
export const BRIDGE_STEPS = [
  "removed",
  "added",
  "action",
  "quantity",
  "rate",
  "allowance",
  "overhead_and_tax",
  "whole_job",
] as const;
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

export const finding = z.object({
  /** Names the rule, what it is about and its decisive numbers: other numbers are another finding. */
  key: z.string(),
  ruleId: z.string(),
  severity: z.enum(["blocking", "warning", "note"]),
  zoneId: id.nullable(),
  lineageId: id.nullable(),
  field: z.string().nullable(),
  numbers: z.record(z.string(), z.string()),
  words: z.string(),
  source: z.string(),
  /** Why somebody let it pass; null while nobody did. */
  passed: z.object({ why: z.string(), by: z.string(), at: instant }).nullable(),
});
export type Finding = z.infer<typeof finding>;
/** One component of a zone: what is there beside what the lines do to it, in one unit. */
export const coverage = z.object({
  zoneId: id,
  component: z.enum(COMPONENTS),
  unit: z.enum(UNITS),
  /** Null when the zone's measures do not tell. */
  existing: z.string().nullable(),
  kept: z.string(),
  treated: z.string(),
  replaced: z.string(),
  added: z.string(),
  /** What no line speaks of. */
  left: z.string().nullable(),
  /** By how much the lines exceed what exists. */
  over: z.string().nullable(),
  byOthers: z.string(),
});
export const assessRevision = endpoint({
  id: "assessRevision",
  method: "GET",
  path: "/revisions/:revisionId/assessment",
  tag: "estimates",
  summary:
    "Plausibility findings, what exists beside what is replaced, and the spread of the cost with the chance of a loss.",
  access: "estimates.read",
  params: revisionId,
  query: z.strictObject({ seed: queryInt(0, 999_999).optional() }),
  response: z.object({
    findings: z.array(finding),
    /** The company's own past, as far as it says something about this work. */
    past: z.object({ finishedJobs: z.int() }),
    coverage: z.array(coverage),
    risk: z.object({
      draws: z.int(),
      seed: z.int(),
      mean: money,
      standardDeviation: money,
      p10: money,
      p50: money,
      p90: money,
      price: money,
      chanceOfLossBp: z.int(),
      /** The lowest price at which the chance of a loss is at most so much. */
      prices: z.array(z.object({ chanceBp: z.int(), price: money, marginBp: z.int() })),
      /** What the customer pays on average for work that is found; it is taken off the cost. */
      paidForFound: money,
      hours: z.object({ mean: z.string(), p10: z.string(), p50: z.string(), p90: z.string() }),
      histogram: z.array(z.object({ from: money, to: money, count: z.int() })),
    }),
  }),
  status: 200,
});
export const passFinding = endpoint({
  id: "passFinding",
  method: "POST",
  path: "/revisions/:revisionId/passes",
  tag: "estimates",
  summary: "Let a finding pass and say why. Other numbers make another finding, which needs its own reason.",
  access: "estimates.first_pass",
  idempotent: true,
  params: revisionId,
  body: z.strictObject({ key: line(400), why: because(500) }),
  response: done,
  status: 200,
});
export const withdrawPass = endpoint({
  id: "withdrawPass",
  method: "POST",
  path: "/revisions/:revisionId/passes/withdraw",
  tag: "estimates",
  summary: "Take back a reason given for a finding, so that it stands again.",
  access: "estimates.first_pass",
  idempotent: true,
  params: revisionId,
  body: z.strictObject({ key: line(400) }),
  response: done,
  status: 200,
});

const cutPiece = z.object({ lengthIn: z.number(), for: z.string() });
export const getCutPlan = endpoint({
  id: "getCutPlan",
  method: "GET",
  path: "/revisions/:revisionId/cut-plan",
  tag: "estimates",
  summary:
    "What to buy and how to cut it: boards by the zones' measures, everything else in whole packs, with cost, waste and the proved bound.",
  access: "estimates.read",
  params: revisionId,
  query: z.strictObject({ seconds: queryInt(1, 20).optional() }),
  response: z.object({
    sections: z.array(
      z.object({
        material: z.string(),
        code: z.string(),
        section: z.string(),
        /** What the pieces were counted from. */
        pieces: z.array(z.object({ lengthIn: z.number(), count: z.int(), for: z.string() })),
        boards: z.array(
          z.object({ stockIn: z.number(), count: z.int(), cuts: z.array(cutPiece), leftIn: z.number() }),
        ),
        buy: z.array(z.object({ stockIn: z.number(), count: z.int(), cost: money })),
        cost: money,
        bound: money,
        gapBp: z.int(),
        /** Whether no cheaper way exists to cut these very pieces. */
        proved: z.boolean(),
        /** What no other split of rows of decking into pieces could cost less than; null without rows. */
        layoutBound: money.nullable(),
        wasteBp: z.int(),
        /** What the estimate charges for this material, waste share included. */
        estimated: money,
        /** Rows of decking with their joints, where rows are longer than the boards. */
        rows: z.array(z.object({ row: z.int(), zone: z.string(), piecesIn: z.array(z.number()) })),
        fault: z.string().nullable(),
      }),
    ),
    packs: z.array(purchase),
    /** Lines whose lengths nobody measured; they are bought by the foot with the estimate's waste. */
    unmeasured: z.array(z.object({ words: z.string() })),
    kerfIn: z.number(),
    endTrimIn: z.number(),
    cost: money,
  }),
  status: 200,
});

const life = z.object({
  name: z.string(),
  now: money,
  presentValue: money,
  undiscounted: money,
  perYear: money,
  flows: z.array(z.object({ year: z.int(), words: z.string(), cost: money, present: money })),
  breakEvenYear: z.int().nullable(),
});
export const getChoices = endpoint({
  id: "getChoices",
  method: "GET",
  path: "/revisions/:revisionId/choices",
  tag: "estimates",
  summary:
    "The repair beside the same zones built new, and what each choice of decking costs now and over the years (life-cycle cost).",
  access: "estimates.read",
  params: revisionId,
  query: z.strictObject({
    years: queryInt(1, 60).optional(),
    /** Real discount rate, in basis points. */
    discountBp: queryInt(0, 2000).optional(),
  }),
  response: z.object({
    zones: z.array(
      z.object({
        zoneId: id,
        zone: z.string(),
        repair: money,
        rebuild: money.nullable(),
        shareBp: z.int().nullable(),
        lines: z.array(z.object({ words: z.string(), how: z.string(), price: money })),
        /** What the price book has no assembly for, or what nobody measured. */
        missing: z.array(z.string()),
      }),
    ),
    repair: money,
    rebuild: money.nullable(),
    years: z.int(),
    discountBp: z.int(),
    deckSqft: z.string(),
    choices: z.array(life),
    notes: z.array(z.string()),
  }),
  status: 200,
});
