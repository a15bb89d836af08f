import { ENDPOINTS, type Endpoint, problemDocument } from "@ledgerboard/contracts";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { checksums, type World, world } from "../support/fixtures.ts";
import { type Harness, startHarness } from "../support/harness.ts";
import { VISITOR_SETTINGS } from "../support/visitor.ts";
import { badCases } from "./bad-values.ts";
import { bodies, pathOf } from "./recipes.ts";

/** Whatever is wrong with a body, it is said plainly and where, nothing breaks and nothing is done. */
let h: Harness;
let w: World;
let csrf: string;
beforeAll(async () => {
  h = await startHarness(VISITOR_SETTINGS);
  w = await world(h, "Bad Input");
  csrf = (await w.company.owner.get("/session")).body.csrfToken;
});
afterAll(() => h.close());

const WITH_BODY = ENDPOINTS.filter((e) => e.body);
const AT_ONCE = 8;
const NAMES = WITH_BODY.map((e) => e.id);
const byId = (id: string): Endpoint => WITH_BODY.find((e) => e.id === id) as Endpoint;

let posts = 0;
/** Sends text as it is, from another address each time, so that no limit per address hides the answer. */
async function post(
  e: Endpoint,
  payload: string | Buffer | undefined,
  type: string | null = "application/json",
) {
  posts += 1;
  const answer = await h.app.inject({
    method: e.method,
    url: `/api/v1${pathOf(e, w.params)}`,
    headers: {
      cookie: w.company.owner.cookie,
      "x-csrf-token": csrf,
      "idempotency-key": `bad-input-${posts}`,
      "if-match": '"1"',
      "x-forwarded-for": `10.${posts >> 16}.${(posts >> 8) & 255}.${posts & 255}`,
      ...(type && { "content-type": type }),
    },
    ...(payload !== undefined && { payload }),
  });
  return { status: answer.statusCode, type: String(answer.headers["content-type"]), text: answer.body };
}
const everything = async (): Promise<unknown> => [
  await checksums(h, w.company.companyId),
  (await h.admin.query("SELECT (SELECT count(*) FROM companies), (SELECT count(*) FROM audit_entries)")).rows,
];

/** A problem document of one of these statuses; what is wrong with the answer otherwise. */
function fault(answer: Awaited<ReturnType<typeof post>>, statuses: number[]): string | null {
  if (!statuses.includes(answer.status)) return `${answer.status} ${answer.text.slice(0, 200)}`;
  if (!answer.type.startsWith("application/problem+json")) return `answered as ${answer.type}`;
  const parsed = problemDocument.strict().safeParse(JSON.parse(answer.text));
  return parsed.success ? null : `no problem document: ${answer.text.slice(0, 200)}`;
}

describe("a field that is wrong is refused and named", () => {
  test.each(NAMES)("%s", async (name) => {
    const e = byId(name);
    const valid = bodies(w)[name] ?? {};
    const cases = badCases(e, valid);
    expect(cases.length).toBeGreaterThan(5);
    const before = await everything();
    const faults: string[] = [];
    const tried = async ({ what, body, field }: (typeof cases)[number]): Promise<void> => {
      const answer = await post(e, JSON.stringify(body));
      const wrong = fault(answer, [422]);
      const named = wrong ? [] : (JSON.parse(answer.text).errors ?? []).map((x: { path: string }) => x.path);
      const right = named.some((p: string) => p === field || p.startsWith(`${field}.`));
      if (wrong || !right)
        faults.push(`${field}, ${what}: ${wrong ?? `named ${named.join(", ") || "nothing"}`}`);
    };
    // Several at once, as each is refused and none waits for another.
    for (let i = 0; i < cases.length; i += AT_ONCE) await Promise.all(cases.slice(i, i + AT_ONCE).map(tried));
    expect(faults).toEqual([]);
    expect(await everything()).toEqual(before);
  });
});

