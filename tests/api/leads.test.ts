import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { inquiry, lead, MONDAY, TODAY, taken } from "../support/fixtures.ts";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { VISITOR_SETTINGS, visitor } from "../support/visitor.ts";

let h: Harness;
let c: TestCompany;
beforeAll(async () => {
  h = await startHarness(VISITOR_SETTINGS);
  h.setNow(MONDAY);
  c = await h.company();
});
afterAll(() => h.close());

const count = async (table: string, of = c): Promise<number> =>
  (await h.admin.query(`SELECT FROM ${table} WHERE company_id = $1`, [of.companyId])).rowCount ?? 0;
const person = (name: string, phone: string | null, email: string | null = null) => ({ name, phone, email });
const property = (street = "9 Creek Lane") => ({
  street,
  city: "Annapolis",
  state: "MD",
  postalCode: "21401",
});

describe("an inquiry by phone", () => {
  test("opens customer, property, job and lead in one step, each as it was said", async () => {
    const made = await lead(c.sales, {
      source: "referral",
      words: "Stairs shake.\nSecond step is soft.",
      title: "Back stair",
      hazard: "tread loose",
      customer: {
        ...person("Ines Calloway", "(410) 555-0142", "Ines@Place.example"),
        notes: "Call after four.",
      },
      property: {
        ...property(),
        yearBuilt: 1968,
        latitude: 38.9784,
        longitude: -76.4922,
        saltExposure: true,
      },
    });
    const job = taken<Record<string, unknown>>(await c.owner.get(`/jobs/${made.jobId}`));
    expect(job).toMatchObject({
      number: made.number,
      title: "Back stair",
      stage: "inquiry",
      hazard: "tread loose",
      inquiryOn: TODAY,
      waitedDays: 0,
      price: null,
      customerName: "Ines Calloway",
      customer: { phone: "(410) 555-0142", email: "Ines@Place.example", notes: "Call after four." },
      property: {
        ...property(),
        yearBuilt: 1968,
        latitude: 38.9784,
        longitude: -76.4922,
        saltExposure: true,
      },
      lead: { source: "referral", words: "Stairs shake.\nSecond step is soft." },
      salesperson: { id: c.sales.memberId },
    });
    expect(made.number).toMatch(/^TC-26-\d{4}$/);
    const { items } = taken<{ items: { by: string; action: string }[] }>(
      await c.owner.get(`/jobs/${made.jobId}/timeline`),
    );
    expect(items).toContainEqual(expect.objectContaining({ by: "The sales", action: "job.opened" }));
  });

  test("taken by somebody else than sales has no salesperson yet", async () => {
    const { jobId } = await lead(c.scheduler);
    expect((await c.owner.get(`/jobs/${jobId}`)).body.salesperson).toBeNull();
  });

  test("numbers run on without gap or repeat, also with many at once and a refused one between", async () => {
    const fresh = await h.company();
    const refused = fresh.sales.post(
      "/leads",
      inquiry({ customerId: crypto.randomUUID(), customer: undefined }),
    );
    const made = await Promise.all([...Array.from({ length: 8 }, () => lead(fresh.sales)), refused]);
    const numbers = made.flatMap((m) => ("number" in m ? [m.number] : [])).sort();
    expect(numbers).toEqual(Array.from({ length: 8 }, (_, i) => `TC-26-000${i + 1}`));
    expect((await refused).status).toBe(404);
  });

  test("of a known customer makes no second one, at a known or a new property", async () => {
    const first = await lead(c.sales);
    const { customer, property: at } = taken<{ customer: { id: string }; property: { id: string } }>(
      await c.owner.get(`/jobs/${first.jobId}`),
    );
    const before = [await count("customers"), await count("properties")];
    const again = await lead(c.sales, {
      customerId: customer.id,
      customer: undefined,
      propertyId: at.id,
      property: undefined,
    });
    const elsewhere = await lead(c.sales, {
      customerId: customer.id,
      customer: undefined,
      property: property("2 A"),
    });
    expect([await count("customers"), await count("properties")]).toEqual([before[0], (before[1] ?? 0) + 1]);
    const detail = taken<{ jobs: { id: string }[]; properties: unknown[] }>(
      await c.owner.get(`/customers/${customer.id}`),
    );
    expect(detail.jobs.map((j) => j.id).sort()).toEqual([first.jobId, again.jobId, elsewhere.jobId].sort());
    expect(detail.properties).toHaveLength(2);
  });

  test.each([
    ["no customer", { customer: undefined }, "body.customer"],
    ["no property", { property: undefined }, "body.property"],
    ["no way to answer", { customer: { name: "Silent" } }, "body.customer.phone"],
    ["a known and a new customer", { customerId: crypto.randomUUID() }, "body.customer"],
    ["a known and a new property", { propertyId: crypto.randomUUID() }, "body.property"],
  ])("with %s is refused and leaves nothing", async (_what, given, path) => {
    const before = [await count("customers"), await count("jobs"), await count("audit_entries")];
    const answer = await c.sales.post("/leads", inquiry(given));
    expect(answer.status).toBe(422);
    expect(answer.body.errors[0].path).toBe(path);
    expect([await count("customers"), await count("jobs"), await count("audit_entries")]).toEqual(before);
  });

  test("at a property of another customer is refused", async () => {
    const [one, two] = [await lead(c.sales), await lead(c.sales)];
    const a = (await c.owner.get(`/jobs/${one.jobId}`)).body;
    const b = (await c.owner.get(`/jobs/${two.jobId}`)).body;
    const mixed = {
      customerId: a.customer.id,
      customer: undefined,
      propertyId: b.property.id,
      property: undefined,
    };
    const answer = await c.sales.post("/leads", inquiry(mixed));
    expect(answer.body.errors).toEqual([
      { path: "body.propertyId", message: "That property belongs to another customer." },
    ]);
  });
});

