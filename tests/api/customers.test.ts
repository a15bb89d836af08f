import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { lead, taken } from "../support/fixtures.ts";
import { type Client, type Harness, startHarness, type TestCompany } from "../support/harness.ts";

let h: Harness;
beforeAll(async () => {
  h = await startHarness();
});
afterAll(() => h.close());

interface Detail {
  name: string;
  jobs: { id: string }[];
  properties: { id: string }[];
}
const detail = async (who: Client, id: string) => taken<Detail>(await who.get(`/customers/${id}`));

/** A customer with one job at one property. */
async function customer(c: TestCompany, name: string, phone = "410-555-0101", email: string | null = null) {
  const { jobId } = await lead(c.sales, { customer: { name, phone, email } });
  const job = taken<{ customer: { id: string }; property: { id: string } }>(
    await c.owner.get(`/jobs/${jobId}`),
  );
  return { id: job.customer.id, jobId, propertyId: job.property.id };
}
const merge = (who: Client, keep: string, otherId: string) =>
  who.post(`/customers/${keep}/merge`, { otherId });
const unmerge = (who: Client, keep: string, otherId: string) =>
  who.post(`/customers/${keep}/unmerge`, { otherId });

describe("the list", () => {
  let c: TestCompany;
  beforeAll(async () => {
    c = await h.company();
    const names = ["Zed Ames", "amy Blake", "Émile Ito", "Bo 100%", "Cy_Lo", "Amy Blake", "D'Arcy"];
    for (const [i, name] of names.entries()) {
      await customer(c, name, `+1 410 555 02${10 + i}`, `person${i}@place.example`);
    }
  });
  const names = async (query: Record<string, string | number>) =>
    taken<{ items: { name: string; jobCount: number }[]; next: string | null }>(
      await c.owner.get("/customers", query),
    );

  test("is in order of name and pages without repeats", async () => {
    const all = (await names({ limit: 100 })).items;
    expect(all).toHaveLength(7);
    const { rows } = await h.admin.query(
      "SELECT name FROM customers WHERE company_id = $1 ORDER BY name, id",
      [c.companyId],
    );
    expect(all.map((i) => i.name)).toEqual(rows.map((r) => r.name));
    const seen: string[] = [];
    let after: string | null = null;
    do {
      const page: Awaited<ReturnType<typeof names>> = await names({ limit: 2, ...(after && { after }) });
      seen.push(...page.items.map((i) => i.name));
      after = page.next;
    } while (after);
    expect(seen).toEqual(all.map((i) => i.name));
  });

  test.each([
    ["amy b", ["Amy Blake", "amy Blake"]],
    ["%", ["Bo 100%"]],
    ["_", ["Cy_Lo"]],
    ["d'a", ["D'Arcy"]],
    ["ÉMILE", ["Émile Ito"]],
    ["PERSON0@", ["Zed Ames"]],
    ["(410) 555-0213", ["Bo 100%"]],
    ["555 0214", ["Cy_Lo"]],
    ["nobody", []],
    ["213", []],
  ])("finds %s by name, mail or number", async (search, wanted) => {
    const found = (await names({ search })).items.map((i) => i.name);
    expect(found.sort()).toEqual([...wanted].sort());
  });
});

describe("a correction", () => {
  test("is kept, compared anew with others, and told in the answer's version", async () => {
    const c = await h.company();
    const a = await customer(c, "Ida Moss", "410-555-0161");
    const b = await customer(c, "Ida M.", "410-555-0162");
    const before = await c.owner.get(`/customers/${b.id}`);
    const answer = await c.sales.patch(
      `/customers/${b.id}`,
      { phone: "(410)5550161", email: null },
      before.body.version,
    );
    expect(taken(answer)).toMatchObject({ name: "Ida M.", phone: "(410)5550161", email: null });
    expect(answer.headers.etag).toBe(`"${before.body.version + 1}"`);
    expect((await c.owner.get("/customers/duplicates")).body.items).toEqual([
      expect.objectContaining({
        keep: expect.objectContaining({ id: a.id }),
        other: expect.objectContaining({ id: b.id }),
        shared: ["phone"],
      }),
    ]);
  });

  test("on an older version is refused with what is there now; nothing is lost", async () => {
    const c = await h.company();
    const { id } = await customer(c, "Two Hands");
    const { version } = (await c.owner.get(`/customers/${id}`)).body;
    const both = await Promise.all([
      c.sales.patch(`/customers/${id}`, { notes: "from sales" }, version),
      c.owner.patch(`/customers/${id}`, { notes: "from the owner" }, version),
    ]);
    expect(both.map((a) => a.status).sort()).toEqual([200, 412]);
    const won = both.find((a) => a.status === 200)?.body;
    const lost = both.find((a) => a.status === 412)?.body;
    expect(lost.current).toEqual(won);
    expect((await c.owner.get(`/customers/${id}`)).body).toEqual(won);
  });

  test("of a property keeps what was not mentioned", async () => {
    const c = await h.company();
    const { propertyId, jobId } = await customer(c, "Piet");
    const before = (await c.owner.get(`/jobs/${jobId}`)).body.property;
    const after = taken(
      await c.sales.patch(
        `/properties/${propertyId}`,
        { yearBuilt: 1971, saltExposure: true },
        before.version,
      ),
    );
    expect(after).toEqual({ ...before, yearBuilt: 1971, saltExposure: true, version: before.version + 1 });
  });
});

