import {
  ENDPOINTS,
  type Endpoint,
  PERMISSIONS,
  type Permission,
  problemDocument,
} from "@ledgerboard/contracts";
import { z } from "zod";

type Node = Record<string, unknown>;

function schemaOf(schema: z.ZodType, io: "input" | "output"): Node {
  const json = z.toJSONSchema(schema, { target: "draft-2020-12", io, unrepresentable: "any" }) as Node;
  delete json.$schema;
  return json;
}

function parameters(endpoint: Endpoint, part: "params" | "query"): Node[] {
  const schema = endpoint[part];
  if (!schema) return [];
  const { properties = {}, required = [] } = schemaOf(schema, "input") as {
    properties?: Record<string, Node>;
    required?: string[];
  };
  return Object.entries(properties).map(([name, property]) => ({
    name,
    in: part === "params" ? "path" : "query",
    required: part === "params" || required.includes(name),
    schema: property,
  }));
}

const header = (name: string, description: string): Node => ({
  name,
  in: "header",
  required: true,
  description,
  schema: { type: "string" },
});

const problem = (description: string): Node => ({
  description,
  content: { "application/problem+json": { schema: { $ref: "#/components/schemas/Problem" } } },
});

function operation(endpoint: Endpoint): Node {
  const writes = endpoint.method !== "GET";
  const open = endpoint.access === "public";
  const roles =
    open || endpoint.access === "signed_in" ? null : PERMISSIONS[endpoint.access as Permission].join(", ");
  return {
    operationId: endpoint.id,
    tags: [endpoint.tag],
    summary: endpoint.summary,
    description: open
      ? "Open to everybody; limited per address."
      : roles
        ? `For the roles ${roles}.`
        : "For everybody signed in.",
    security: open ? [] : [{ session: [] }],
    parameters: [
      ...parameters(endpoint, "params"),
      ...parameters(endpoint, "query"),
      ...(endpoint.idempotent
        ? [header("Idempotency-Key", "8 to 200 printable characters, the same for a retry of the same act.")]
        : []),
      ...(endpoint.ifMatch ? [header("If-Match", 'The version you saw, like "3".')] : []),
      ...(writes && !open ? [header("X-CSRF-Token", "csrfToken of GET /session.")] : []),
    ],
    ...(endpoint.body && {
      requestBody: {
        required: true,
        content: { "application/json": { schema: schemaOf(endpoint.body, "input") } },
      },
    }),
    responses: {
      [endpoint.status]: {
        description: "Done.",
        content: { "application/json": { schema: schemaOf(endpoint.response, "output") } },
        ...(endpoint.etag && { headers: { ETag: { schema: { type: "string" } } } }),
      },
      ...(endpoint.body || endpoint.query ? { 422: problem("Some fields need another look.") } : {}),
      ...(open ? {} : { 401: problem("Not signed in."), 403: problem("Your role may not do this.") }),
      ...(endpoint.params ? { 404: problem("Not here, or not yours.") } : {}),
      ...(writes && !open ? { 409: problem("Cannot be done now, with the reason.") } : {}),
      ...(endpoint.ifMatch
        ? {
            412: problem("Changed meanwhile; the document carries the current version."),
            428: problem("If-Match is missing."),
          }
        : {}),
      default: problem("Any other problem."),
    },
  };
}

/** The OpenAPI 3.1 description of the whole API, made from the declared endpoints. */
export function openApiDocument(): Node {
  const paths: Record<string, Node> = {};
  for (const endpoint of ENDPOINTS) {
    const path = `/api/v1${endpoint.path.replace(/:(\w+)/g, "{$1}")}`;
    paths[path] = { ...paths[path], [endpoint.method.toLowerCase()]: operation(endpoint) };
  }
  paths["/api/v1/events"] = {
    get: {
      operationId: "events",
      tags: ["live"],
      summary:
        "Server-sent events: one `change` event { entity, id, jobId } for every change in the company.",
      security: [{ session: [] }],
      responses: {
        200: {
          description: "An event stream.",
          content: { "text/event-stream": { schema: { type: "string" } } },
        },
      },
    },
  };
  return {
    openapi: "3.1.0",
    info: {
      title: "Ledgerboard API",
      version: "1",
      description:
        "Money is { cents, currency }; days are local ISO dates, instants ISO 8601; quantities and hours are decimal text. " +
        "Errors are problem documents (RFC 9457) with a stable type. Lists are paged by an opaque cursor.",
    },
    paths,
    components: {
      schemas: { Problem: schemaOf(problemDocument, "output") },
      securitySchemes: { session: { type: "apiKey", in: "cookie", name: "ledgerboard_session" } },
    },
  };
}
