import { DatabaseUnavailable } from "@ledgerboard/database";
import type { FastifyError, FastifyReply, FastifyRequest } from "fastify";
import { Problem } from "../problem.ts";

/** Constraint names that mean something to the person; every other broken constraint is a fault of ours. */
const CONSTRAINTS: Record<string, Problem> = {
  bookings_crew_days: new Problem("conflict", "That crew already has a job on one of those days."),
  bookings_one_standing: new Problem("conflict", "This job already has a booking; move it instead."),
  members_company_id_email_key: new Problem(
    "conflict",
    "Somebody with this mail address is already a member.",
  ),
  tenant_routes_slug: new Problem("conflict", "A company with this name already exists here."),
  crews_company_id_name_key: new Problem("conflict", "There is a crew of that name already."),
  materials_company_id_price_book_id_code_key: new Problem("conflict", "A material with this code exists."),
  assemblies_company_id_price_book_id_code_key: new Problem("conflict", "An assembly with this code exists."),
  labor_rates_company_id_price_book_id_code_key: new Problem(
    "conflict",
    "A labor rate with this code exists.",
  ),
  calendar_closures_company_id_crew_id_on_day_key: new Problem("conflict", "That day is closed already."),
};

const FASTIFY: Record<string, Problem> = {
  FST_ERR_CTP_INVALID_JSON_BODY: new Problem(
    "bad-json",
    "The body could not be read as JSON; check quotes, commas and brackets.",
  ),
  FST_ERR_CTP_EMPTY_JSON_BODY: new Problem("bad-json", "The body is empty; send a JSON object."),
  FST_ERR_CTP_BODY_TOO_LARGE: new Problem("too-large", "A request may hold at most 256 kB."),
  FST_ERR_CTP_INVALID_MEDIA_TYPE: new Problem("wrong-media-type", "Set Content-Type to application/json."),
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: new Problem("bad-json", "The body is not as long as announced."),
  FST_ERR_BAD_URL: new Problem("not-found", "That address cannot be read."),
  FST_ERR_MAX_PARAM_LENGTH: new Problem("not-found", "That address is longer than any here."),
};

interface PgError {
  code?: string;
  constraint?: string;
  message?: string;
}

/** Prisma wraps driver errors; the original code and constraint are what the table above knows. */
function databaseError(error: unknown): PgError | null {
  const candidates = [error, (error as { cause?: unknown }).cause] as (PgError & {
    originalCode?: string;
    originalMessage?: string;
    meta?: { driverAdapterError?: { cause?: PgError & { originalCode?: string; originalMessage?: string } } };
  })[];
  const nested = candidates[0]?.meta?.driverAdapterError?.cause;
  for (const e of [...candidates, nested]) {
    if (!e || typeof e !== "object") continue;
    const code = e.originalCode ?? e.code;
    if (typeof code === "string" && /^[0-9A-Z]{5}$/.test(code)) {
      const message = e.originalMessage ?? e.message ?? "";
      const constraint = e.constraint ?? /constraint "([^"]+)"/.exec(message)?.[1];
      return { code, message, ...(constraint && { constraint }) };
    }
  }
  return null;
}

/** Turns anything thrown into a problem; what is unknown stays opaque and carries only the request id. */
export function toProblem(error: unknown): Problem {
  if (error instanceof Problem) return error;
  if (error instanceof DatabaseUnavailable) {
    return new Problem(
      "unavailable",
      "Try again in a few seconds; with the same Idempotency-Key nothing happens twice.",
      { retryAfter: 2 },
      error,
    );
  }
  const code = (error as FastifyError).code;
  if (code && FASTIFY[code]) return FASTIFY[code];
  if ((error as FastifyError).statusCode === 400) {
    return new Problem("bad-json", "The request could not be read as JSON.", {}, error);
  }
  const pg = databaseError(error);
  const known = pg?.constraint && CONSTRAINTS[pg.constraint];
  if (known) return known;
  // A statement cancelled for taking too long: the server is overloaded, not wrong.
  if (pg?.code === "57014") {
    return new Problem(
      "unavailable",
      "That took too long; nothing was changed. Try again.",
      { retryAfter: 5 },
      error,
    );
  }
  return new Problem(
    "internal",
    "It has been noted. Try again; if it happens again, tell us the request id.",
    {},
    error,
  );
}

/** Sends a problem document and logs what a person has to look at. */
export function sendProblem(error: unknown, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const problem = toProblem(error);
  if (problem.status >= 500) request.log.error({ err: problem.cause ?? error }, problem.message);
  if (problem.facts.retryAfter) reply.header("Retry-After", String(problem.facts.retryAfter));
  return reply
    .status(problem.status)
    .type("application/problem+json")
    .serializer((value) => JSON.stringify(value))
    .send(problem.document(request.url.split("?")[0] ?? "/", request.id));
}
