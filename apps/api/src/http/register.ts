import { ENDPOINTS, type Endpoint, may, type Permission } from "@ledgerboard/contracts";
import type { SignedIn } from "@ledgerboard/database";
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { z } from "zod";
import { localDay } from "../days.ts";
import { Problem } from "../problem.ts";
import type { RequestServices } from "../services.ts";
import { once, readKey } from "./idempotency.ts";
import { Afterwards, type Context, type Implementation, type PublicContext } from "./implement.ts";
import { serializerSchema } from "./json-schema.ts";
import { checkOrigin } from "./origin.ts";
import { sessionHash } from "./session-cookie.ts";

const SAFE = new Set(["GET"]);

/** Checks one part of a request; every field at fault is named as `body.customer.name`. */
function parse(part: "params" | "query" | "body", schema: z.ZodType | undefined, value: unknown): unknown {
  if (!schema) return undefined;
  // Sending nothing is sending no fields; sending null is a mistake.
  const result = schema.safeParse(value === undefined ? {} : value);
  if (result.success) return result.data;
  // An address whose id cannot be one is an address of nothing.
  if (part === "params") throw new Problem("not-found", "There is nothing at this address.");
  throw new Problem("invalid-input", "Some fields need another look.", {
    errors: result.error.issues.map((issue) => ({
      path: [part, ...issue.path].join("."),
      message:
        issue.code === "unrecognized_keys" ? `Not known here: ${issue.keys.join(", ")}.` : issue.message,
    })),
  });
}

const input = (endpoint: Endpoint, request: FastifyRequest) => ({
  params: parse("params", endpoint.params, request.params),
  query: parse("query", endpoint.query, request.query),
  body: parse("body", endpoint.body, request.body),
});

/** The version the writer saw. `If-Match: "7"`, also weak or unquoted. */
function readVersion(request: FastifyRequest): number {
  const match = /^(?:W\/)?"?(\d{1,9})"?$/.exec(request.headers["if-match"] ?? "");
  if (!match)
    throw new Problem("version-required", 'Read the record again and send its ETag as If-Match, like "3".');
  return Number(match[1]);
}

function checkPermission(endpoint: Endpoint, who: SignedIn): void {
  if (endpoint.access === "signed_in") return;
  if (!may(who.roles as never, endpoint.access as Permission)) {
    throw new Problem("not-allowed", "Ask the owner of the company, who can give you another role.");
  }
}

const METHODS = ["GET", "POST", "PUT", "PATCH", "DELETE"];

/** An address that exists says which methods it takes, so that a wrong one is not mistaken for a wrong address. */
function refuseOtherMethods(app: FastifyInstance, path: string): void {
  const taken = ENDPOINTS.filter((e) => e.path === path).map((e) => e.method as string);
  app.route({
    method: METHODS.filter((m) => !taken.includes(m)),
    url: path,
    handler: async (_request, reply) => {
      reply.header("Allow", taken.join(", "));
      throw new Problem("method-not-allowed", `Use ${taken.join(" or ")} here.`);
    },
  });
}

/** Adds one endpoint to the server: sign-in, role, input, version, idempotency, handler, answer. */
export function register(
  app: FastifyInstance,
  implementation: Implementation,
  services: RequestServices,
): void {
  const { endpoint } = implementation;
  const check = services.config.NODE_ENV !== "production";

  const answer = (reply: FastifyReply, status: number, body: unknown): unknown => {
    // Declared and real answers may not drift apart; in production the serialiser alone drops what is undeclared.
    if (check) endpoint.response.parse(body);
    const version = (body as { version?: unknown } | null)?.version;
    if (endpoint.etag && typeof version === "number") reply.header("ETag", `"${version}"`);
    reply.status(status);
    return body;
  };

  async function signedIn(request: FastifyRequest, reply: FastifyReply): Promise<unknown> {
    const hash = sessionHash(request);
    if (!hash) throw new Problem("not-signed-in", "Sign in, then try again.");
    const writes = !SAFE.has(endpoint.method);
    const dry = endpoint.dryRuns === true && (request.body as { dryRun?: unknown } | null)?.dryRun === true;
    const key = endpoint.idempotent && !dry ? readKey(request.headers["idempotency-key"]) : null;
    const result = await services.database.withSession(
      hash,
      { requestId: request.id, readOnly: !writes },
      async (session) => {
        if (!session) throw new Problem("not-signed-in", "Your session has ended. Sign in, then try again.");
        const { who, db } = session;
        if (writes && request.headers["x-csrf-token"] !== who.csrfToken) {
          throw new Problem("bad-csrf", "Reload the page and try again; nothing was changed.");
        }
        checkPermission(endpoint, who);
        const parsed = input(endpoint, request);
        const context: Context<Endpoint> = {
          ...(parsed as Context<Endpoint>),
          db,
          who,
          services,
          today: localDay(services.now(), who.timezone),
          version: endpoint.ifMatch ? readVersion(request) : 0,
          requestId: request.id,
          reply,
        };
        const run = async () => {
          const body = await (implementation.handle as (c: Context<Endpoint>) => Promise<unknown>)(context);
          if (dry && db.audited > 0) throw new Error(`${endpoint.id} changed something in a dry run.`);
          if (writes && !dry && db.audited === 0)
            throw new Error(`${endpoint.id} changed something without an audit entry.`);
          return { status: endpoint.status, body };
        };
        if (!key) return run();
        const outcome = await once(db, key, { endpoint: endpoint.id, input: parsed }, run);
        if (outcome.replayed) reply.header("Idempotent-Replayed", "true");
        return outcome;
      },
    );
    const body = result.body instanceof Afterwards ? await result.body.work() : result.body;
    return answer(reply, result.status, body);
  }

  async function open(request: FastifyRequest, reply: FastifyReply): Promise<unknown> {
    const context = { ...input(endpoint, request), services, requestId: request.id, request, reply };
    const body = await (implementation.handle as (c: PublicContext<Endpoint>) => Promise<unknown>)(
      context as PublicContext<Endpoint>,
    );
    return answer(reply, endpoint.status, body);
  }

  app.route({
    method: endpoint.method,
    url: endpoint.path,
    schema: { response: { [endpoint.status]: serializerSchema(endpoint.response) } },
    ...(!SAFE.has(endpoint.method) && {
      onRequest: async (request) => checkOrigin(request, services.config),
    }),
    ...(endpoint.perMinute && {
      config: { rateLimit: { max: endpoint.perMinute, timeWindow: "1 minute" } },
    }),
    handler: endpoint.access === "public" ? open : signedIn,
  });
  if (endpoint === ENDPOINTS.find((e) => e.path === endpoint.path)) refuseOtherMethods(app, endpoint.path);
}