describe("a body that is none is refused", () => {
  const big = JSON.stringify({ words: "x".repeat(300_000) });
  const cases: [
    what: string,
    payload: string | Buffer | undefined,
    type: string | null,
    statuses: number[],
  ][] = [
    ["broken JSON", '{"name": "x', "application/json", [400]],
    ["a stray comma", '{"name": "x",}', "application/json", [400]],
    ["two values", "{} {}", "application/json", [400]],
    ["nothing, called JSON", "", "application/json", [400]],
    ["not a number", '{"a": NaN}', "application/json", [400]],
    ["a list", "[]", "application/json", [422]],
    ["a list of bodies", "[{}]", "application/json", [422]],
    ["text", '"{}"', "application/json", [422]],
    ["a number", "7", "application/json", [422]],
    ["null", "null", "application/json", [422]],
    ["a prototype", '{"__proto__": {"admin": true}}', "application/json", [400]],
    [
      "a constructor with a prototype",
      '{"constructor": {"prototype": {"admin": true}}}',
      "application/json",
      [400],
    ],
    ["huge nesting", `${"[".repeat(100_000)}${"]".repeat(100_000)}`, "application/json", [400, 422]],
    [
      "huge nesting within",
      `{"name":${'{"a":'.repeat(20_000)}1${"}".repeat(20_000)}}`,
      "application/json",
      [400, 422],
    ],
    ["300 kB", big, "application/json", [413]],
    ["plain text", "name=x", "text/plain", [415, 422]],
    ["a form", "name=x&email=y", "application/x-www-form-urlencoded", [415]],
    ["XML", "<a/>", "application/xml", [415]],
    ["bytes without a type", Buffer.from([0, 255, 254]), null, [400, 415, 422]],
    ["a type that is none", "{}", "json", [415]],
    ["packed JSON", Buffer.from([0x1f, 0x8b, 8, 0]), "application/json", [400]],
  ];
  test.each(cases)("%s", async (_what, payload, type, statuses) => {
    const before = await everything();
    const faults: string[] = [];
    for (const e of WITH_BODY) {
      const wrong = fault(await post(e, payload, type), statuses);
      if (wrong) faults.push(`${e.id}: ${wrong}`);
    }
    expect(faults).toEqual([]);
    expect(await everything()).toEqual(before);
  });

  test("and no prototype was touched", () => {
    expect(({} as Record<string, unknown>).admin).toBeUndefined();
  });
});

describe("an address or a query that is wrong is refused", () => {
  const JUNK = [
    "%00",
    "%0a",
    "a%00b",
    "%ef%bf%bd",
    "%f0%9f%98%80",
    "..%2f..%2fetc",
    "'%20OR%201=1--",
    "%25",
    "-1",
    "x".repeat(190),
    "__proto__",
  ];

  test("in every address with an id", async () => {
    const faults: string[] = [];
    for (const e of ENDPOINTS.filter((x) => x.path.includes(":"))) {
      for (const junk of JUNK) {
        const url = `/api/v1${e.path.replace(/:\w+/g, junk)}`;
        const body = bodies(w)[e.id];
        const answer = await h.app.inject({
          method: e.method,
          url,
          headers: {
            cookie: w.company.owner.cookie,
            "x-csrf-token": csrf,
            "idempotency-key": "bad-address",
            "if-match": '"1"',
            "x-forwarded-for": `11.${posts >> 16}.${(posts >> 8) & 255}.${posts++ & 255}`,
          },
          ...(body && { payload: body }),
        });
        if (answer.statusCode !== 404)
          faults.push(`${e.method} ${url}: ${answer.statusCode} ${answer.body.slice(0, 120)}`);
      }
    }
    expect(faults).toEqual([]);
  });

  test("in every query", async () => {
    const faults: string[] = [];
    // Queries for which some of the values below are right.
    const TAKES_SOME = ["search", "limit", "days", "seed", "discountBp", "__proto__"];
    const values = [
      "",
      "\u0000",
      "x",
      "-1",
      "0",
      "1e3",
      "999999",
      "NaN",
      "[]",
      "\u202e",
      "2026-02-30",
      "٣",
      "x".repeat(500),
    ];
    for (const e of ENDPOINTS.filter((x) => x.query)) {
      for (const name of [
        ...Object.keys((e.query as unknown as { shape: object }).shape),
        "unknown",
        "__proto__",
      ]) {
        for (const value of values) {
          const answer = await w.company.owner.get(pathOf(e, w.params), { [name]: value });
          const refused = answer.status === 422 && answer.body.errors.length > 0;
          // The client library drops a key of this name; sent by hand it is tried below.
          const fine = answer.status === 200 && TAKES_SOME.includes(name);
          if (!refused && !fine) faults.push(`${e.id} ${name}=${JSON.stringify(value)}: ${answer.status}`);
        }
        const twice = await w.company.owner.get(`${pathOf(e, w.params)}?${name}=1&${name}=2`);
        if (twice.status !== 422) faults.push(`${e.id} ${name} twice: ${twice.status}`);
      }
    }
    expect(faults).toEqual([]);
  });
});