describe("customers who may be the same", () => {
  test.each([
    ["the same number written otherwise", person("A", "410-555-0171"), person("B", "+1 (410) 555.0171")],
    ["a number without its country", person("A", "+14105550172"), person("B", "4105550172")],
    [
      "the same mail address in capitals",
      person("A", null, "x71@y.example"),
      person("B", null, "X71@Y.Example"),
    ],
  ])("%s are offered", async (_what, a, b) => {
    const d = await h.company();
    const first = await lead(d.sales, { customer: a });
    expect(first.duplicates).toEqual([]);
    const second = await lead(d.sales, { customer: b });
    expect(second.duplicates).toEqual([expect.objectContaining(a)]);
  });

  test("without a number or mail in common are not, nor those of another company", async () => {
    const d = await h.company();
    await lead(c.sales, { customer: person("Same here", "410-555-0199", "same@y.example") });
    await lead(d.sales, { customer: person("A", "410-555-0198", null) });
    const none = await lead(d.sales, { customer: person("A", "410-555-0199", "same@y.example") });
    expect(none.duplicates).toEqual([]);
  });
});

describe("sent twice", () => {
  test("with one key is one job, and the second answer is the first", async () => {
    const body = inquiry();
    const before = await count("jobs");
    const first = await c.sales.post("/leads", body, { key: "phone-rang-once" });
    const again = await c.sales.post("/leads", body, { key: "phone-rang-once" });
    expect(again.body).toEqual(first.body);
    expect([first.status, again.status]).toEqual([201, 201]);
    expect(again.headers["idempotent-replayed"]).toBe("true");
    expect(await count("jobs")).toBe(before + 1);
  });

  test("at the same moment is one job", async () => {
    const body = inquiry();
    const before = await count("jobs");
    const answers = await Promise.all(
      Array.from({ length: 5 }, () => c.sales.post("/leads", body, { key: "five-at-once" })),
    );
    expect(new Set(answers.map((a) => a.body.jobId)).size).toBe(1);
    expect(answers.map((a) => a.status)).toEqual([201, 201, 201, 201, 201]);
    expect(await count("jobs")).toBe(before + 1);
  });

  test("with the key of another member is another act", async () => {
    const body = inquiry();
    const first = await c.sales.post("/leads", body, { key: "two-people-one-key" });
    const other = await c.owner.post("/leads", body, { key: "two-people-one-key" });
    expect(other.body.jobId).not.toBe(first.body.jobId);
  });
});

