import { ENDPOINTS, type Endpoint, problemDocument } from "@ledgerboard/contracts";
import fc from "fast-check";
import { afterAll, beforeAll, expect, test } from "vitest";
import { checksums, type World, world } from "../support/fixtures.ts";
import { type Harness, startHarness } from "../support/harness.ts";
import { VISITOR_SETTINGS } from "../support/visitor.ts";
import { type Body, bodies, namesIn, QUERIES } from "./recipes.ts";

/**
 * Thousands of made-up requests, right ones, nearly right ones and nonsense, at a company in which everything exists:
 * none may be answered with a fault of ours, and none may touch another company.
 */
const SEED = 20_260_302;
const REQUESTS = 3_000;
const ENOUGH = 500;
const BUDGET_MS = 30_000;

let h: Harness;
let w: World;
let other: World;
let csrf: string;
beforeAll(async () => {
  h = await startHarness(VISITOR_SETTINGS);
  other = await world(h, "Bystander");
  w = await world(h, "Sweep");
  csrf = (await w.company.owner.get("/session")).body.csrfToken;
});
afterAll(() => h.close());

// Signing out would end the sweep; everything else may happen.
const TRIED = ENDPOINTS.filter((e) => e.id !== "signOut");

const DAYS = ["1990-01-01", "2026-03-02", "2026-03-07", "2026-12-24", "2099-12-31", "2026-02-29"];
const DECIMALS = ["0", "0.0001", "1", "99.9999", "500", "10000", "100000", "9999999", "9999999.9999"];
const NUMBERS = [
  0,
  1,
  2,
  7,
  20,
  120,
  365,
  9_000,
  10_000,
  20_000,
  2_099,
  1_000_000_000,
  1_000_000_001,
  -1,
  2 ** 31,
  0.5,
];
const TEXTS = [
  "a",
  "  spaced  ",
  "Robert'); DROP TABLE jobs;--",
  "<script>alert(1)</script>",
  "{{7*7}} #{7*7}",
  "👷🏽‍♀️ Ångström नमस्ते",
  "\u202eabc",
  "\u0000",
  "\ud800",
  "e\u0301".repeat(60),
  "x".repeat(5_000),
  "../../etc/passwd",
  "null",
];

/** A value that could stand in this place, or nearly. */
function near(valid: unknown): fc.Arbitrary<unknown> {
  if (typeof valid === "number") return fc.oneof(fc.constantFrom(...NUMBERS), fc.double(), fc.integer());
  if (typeof valid === "boolean") return fc.constantFrom(true, false, null);
  if (typeof valid === "string" && /^\d{4}-\d\d-\d\d$/.test(valid)) return fc.constantFrom(...DAYS);
  if (typeof valid === "string" && /^\d{4}-\d\d-\d\dT/.test(valid)) {
    return fc.oneof(
      fc.date({ noInvalidDate: true }).map((d) => d.toISOString()),
      fc.constantFrom(...DAYS),
    );
  }
  if (typeof valid === "string" && /^[\d.]+$/.test(valid)) return fc.constantFrom(...DECIMALS);
  if (typeof valid === "string") {
    const ids = [...Object.values(w.params), ...Object.values(w.spare), ...Object.values(other.params)];
    return fc.oneof(
      fc.constantFrom(...TEXTS),
      fc.constantFrom(...ids),
      fc.uuid(),
      fc.string({ unit: "binary" }),
    );
  }
  return fc.jsonValue({ maxDepth: 3 });
}

/** Places in a body: ["customer", "phone"]. */
const places = (body: unknown, path: string[] = []): string[][] =>
  typeof body !== "object" || body === null
    ? []
    : Object.entries(body).flatMap(([k, v]) => [[...path, k], ...places(v, [...path, k])]);

function put(body: Body, path: string[], value: unknown): Body {
  const copy = structuredClone(body);
  const parent = path.slice(0, -1).reduce<Body | undefined>((n, k) => n?.[k] as Body | undefined, copy);
  // Another change may have taken the place away.
  if (typeof parent === "object" && parent !== null) parent[path.at(-1) as string] = value;
  return copy;
}

