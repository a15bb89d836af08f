import { PROBLEMS, problemDocument } from "@ledgerboard/contracts";
import request, { type Response } from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { inquiry, lead } from "../support/fixtures.ts";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";

let h: Harness;
let c: TestCompany;
let jobId: string;
beforeAll(async () => {
  h = await startHarness();
  c = await h.company();
  jobId = (await lead(c.sales)).jobId;
});
afterAll(() => h.close());

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** Checks everything every problem document owes, and which problem it is. */
function expectProblem(answer: Response, name: keyof typeof PROBLEMS, path: string): void {
  expect(answer.headers["content-type"]).toMatch(/^application\/problem\+json/);
  const document = problemDocument.strict().parse(answer.body);
  expect(document).toMatchObject({
    type: `/problems/${name}`,
    title: PROBLEMS[name].title,
    status: PROBLEMS[name].status,
    instance: path,
    requestId: expect.stringMatching(UUID),
  });
  expect(answer.status).toBe(PROBLEMS[name].status);
  // A sentence that says what to do.
  expect(document.detail).toMatch(/^[A-Z].*\.$/);
}

describe("every refusal is a problem document", () => {
  const at = (path: string) => `/api/v1${path}`;

  test("no such address", async () => {
    expectProblem(await c.owner.get("/nowhere"), "not-found", at("/nowhere"));
    expectProblem(await h.anonymous.post("/nowhere", {}), "not-found", at("/nowhere"));
    expectProblem(await request(h.app.server).get("/elsewhere"), "not-found", "/elsewhere");
  });

  test("an address that cannot be read", async () => {
    for (const path of ["/api/v1/jobs/%zz", "/api/v1/%c0%ae%c0%ae", `/api/v1/jobs/${"x".repeat(300)}`]) {
      const answer = await request(h.app.server).get(path).set("Cookie", c.owner.cookie);
      expectProblem(answer, "not-found", path);
    }
  });

  test("an id that is none", async () => {
    expectProblem(await c.owner.get("/jobs/7"), "not-found", at("/jobs/7"));
  });

  test("a method the address does not take, with those it takes", async () => {
    const answer = await c.owner.put("/jobs", {});
    expectProblem(answer, "method-not-allowed", at("/jobs"));
    expect(answer.headers.allow).toBe("GET");
    const onJob = await c.owner.delete(`/jobs/${jobId}`);
    expectProblem(onJob, "method-not-allowed", at(`/jobs/${jobId}`));
    expect(onJob.headers.allow).toBe("GET, PATCH");
  });

  test("nobody signed in", async () => {
    expectProblem(await h.anonymous.get("/jobs"), "not-signed-in", at("/jobs"));
    for (const cookie of ["ledgerboard_session=short", `ledgerboard_session=${"A".repeat(43)}`, "a=b; ="]) {
      const answer = await request(h.app.server).get("/api/v1/jobs").set("Cookie", cookie);
      expectProblem(answer, "not-signed-in", at("/jobs"));
    }
  });

  test("a form out of date, a role that may not", async () => {
    const pin = `/jobs/${jobId}/pin`;
    expectProblem(await c.owner.put(pin, { why: null }, { csrf: null }), "bad-csrf", at(pin));
    expectProblem(await c.owner.put(pin, { why: null }, { csrf: "0".repeat(32) }), "bad-csrf", at(pin));
    expectProblem(await c.sales.put(pin, { why: null }), "not-allowed", at(pin));
  });

  test("a key that is missing, malformed or used for something else", async () => {
    const key = "the-same-key-twice";
    expectProblem(await c.sales.post("/leads", inquiry(), { key: null }), "key-required", at("/leads"));
    expectProblem(await c.sales.post("/leads", inquiry(), { key: "short" }), "key-required", at("/leads"));
    expect((await c.sales.post("/leads", inquiry(), { key })).status).toBe(201);
    expectProblem(await c.sales.post("/leads", inquiry(), { key }), "key-reused", at("/leads"));
  });

  test("a version that is missing, no number or old: the last with what is there now", async () => {
    const path = `/jobs/${jobId}`;
    const raw = (version: string) =>
      request(h.app.server)
        .patch(at(path))
        .set("Cookie", c.owner.cookie)
        .set("X-CSRF-Token", csrf)
        .set("If-Match", version)
        .send({ title: "Changed" });
    const csrf = (await c.owner.get("/session")).body.csrfToken;
    for (const bad of ["*", '"abc"', '"1", "2"', '"1e3"']) {
      expectProblem(await raw(bad), "version-required", at(path));
    }
    const stale = await raw('"999"');
    expectProblem(stale, "version-stale", at(path));
    expect(stale.body.current).toEqual((await c.owner.get(path)).body);
  });

  test("fields at fault are named as they were sent", async () => {
    const answer = await c.sales.post(
      "/leads",
      inquiry({ title: "", property: { street: "1 A", state: "Md" } }),
    );
    expectProblem(answer, "invalid-input", at("/leads"));
    expect(answer.body.errors.map((e: { path: string }) => e.path)).toEqual([
      "body.title",
      "body.property.city",
      "body.property.state",
      "body.property.postalCode",
    ]);
    const query = await c.owner.get("/jobs", { limit: "many", view: "nice" });
    expectProblem(query, "invalid-input", at("/jobs"));
    expect(query.body.errors.map((e: { path: string }) => e.path)).toEqual(["query.view", "query.limit"]);
  });

  test("the instance carries no query, where secrets could be", async () => {
    const answer = await c.owner.get("/nowhere", { token: "secret" });
    expect(answer.text).not.toContain("secret");
  });
});

describe("a fault of ours", () => {
  test("tells nothing of the inside, leaves nothing half done, and passes", async () => {
    await h.admin.query("ALTER TABLE leads RENAME TO leads_away");
    const before = await h.admin.query("SELECT count(*) FROM jobs");
    const answer = await c.sales.post("/leads", inquiry(), { key: "after-the-fault" });
    expectProblem(answer, "internal", "/api/v1/leads");
    expect(Object.keys(answer.body).sort()).toEqual([
      "detail",
      "instance",
      "requestId",
      "status",
      "title",
      "type",
    ]);
    expect(answer.text).not.toMatch(/leads_away|relation|prisma|select|insert|stack|\.ts/i);
    expect((await h.admin.query("SELECT count(*) FROM jobs")).rows).toEqual(before.rows);
    await h.admin.query("ALTER TABLE leads_away RENAME TO leads");
    // The key was not used up by the attempt that failed.
    expect((await c.sales.post("/leads", inquiry(), { key: "after-the-fault" })).status).toBe(201);
  });

  test("a database out of reach is told as such, with when to try again, and passes without a restart", async () => {
    const name = new URL(h.adminUrl).pathname.slice(1);
    await h.admin.query(`REVOKE CONNECT ON DATABASE "${name}" FROM PUBLIC`);
    await h.admin.query(
      "SELECT pg_terminate_backend(pid, 5000) FROM pg_stat_activity WHERE datname = $1 AND usename = 'ledgerboard_app'",
      [name],
    );
    const cutOff = await c.owner.get("/jobs");
    const still = await c.owner.get("/jobs");
    await h.admin.query(`GRANT CONNECT ON DATABASE "${name}" TO PUBLIC`);
    for (const answer of [cutOff, still]) {
      expectProblem(answer, "unavailable", "/api/v1/jobs");
      expect(answer.headers["retry-after"]).toBe("2");
    }
    expect((await c.owner.get("/jobs")).status).toBe(200);
  });
});