describe("the public form", () => {
  const form = (given: Record<string, unknown> = {}) => ({
    name: "Wren Tull",
    phone: "410 555 0133",
    street: "4 Quay Road",
    city: "Galesville",
    postalCode: "20765",
    words: "Front steps are rotten.",
    filledInMs: 30_000,
    ...given,
  });

  test("shows the company's name and nothing private", async () => {
    const answer = await visitor(h).get(`/public/companies/${c.slug}`);
    expect(answer.body).toEqual({ name: "Test Carpentry", phone: null, state: "MD" });
    expect((await visitor(h).get("/public/companies/no-such-company")).status).toBe(404);
  });

  test("becomes a job from nobody, told nothing but that it arrived", async () => {
    const d = await h.company();
    const answer = await visitor(h).post(`/public/companies/${d.slug}/inquiries`, form({ unsafe: true }));
    expect([answer.status, answer.body]).toEqual([202, { done: true }]);
    const [row] = (await d.owner.get("/jobs")).body.items;
    expect(row).toMatchObject({
      customerName: "Wren Tull",
      city: "Galesville",
      hazard: "customer says unsafe",
    });
    const job = (await d.owner.get(`/jobs/${row.id}`)).body;
    expect(job).toMatchObject({
      lead: { source: "web_form", words: "Front steps are rotten." },
      property: { street: "4 Quay Road", postalCode: "20765", state: "MD" },
      salesperson: null,
    });
    expect((await d.owner.get(`/jobs/${row.id}/timeline`)).body.items[0].by).toBe("Ledgerboard");
  });

  test.each([
    ["a filled-in trap", { website: "http://spam.example" }],
    ["a form filled in faster than a person can", { filledInMs: 400 }],
  ])("%s gets the same answer and leaves nothing", async (_what, given) => {
    const d = await h.company();
    const answer = await visitor(h).post(`/public/companies/${d.slug}/inquiries`, form(given));
    expect([answer.status, answer.body]).toEqual([202, { done: true }]);
    for (const table of ["jobs", "customers", "properties", "leads", "audit_entries"]) {
      expect(await count(table, d), table).toBe(0);
    }
  });

  test("needs a way to answer", async () => {
    const answer = await visitor(h).post(`/public/companies/${c.slug}/inquiries`, form({ phone: null }));
    expect(answer.status).toBe(422);
    expect(answer.body.errors).toEqual([
      { path: "body.phone", message: "Leave a phone number or a mail address." },
    ]);
  });

  test("is limited per address: the sixth in a minute is told to wait, another address is not", async () => {
    const d = await h.company();
    const path = `/public/companies/${d.slug}/inquiries`;
    const eager = visitor(h);
    for (let i = 0; i < 5; i++) expect((await eager.post(path, form())).status).toBe(202);
    const sixth = await eager.post(path, form());
    expect(sixth.status).toBe(429);
    expect(sixth.body).toMatchObject({ type: "/problems/too-many", status: 429 });
    const seconds = Number(sixth.headers["retry-after"]);
    expect(seconds).toBeGreaterThan(0);
    expect(seconds).toBeLessThanOrEqual(60);
    expect((await visitor(h).post(path, form())).status).toBe(202);
    expect(await count("jobs", d)).toBe(6);
  });
});