function bodyOf(e: Endpoint): fc.Arbitrary<unknown> {
  const valid = bodies(w)[e.id];
  if (!valid) return fc.constantFrom(undefined, {}, null);
  const change = fc.constantFrom(...places(valid)).chain((path) => {
    const now = path.reduce<unknown>((n, k) => (n as Body)[k], valid);
    return fc.tuple(
      fc.constant(path),
      fc.oneof(
        { weight: 6, arbitrary: near(now) },
        { weight: 1, arbitrary: fc.jsonValue() },
        { weight: 1, arbitrary: fc.constant(null) },
        { weight: 1, arbitrary: fc.constant(undefined) },
      ),
    );
  });
  const changed = fc
    .array(change, { maxLength: 3 })
    .map((all) => all.reduce((body, [path, value]) => put(body, path, value), valid));
  return fc.oneof({ weight: 12, arbitrary: changed }, { weight: 1, arbitrary: fc.jsonValue() });
}

const requests = (): fc.Arbitrary<{
  e: Endpoint;
  params: string[];
  body: unknown;
  query: string;
  version: string;
}> =>
  fc.constantFrom(...TRIED).chain((e) =>
    fc.record({
      e: fc.constant(e),
      params: fc.tuple(
        ...namesIn(e).map((name) =>
          fc.oneof(
            { weight: 8, arbitrary: fc.constant(w.params[name] ?? "") },
            // The public form of another company may be used by everybody.
            { weight: 1, arbitrary: fc.constant((name === "slug" ? w : other).params[name] ?? "") },
            { weight: 1, arbitrary: fc.constantFrom(...Object.values(w.params)) },
            {
              weight: 1,
              arbitrary: fc.string({ maxLength: 60 }).map((t) => encodeURIComponent(t.toWellFormed())),
            },
          ),
        ),
      ),
      body: bodyOf(e),
      query: fc.oneof(
        { weight: 4, arbitrary: fc.constant(new URLSearchParams(QUERIES[e.id] ?? {}).toString()) },
        {
          weight: 1,
          arbitrary: fc
            .dictionary(
              fc.constantFrom("after", "limit", "search", "view", "stage", "from", "to", "days", "state"),
              fc.oneof(
                fc.string({ unit: "binary" }),
                fc.constantFrom(...DAYS, "1", "120", "waiting", "quoted", "all", ...Object.values(w.params)),
              ),
            )
            .map((q) => new URLSearchParams(q).toString()),
        },
      ),
      version: fc.constantFrom('"1"', '"2"', '"3"', 'W/"4"', "*", '"99999999999"'),
    }),
  );

test(`${REQUESTS} made-up requests: no fault of ours, and nothing of the bystander touched`, {
  timeout: 120_000,
}, async () => {
  const before = await checksums(h, other.company.companyId);
  const until = performance.now() + BUDGET_MS;
  const faults = new Map<string, string>();
  const statuses = new Map<number, number>();
  let sent = 0;
  for (const { e, params, body, query, version } of fc.sample(requests(), {
    seed: SEED,
    numRuns: REQUESTS,
  })) {
    // A slow machine sends fewer; a sweep of a handful would prove nothing.
    if (performance.now() > until && sent >= ENOUGH) break;
    sent += 1;
    let i = 0;
    const path = e.path.replace(/:\w+/g, () => params[i++] ?? "");
    const payload = e.method === "GET" || body === undefined ? undefined : JSON.stringify(body);
    const answer = await h.app.inject({
      method: e.method,
      url: `/api/v1${path}${query && `?${query}`}`,
      headers: {
        cookie: w.company.owner.cookie,
        "x-csrf-token": csrf,
        "idempotency-key": `sweep-${String(sent).padStart(6, "0")}`,
        "if-match": version,
        // An address each, so that limits per address hide nothing.
        "x-forwarded-for": `10.9.${sent >> 8}.${sent & 255}`,
        ...(payload !== undefined && { "content-type": "application/json" }),
      },
      ...(payload !== undefined && { payload }),
    });
    statuses.set(answer.statusCode, (statuses.get(answer.statusCode) ?? 0) + 1);
    const proper =
      answer.statusCode < 400 ||
      (String(answer.headers["content-type"]).startsWith("application/problem+json") &&
        problemDocument.strict().safeParse(JSON.parse(answer.body)).success);
    if (answer.statusCode >= 500 || !proper) {
      faults.set(`${e.id} ${answer.statusCode}`, `${e.method} ${path}?${query} ${payload?.slice(0, 600)}`);
    }
  }
  expect(Object.fromEntries(faults)).toEqual({});
  expect(await checksums(h, other.company.companyId)).toEqual(before);
  // A sweep of refusals alone would prove nothing either.
  const done = [...statuses].reduce((n, [status, count]) => (status < 300 ? n + count : n), 0);
  expect(done / sent, JSON.stringify(Object.fromEntries(statuses))).toBeGreaterThan(0.1);
});
