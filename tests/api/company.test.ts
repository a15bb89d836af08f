import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Harness, startHarness } from "../support/harness.ts";

let h: Harness;
beforeAll(async () => {
  h = await startHarness();
});
afterAll(() => h.close());

describe("the company's profile", () => {
  test("is read by every member, with the deposit rule of its state", async () => {
    const c = await h.company({ name: "Heron Point", state: "MD" });
    for (const client of [c.owner, c.sales, c.estimator, c.scheduler, c.lead_hand]) {
      const answer = await client.get("/company");
      expect(answer.status).toBe(200);
      expect(answer.headers.etag).toBe('"1"');
      expect(answer.body).toMatchObject({
        id: c.companyId,
        name: "Heron Point",
        jobPrefix: "TC",
        phone: null,
      });
    }
    // Md. Code, Bus. Reg. § 8-617: one third before or at signing; shared/deposit-caps.json.
    const { depositRule } = (await c.owner.get("/company")).body;
    expect(depositRule.status).toBe("cap");
    expect(depositRule.rule).toMatch(/third|1\/3/i);
    expect(depositRule.source).not.toBe("");
  });

  test("is changed by the owner on the version he saw", async () => {
    const c = await h.company();
    const change = {
      name: "Heron Point Carpentry",
      phone: "410-555-0101",
      email: "Office@Heron.example",
      address: "1 Wharf Road\nAnnapolis",
      licenceLine: "MHIC 000000",
      depositShareBp: 2_500,
      quoteValidDays: 45,
    };
    const changed = await c.owner.patch("/company", change, 1);
    expect(changed.status).toBe(200);
    expect(changed.body).toMatchObject({ ...change, version: 2 });
    expect((await c.sales.get("/company")).body).toEqual(changed.body);

    const stale = await c.owner.patch("/company", { name: "Other" }, 1);
    expect(stale.status).toBe(412);
    expect(stale.body.current).toEqual(changed.body);
    expect((await c.owner.post("/company", {})).status).toBe(405);
    for (const client of [c.sales, c.estimator, c.scheduler, c.lead_hand]) {
      expect((await client.patch("/company", { name: "Mine" }, 2)).status).toBe(403);
    }
    const { rows } = await h.admin.query(
      "SELECT changes FROM audit_entries WHERE company_id = $1 AND action = 'company.changed'",
      [c.companyId],
    );
    expect(rows).toHaveLength(1);
    expect(rows[0].changes.after).toEqual(change);
    expect(rows[0].changes.before.name).toBe("Test Carpentry");
  });

  test("takes only time zones that program and database both know", async () => {
    const c = await h.company();
    for (const timezone of ["Mars/Olympus", "+05:00", "-03", "EST; DROP TABLE jobs"]) {
      const refused = await c.owner.patch("/company", { timezone }, 1);
      expect(refused.status, timezone).toBe(422);
      expect(refused.body.errors).toEqual([
        { path: "body.timezone", message: "Not a known time zone; it looks like America/New_York." },
      ]);
    }
    h.setNow("2026-12-01T06:30:00Z");
    expect((await c.owner.get("/session")).body.today).toBe("2026-12-01");
    expect((await c.owner.patch("/company", { timezone: "America/Los_Angeles" }, 1)).status).toBe(200);
    expect((await c.owner.get("/session")).body.today).toBe("2026-11-30");
  });

  test("follows the rule of another state, and says where none is known", async () => {
    const c = await h.company({ state: "MD" });
    const california = await c.owner.patch("/company", { state: "CA" }, 1);
    // Cal. Bus. & Prof. Code § 7159.5: ten percent or $1,000, whichever is less; shared/deposit-caps.json.
    expect(california.body.depositRule.status).toBe("cap");
    expect(california.body.depositRule.rule).toMatch(/1,000/);
    const nowhere = await c.owner.patch("/company", { state: "ZZ" }, 2);
    expect(nowhere.body.depositRule).toMatchObject({ status: "no_data", unsure: true });
  });

  test("of one company is never another's", async () => {
    const [one, two] = [await h.company({ name: "One" }), await h.company({ name: "Two" })];
    await one.owner.patch("/company", { name: "One changed" }, 1);
    expect((await two.owner.get("/company")).body).toMatchObject({ name: "Two", version: 1 });
  });
});

describe("a materiality policy", () => {
  const policy = (effectiveFrom: string, more: object = {}) => ({
    effectiveFrom,
    amount: { cents: 75_000, currency: "USD" },
    percentBp: 750,
    hours: "8.5",
    structuralAction: false,
    ...more,
  });

  test("is set from today or later, newest first, and earlier ones stay", async () => {
    h.setNow("2026-12-01T15:00:00Z");
    const c = await h.company();
    const added = await c.owner.post("/company/policies", policy("2026-12-01"));
    expect(added.status).toBe(201);
    const later = await c.owner.post("/company/policies", policy("2027-01-01", { hours: null }));
    expect(later.body.hours).toBeNull();
    const { items } = (await c.lead_hand.get("/company/policies")).body;
    expect(items.map((p: { effectiveFrom: string }) => p.effectiveFrom)).toEqual([
      "2027-01-01",
      "2026-12-01",
      "2020-01-01",
    ]);
    expect(items[1]).toEqual({ id: added.body.id, ...policy("2026-12-01") });
  });

  test("is refused for a day that is over, or taken, and for anybody but the owner", async () => {
    h.setNow("2026-12-02T03:00:00Z");
    const c = await h.company();
    // It is still December 1 in New York.
    const past = await c.owner.post("/company/policies", policy("2026-11-30"));
    expect(past.status).toBe(422);
    expect(past.body.errors[0].path).toBe("body.effectiveFrom");
    const atOnce = await Promise.all([
      c.owner.post("/company/policies", policy("2026-12-01")),
      c.owner.post("/company/policies", policy("2026-12-01")),
    ]);
    expect(atOnce.map((a) => a.status).sort()).toEqual([201, 409]);
    expect((await c.sales.post("/company/policies", policy("2026-12-05"))).status).toBe(403);
    expect((await c.owner.get("/company/policies")).body.items).toHaveLength(2);
  });
});
