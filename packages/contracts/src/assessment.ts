import { z } from "zod";
import { because, done, id, instant, line, money, queryInt } from "./common.ts";
import { endpoint } from "./endpoint.ts";
import { purchase } from "./estimate-shapes.ts";
import { COMPONENTS, UNITS } from "./vocabulary.ts";

const revisionId = z.strictObject({ revisionId: id });

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
  body: z.strictObject({ key: line(2000), why: because(500) }),
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
  body: z.strictObject({ key: line(2000) }),
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
