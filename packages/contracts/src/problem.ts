import { z } from "zod";

/** Stable problem types (RFC 9457). The `type` member of a problem document is `/problems/<name>`. */
export const PROBLEMS = {
  "bad-json": { status: 400, title: "The request is not valid JSON." },
  "invalid-input": { status: 422, title: "Some fields need another look." },
  "not-signed-in": { status: 401, title: "Sign in first." },
  "wrong-sign-in": { status: 401, title: "Mail address or password is wrong." },
  "choose-company": { status: 409, title: "This mail address belongs to several companies." },
  "not-allowed": { status: 403, title: "Your role may not do this." },
  "bad-csrf": { status: 403, title: "This form is out of date; reload the page." },
  "not-found": { status: 404, title: "There is nothing here." },
  "method-not-allowed": { status: 405, title: "This address does not take that method." },
  "illegal-move": { status: 409, title: "That cannot be done now." },
  conflict: { status: 409, title: "That clashes with something already here." },
  gone: { status: 410, title: "This link no longer works." },
  "version-required": { status: 428, title: "Say which version you saw (If-Match)." },
  "version-stale": { status: 412, title: "Somebody changed this meanwhile." },
  "key-required": { status: 400, title: "An Idempotency-Key header is needed." },
  "key-reused": { status: 422, title: "This Idempotency-Key was used for another request." },
  "too-large": { status: 413, title: "That is too large." },
  "wrong-media-type": { status: 415, title: "Send JSON." },
  "too-many": { status: 429, title: "Too many tries; wait a little." },
  unavailable: { status: 503, title: "The database cannot be reached; try again shortly." },
  internal: { status: 500, title: "Something went wrong on our side." },
} as const;
export type ProblemName = keyof typeof PROBLEMS;

export const problemDocument = z.object({
  type: z.string(),
  title: z.string(),
  status: z.int(),
  detail: z.string().optional(),
  instance: z.string().optional(),
  requestId: z.string().optional(),
  /** Fields at fault: `path` as in the request ("body.lines.0.quantity"). */
  errors: z.array(z.object({ path: z.string(), message: z.string() })).optional(),
  /** With version-stale: what the record is now. */
  current: z.unknown().optional(),
  /** With choose-company: the companies to choose from. */
  companies: z.array(z.object({ slug: z.string(), name: z.string() })).optional(),
});
export type ProblemDocument = z.infer<typeof problemDocument>;