describe("a merge", () => {
  test("shows both people's jobs and properties as one; the undoing gives them back", async () => {
    const c = await h.company();
    const [a, b] = [await customer(c, "Ana Reyes"), await customer(c, "A. Reyes")];
    const merged = taken<Detail>(await merge(c.sales, a.id, b.id));
    expect(merged.name).toBe("Ana Reyes");
    expect(merged.jobs.map((j) => j.id).sort()).toEqual([a.jobId, b.jobId].sort());
    expect(merged.properties.map((p) => p.id).sort()).toEqual([a.propertyId, b.propertyId].sort());
    // The folded one answers with who he became, in lists, on his job and by his own id.
    expect((await detail(c.owner, b.id)).id).toBe(a.id);
    expect((await c.owner.get("/customers")).body.items).toEqual([
      expect.objectContaining({ id: a.id, jobCount: 2 }),
    ]);
    expect((await c.owner.get(`/jobs/${b.jobId}`)).body).toMatchObject({
      customerName: "Ana Reyes",
      customer: { id: a.id },
    });
    expect((await c.owner.get("/jobs", { search: "ana reyes" })).body.items).toHaveLength(2);
    expect((await c.owner.get("/customers/duplicates")).body.items).toEqual([]);

    taken(await unmerge(c.sales, a.id, b.id));
    expect((await detail(c.owner, a.id)).jobs.map((j) => j.id)).toEqual([a.jobId]);
    const other = await detail(c.owner, b.id);
    expect([other.name, other.jobs.map((j) => j.id)]).toEqual(["A. Reyes", [b.jobId]]);
    expect((await c.owner.get(`/jobs/${b.jobId}`)).body.customerName).toBe("A. Reyes");
  });

  test("makes no chains and no rings", async () => {
    const c = await h.company();
    const [a, b, d] = [await customer(c, "A"), await customer(c, "B"), await customer(c, "D")];
    taken(await merge(c.sales, a.id, b.id));
    const refused = [
      await merge(c.sales, b.id, d.id), // into one who was folded
      await merge(c.sales, d.id, b.id), // of one who was folded already
      await merge(c.sales, d.id, a.id), // of one into whom others were folded
      await merge(c.sales, b.id, a.id), // back
      await unmerge(c.sales, d.id, b.id), // of what was never merged
      await unmerge(c.sales, a.id, d.id),
    ];
    for (const answer of refused) {
      expect(answer.status).toBe(409);
      expect(answer.body.type).toBe("/problems/illegal-move");
    }
    const same = await merge(c.sales, d.id, d.id);
    expect([same.status, same.body.errors[0].path]).toEqual([422, "body.otherId"]);
    expect((await merge(c.sales, d.id, crypto.randomUUID())).status).toBe(404);
    // A second one may be folded into the same.
    taken(await merge(c.sales, a.id, d.id));
    expect((await detail(c.owner, a.id)).jobs).toHaveLength(3);
  });

  test("of two into each other at once leaves exactly one standing", async () => {
    const c = await h.company();
    for (let round = 0; round < 5; round++) {
      const [a, b] = [await customer(c, `L${round}`), await customer(c, `R${round}`)];
      const both = await Promise.all([merge(c.sales, a.id, b.id), merge(c.owner, b.id, a.id)]);
      expect(both.map((x) => x.status).sort()).toEqual([200, 409]);
      const { rows } = await h.admin.query(
        "SELECT FROM customers WHERE id = ANY($1) AND merged_into_id IS NULL",
        [[a.id, b.id]],
      );
      expect(rows).toHaveLength(1);
    }
  });

  test("brings new inquiries of the folded one to who he became", async () => {
    const c = await h.company();
    const [a, b] = [await customer(c, "Kept"), await customer(c, "Folded")];
    taken(await merge(c.sales, a.id, b.id));
    const { jobId } = await lead(c.sales, {
      customerId: b.id,
      customer: undefined,
      propertyId: b.propertyId,
      property: undefined,
    });
    expect((await c.owner.get(`/jobs/${jobId}`)).body.customer.id).toBe(a.id);
  });
});
