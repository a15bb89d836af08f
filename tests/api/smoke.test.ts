import { afterAll, beforeAll, expect, test } from "vitest";
import { type Harness, startHarness } from "../support/harness.ts";

let h: Harness;
beforeAll(async () => {
  h = await startHarness();
});
afterAll(() => h.close());

test("serves its own description and knows who is signed in", async () => {
  const c = await h.company();
  expect((await h.anonymous.get("/openapi.json")).status).toBe(200);
  expect((await c.owner.get("/nowhere")).body.type).toBe("/problems/not-found");
  await h.database.withCompany(c.companyId, {}, async (db) => {
    const m = await db.prisma.member.findMany({});
    expect(m).toHaveLength(5);
    const n = await db.prisma.customer.create({ data: { name: "x" } });
    expect(n.companyId).toBe(c.companyId);
  });
});
