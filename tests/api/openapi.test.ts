import { ENDPOINTS, PERMISSIONS, type Permission } from "@ledgerboard/contracts";
import type { Response } from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { z } from "zod";
import { bodies, gentleFirst, pathOf, send } from "../security/recipes.ts";
import { type World, world } from "../support/fixtures.ts";
import { type Harness, startHarness } from "../support/harness.ts";

type Node = Record<string, unknown>;
interface Operation extends Node {
  operationId: string;
  parameters: { name: string; in: string; required: boolean; schema: Node }[];
  responses: Record<string, { description: string; content?: Record<string, { schema: Node }> }>;
  requestBody?: { content: Record<string, { schema: Node }> };
  security: Record<string, unknown>[];
}

let h: Harness;
let w: World;
let document: Node & {
  paths: Record<string, Record<string, Operation>>;
  components: Record<string, Record<string, Node>>;
};
beforeAll(async () => {
  h = await startHarness();
  w = await world(h, "Open");
  document = (await h.anonymous.get("/openapi.json")).body;
});
afterAll(() => h.close());

const METHODS = ["get", "put", "post", "delete", "options", "head", "patch", "trace"];
const operations = (): [path: string, method: string, operation: Operation][] =>
  Object.entries(document.paths).flatMap(([path, item]) =>
    Object.entries(item).map(
      ([method, operation]) => [path, method, operation] as [string, string, Operation],
    ),
  );

/** Keywords of JSON Schema 2020-12 (core, applicator, validation, annotation), as the specification lists them; from memory. */
const KEYWORDS = new Set(
  `$ref $defs type enum const multipleOf maximum exclusiveMaximum minimum exclusiveMinimum maxLength minLength pattern
   maxItems minItems uniqueItems maxProperties minProperties required properties patternProperties additionalProperties
   propertyNames items prefixItems contains allOf anyOf oneOf not if then else format default title description
   deprecated readOnly writeOnly examples`.split(/\s+/),
);
const TYPES = new Set(["null", "boolean", "object", "array", "number", "integer", "string"]);

/** Faults of a schema by JSON Schema 2020-12: unknown keywords, wrong types, required fields that are not there. */
function schemaFaults(schema: unknown, at: string): string[] {
  if (typeof schema === "boolean") return [];
  if (typeof schema !== "object" || schema === null || Array.isArray(schema)) return [`${at}: not a schema`];
  const node = schema as Node;
  const faults = Object.keys(node)
    .filter((k) => !KEYWORDS.has(k))
    .map((k) => `${at}: unknown keyword ${k}`);
  for (const type of [node.type ?? []].flat())
    if (!TYPES.has(type as string)) faults.push(`${at}: type ${type}`);
  if (typeof node.pattern === "string") {
    try {
      new RegExp(node.pattern, "u");
    } catch {
      faults.push(`${at}: pattern ${node.pattern}`);
    }
  }
  if (typeof node.$ref === "string") {
    const target = node.$ref
      .slice(2)
      .split("/")
      .reduce<unknown>((n, key) => (n as Node)?.[key], document);
    if (!node.$ref.startsWith("#/") || !target) faults.push(`${at}: ${node.$ref} leads nowhere`);
  }
  const properties = (node.properties ?? {}) as Node;
  for (const name of (node.required ?? []) as string[]) {
    if (!(name in properties)) faults.push(`${at}: requires ${name}, which it does not have`);
  }
  for (const [key, value] of Object.entries(properties)) faults.push(...schemaFaults(value, `${at}.${key}`));
  for (const key of ["items", "additionalProperties", "propertyNames", "not"]) {
    if (node[key] !== undefined) faults.push(...schemaFaults(node[key], `${at}.${key}`));
  }
  for (const key of ["anyOf", "oneOf", "allOf", "prefixItems"]) {
    const options = (node[key] ?? []) as unknown[];
    faults.push(...options.flatMap((option, i) => schemaFaults(option, `${at}.${key}.${i}`)));
  }
  return faults;
}

