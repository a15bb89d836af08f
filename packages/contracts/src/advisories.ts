import { z } from "zod";
import { because, created, day, done, id, instant, line, version } from "./common.ts";
import { endpoint } from "./endpoint.ts";
import { ADVISORY_DECISIONS, COMPONENTS } from "./vocabulary.ts";

/** An existing condition short of today's code that the customer may leave. */
export const advisory = z.object({
  id,
  jobId: id,
  zoneId: id.nullable(),
  zoneName: z.string().nullable(),
  component: z.enum(COMPONENTS).nullable(),
  /** What is there, with its numbers. */
  words: z.string(),
  /** The provision it falls short of. Local code decides. */
  reference: z.string(),
  decision: z.enum(ADVISORY_DECISIONS),
  /** Name of the optional extra that would mend it, for "alternate". */
  alternate: z.string().nullable(),
  /** Who declined in writing, when and how; null otherwise. */
  declined: z.object({ name: z.string(), on: day, how: z.string() }).nullable(),
  recordedBy: z.string(),
  at: instant,
  version,
});
export type Advisory = z.infer<typeof advisory>;

const advisoryId = z.strictObject({ advisoryId: id });
const jobId = z.strictObject({ jobId: id });

export const listAdvisories = endpoint({
  id: "listAdvisories",
  method: "GET",
  path: "/jobs/:jobId/advisories",
  tag: "advisories",
  summary: "Existing conditions short of today's code on this job, with what the customer decided.",
  access: "jobs.read",
  params: jobId,
  response: z.object({
    advisories: z.array(advisory),
    /** What the zones' measures show and nobody has recorded yet. */
    suggested: z.array(
      z.object({
        zoneId: id,
        component: z.enum(COMPONENTS),
        words: z.string(),
        reference: z.string(),
      }),
    ),
  }),
  status: 200,
});
export const addAdvisory = endpoint({
  id: "addAdvisory",
  method: "POST",
  path: "/jobs/:jobId/advisories",
  tag: "advisories",
  summary: "Record an existing condition that does not meet today's code, with its reference.",
  access: "advisories.edit",
  idempotent: true,
  params: jobId,
  body: z.strictObject({
    zoneId: id.nullable().default(null),
    component: z.enum(COMPONENTS).nullable().default(null),
    words: because(500),
    reference: line(300),
  }),
  response: created,
  status: 201,
});
export const decideAdvisory = endpoint({
  id: "decideAdvisory",
  method: "PATCH",
  path: "/advisories/:advisoryId/decision",
  tag: "advisories",
  summary:
    "Record what the customer decided: priced as an alternate, taken into the work, declined in writing, or undecided again.",
  access: "advisories.edit",
  ifMatch: true,
  params: advisoryId,
  body: z.discriminatedUnion("decision", [
    z.strictObject({ decision: z.literal("undecided") }),
    z.strictObject({ decision: z.literal("in_scope") }),
    z.strictObject({ decision: z.literal("alternate"), alternate: line(60) }),
    z.strictObject({
      decision: z.literal("declined"),
      /** Who declined. */
      name: line(120),
      on: day,
      /** Signed note, letter, mail: how it was put in writing. */
      how: because(200),
    }),
  ]),
  response: advisory,
  status: 200,
});
export const removeAdvisory = endpoint({
  id: "removeAdvisory",
  method: "DELETE",
  path: "/advisories/:advisoryId",
  tag: "advisories",
  summary: "Take back an advisory recorded by mistake. Its record stays in the timeline.",
  access: "advisories.edit",
  params: advisoryId,
  response: done,
  status: 200,
});