// The rules are those of the OpenAPI Specification 3.1.0, written down from memory.
describe("the description is valid OpenAPI 3.1", () => {
  test("its head", () => {
    expect(document.openapi).toMatch(/^3\.1\.\d+$/);
    expect(document.info).toMatchObject({ title: expect.any(String), version: expect.any(String) });
  });

  test("every operation has an id of its own and answers with described codes", () => {
    const ids = operations().map(([, , o]) => o.operationId);
    expect(new Set(ids).size).toBe(ids.length);
    for (const [path, method, o] of operations()) {
      expect(METHODS, path).toContain(method);
      const codes = Object.keys(o.responses);
      expect(codes.length, path).toBeGreaterThan(0);
      for (const code of codes) expect(code).toMatch(/^([1-5]\d\d|default)$/);
      for (const answer of Object.values(o.responses)) expect(answer.description.length).toBeGreaterThan(0);
    }
  });

  test("every name in an address is a required path parameter, and every path parameter is in the address", () => {
    for (const [path, method, o] of operations()) {
      const inPath = [...path.matchAll(/\{(\w+)\}/g)].map((m) => m[1]);
      const parameters = o.parameters ?? [];
      expect(
        parameters.filter((p) => p.in === "path").map((p) => p.name),
        `${method} ${path}`,
      ).toEqual(inPath);
      for (const p of parameters.filter((x) => x.in === "path")) expect(p.required).toBe(true);
      const names = parameters.map((p) => `${p.in} ${p.name}`);
      expect(new Set(names).size).toBe(names.length);
      expect(path.startsWith("/")).toBe(true);
    }
  });

  test("every schema is one of JSON Schema 2020-12, and every reference leads somewhere", () => {
    const faults = operations().flatMap(([path, method, o]) => [
      ...(o.parameters ?? []).flatMap((p) => schemaFaults(p.schema, `${method} ${path} ${p.name}`)),
      ...Object.values(o.requestBody?.content ?? {}).flatMap((c) =>
        schemaFaults(c.schema, `${method} ${path} body`),
      ),
      ...Object.entries(o.responses).flatMap(([code, answer]) =>
        Object.values(answer.content ?? {}).flatMap((c) =>
          schemaFaults(c.schema, `${method} ${path} ${code}`),
        ),
      ),
    ]);
    expect(faults).toEqual([]);
    for (const [name, s] of Object.entries(document.components.schemas ?? {}))
      expect(schemaFaults(s, name)).toEqual([]);
    const known = Object.keys(document.components.securitySchemes ?? {});
    for (const [, , o] of operations())
      for (const s of o.security) expect(known).toEqual(expect.arrayContaining(Object.keys(s)));
  });

  test("the check itself sees a wrong schema", () => {
    const wrong = {
      type: "text",
      nullable: true,
      required: ["a"],
      pattern: "(",
      items: { $ref: "#/nowhere" },
    };
    expect(schemaFaults(wrong, "x")).toEqual([
      "x: unknown keyword nullable",
      "x: type text",
      "x: pattern (",
      "x: requires a, which it does not have",
      "x.items: #/nowhere leads nowhere",
    ]);
  });
});

test("every declared endpoint is described, with who may call it, and nothing else but the change feed", () => {
  const described = operations().map(([path, method, o]) => `${method} ${path} ${o.operationId}`);
  const declared = ENDPOINTS.map(
    (e) => `${e.method.toLowerCase()} /api/v1${e.path.replace(/:(\w+)/g, "{$1}")} ${e.id}`,
  );
  expect(described.sort()).toEqual([...declared, "get /api/v1/events events"].sort());
  for (const [, , o] of operations()) {
    const e = ENDPOINTS.find((x) => x.id === o.operationId);
    if (!e) continue;
    expect(o.security, e.id).toEqual(e.access === "public" ? [] : [{ session: [] }]);
    const roles = PERMISSIONS[e.access as Permission];
    if (roles) expect(o.description, e.id).toBe(`For the roles ${roles.join(", ")}.`);
  }
});

describe("what is answered is what is described", () => {
  const problems = () => z.fromJSONSchema(document.components.schemas?.Problem as never);

  /** Faults of a real answer by the described schema of its status. */
  function answerFaults(operation: Operation, answer: Response): string[] {
    const described = operation.responses[answer.status] ?? operation.responses.default;
    const type = String(answer.headers["content-type"]).split(";")[0] ?? "";
    const content = described?.content?.[type];
    if (!content) return [`${answer.status} ${type} is not described`];
    const schema =
      type === "application/problem+json" ? problems() : z.fromJSONSchema(content.schema as never);
    return schema.safeParse(answer.body).error?.issues.map((i) => `${i.path.join(".")}: ${i.message}`) ?? [];
  }
  const operationOf = (id: string): Operation => {
    const found = operations().find(([, , o]) => o.operationId === id);
    if (!found) throw new Error(`${id} is not described.`);
    return found[2];
  };

  test("the comparison itself sees a wrong answer", async () => {
    const answer = await w.company.owner.get("/jobs/counts");
    expect(answerFaults(operationOf("countJobs"), answer)).toEqual([]);
    expect(answerFaults(operationOf("getCompany"), answer)).not.toEqual([]);
  });

  test("in real calls of every endpoint, done or refused", async () => {
    const done = new Set<string>();
    for (const e of [...ENDPOINTS].sort(gentleFirst)) {
      const client = e.access === "public" ? h.anonymous : w.company.owner;
      for (const who of [client, h.anonymous]) {
        const answer = await send(who, e, pathOf(e, w.params), { body: bodies(w)[e.id] });
        expect([e.id, answer.status, answerFaults(operationOf(e.id), answer)]).toEqual([
          e.id,
          answer.status,
          [],
        ]);
        if (answer.status < 300) {
          expect([e.id, answer.status]).toEqual([e.id, e.status]);
          done.add(e.id);
        }
      }
    }
    // Most of them do what they are asked; the rest are refused by the state of the one job.
    expect(done.size).toBeGreaterThanOrEqual(45);
  });
});
