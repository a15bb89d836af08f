import { createHash, randomUUID } from "node:crypto";
import { canonicalJson, sayLine } from "@ledgerboard/api/features/quotes/document";
import { endOpenQuotes } from "@ledgerboard/api/features/quotes/service";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import {
  issueQuote,
  issueRevision,
  pricedJob,
  refresh,
  signedJob,
  timelineOf,
} from "../support/priced-job.ts";

let h: Harness;
let c: TestCompany;
beforeAll(async () => {
  h = await startHarness();
});
afterAll(() => h.close());
beforeEach(async () => {
  h.setNow("2026-11-25T15:00:00Z");
  c = await h.company({ name: "Plain Carpentry" });
});

const signature = (quote: { documentSha256: string }, over: object = {}) => ({
  signer: "Pat Doe",
  signedOn: "2026-11-25",
  signedAt: "home",
  documentSha256: quote.documentSha256,
  ...over,
});
const accept = (quote: { id: string; documentSha256: string }, over: object = {}) =>
  c.sales.post(`/quotes/${quote.id}/acceptance`, signature(quote, over));
const faults = (response: { body: { errors?: { path: string }[] } }) =>
  response.body.errors?.map((e) => e.path);

describe("issuing", () => {
  test("freezes what is offered, numbered and with the hash of exactly that text", async () => {
    const job = await pricedJob(h, c, {
      yearBuilt: 1965,
      priceCents: 700_000,
      lines: [
        {
          component: "decking",
          action: "replace",
          quantity: "214",
          unit: "sqft",
          description: "cedar",
          priceCents: 600_000,
        },
        { component: "post", action: "keep", quantity: "6", unit: "each", priceCents: 0 },
        {
          component: "joist",
          action: "sister",
          quantity: "1",
          unit: "each",
          evidence: "concealed",
          priceCents: 100_000,
        },
        { component: "finish", action: "finish", quantity: "12.5", unit: "hour", by: "owner", priceCents: 0 },
        { component: "footing", action: "add", quantity: "1", unit: "lot", by: "others", priceCents: 0 },
      ],
    });
    const quote = await issueQuote(c.sales, job.jobId);
    expect(quote).toMatchObject({
      number: "Q-26-0001",
      jobId: job.jobId,
      revisionId: job.revisionId,
      price: { cents: 700_000, currency: "USD" },
      state: "open",
      expiresOn: "2026-12-25",
      acceptance: null,
    });
    expect(quote.document).toMatchObject({
      company: { name: "Plain Carpentry" },
      property: "12 Shore Road, Annapolis, MD 21401",
      jobNumber: job.number,
      issuedOn: "2026-11-25",
      expiresOn: "2026-12-25",
    });
    expect(quote.document.lines).toEqual([
      {
        zone: "Lower deck",
        words: "replace decking, 214 sq ft (cedar)",
        by: "by us",
        price: { cents: 600_000, currency: "USD" },
      },
      { zone: "Lower deck", words: "keep post, 6 pieces", by: "by us", price: { cents: 0, currency: "USD" } },
      {
        zone: "Lower deck",
        words: "sister joist, 1 piece, not visible until opened",
        by: "by us",
        price: { cents: 100_000, currency: "USD" },
      },
      {
        zone: "Lower deck",
        words: "finish, 12.5 hours",
        by: "by owner",
        price: { cents: 0, currency: "USD" },
      },
      {
        zone: "Lower deck",
        words: "add footing, 1 lot",
        by: "by others",
        price: { cents: 0, currency: "USD" },
      },
    ]);
    const cautions: string[] = quote.document.cautions;
    expect(cautions).toHaveLength(4);
    expect(cautions[0]).toContain("lead");
    expect(cautions.join()).toContain("811");
    for (const caution of cautions) {
      expect(caution).toMatch(
        /Source: .+\. A caution, not an instruction\. Local codes, .+ licensed practice decide\.$/,
      );
    }

    const { rows } = await h.admin.query(
      "SELECT document_text, document_sha256, document FROM quotes WHERE id = $1",
      [quote.id],
    );
    const hash = createHash("sha256").update(rows[0].document_text).digest("hex");
    expect(rows[0].document_sha256).toBe(hash);
    expect(quote.documentSha256).toBe(hash);
    expect(JSON.parse(rows[0].document_text)).toEqual(rows[0].document);
    // Whoever holds the answer can work the hash out again.
    expect(canonicalJson(quote.document)).toBe(rows[0].document_text);
    expect(await timelineOf(h, job.jobId)).toEqual([
      "Quote Q-26-0001 issued for $7,000, to be signed by 25 Dec 2026.",
    ]);
  });

  test("cautions follow the year, the work and the salt; kept parts bring none", async () => {
    const cautionsOf = async (options: Parameters<typeof pricedJob>[2]) =>
      (await issueQuote(c.sales, (await pricedJob(h, c, options)).jobId)).document.cautions.join("\n");
    const line = (component: string, action: string) => ({
      lines: [{ component, action, quantity: "1", unit: "each", priceCents: 1_000 }],
    });
    const skirting = await cautionsOf({ yearBuilt: 2010, ...line("skirting", "replace") });
    expect(skirting).toBe("");
    expect(await cautionsOf({ yearBuilt: 1977, ...line("skirting", "replace") })).toContain("lead");
    expect(await cautionsOf({ yearBuilt: 1978, ...line("skirting", "replace") })).not.toContain("lead");
    const salty = await cautionsOf({ yearBuilt: 2010, salt: true, ...line("joist_hanger", "replace") });
    expect(salty).toContain("stainless");
    expect(salty).toContain("6 ft");
    expect(await cautionsOf({ yearBuilt: 1900, salt: true, ...line("post", "keep") })).toBe("");
  });

  test("stays as issued whatever changes later", async () => {
    const job = await pricedJob(h, c);
    const before = await issueQuote(c.sales, job.jobId);
    await h.admin.query("UPDATE companies SET name = 'Other Name' WHERE company_id = $1", [c.companyId]);
    await h.admin.query("UPDATE customers SET name = 'Somebody Else' WHERE id = $1", [job.customerId]);
    expect((await c.sales.get(`/quotes/${before.id}`)).body).toEqual(before);
  });

  test("takes the company's days of validity unless told", async () => {
    await h.admin.query("UPDATE companies SET quote_valid_days = 14 WHERE company_id = $1", [c.companyId]);
    expect((await issueQuote(c.sales, (await pricedJob(h, c)).jobId)).expiresOn).toBe("2026-12-09");
    const told = await pricedJob(h, c);
    expect((await issueQuote(c.sales, told.jobId, { validDays: 1 })).expiresOn).toBe("2026-11-26");
    expect((await c.sales.post(`/jobs/${told.jobId}/quotes`, { validDays: 0 })).status).toBe(422);
  });

  test("is refused without an issued revision, while one is out, and to roles without leave", async () => {
    const job = await pricedJob(h, c);
    expect((await c.scheduler.post(`/jobs/${job.jobId}/quotes`, {})).status).toBe(403);
    await issueQuote(c.sales, job.jobId);
    const again = await c.sales.post(`/jobs/${job.jobId}/quotes`, {});
    expect(again.status).toBe(409);
    expect(again.body.detail).toContain("already out");
    const { rows } = await h.admin.query(
      `INSERT INTO jobs (company_id, number, title, customer_id, property_id, inquiry_on)
       VALUES ($1, 'TC-26-9999', 'Empty', $2, $3, '2026-11-25') RETURNING id`,
      [c.companyId, job.customerId, job.propertyId],
    );
    await refresh(h, c.companyId, rows[0].id);
    const nothing = await c.sales.post(`/jobs/${rows[0].id}/quotes`, {});
    expect(nothing.status).toBe(409);
    expect(nothing.body.detail).toContain("Nothing is priced yet");
  });

  test("numbers run without gaps when many are issued at once, and start again each year", async () => {
    const jobs = [await pricedJob(h, c), await pricedJob(h, c), await pricedJob(h, c), await pricedJob(h, c)];
    const quotes = await Promise.all(jobs.map((job) => issueQuote(c.sales, job.jobId)));
    expect(quotes.map((q) => q.number).sort()).toEqual(["Q-26-0001", "Q-26-0002", "Q-26-0003", "Q-26-0004"]);
    h.setNow("2027-01-04T15:00:00Z");
    expect((await issueQuote(c.sales, (await pricedJob(h, c)).jobId)).number).toBe("Q-27-0001");
  });

  test("a repeated request issues one quote", async () => {
    const job = await pricedJob(h, c);
    const key = randomUUID();
    const first = await c.sales.post(`/jobs/${job.jobId}/quotes`, {}, { key });
    const second = await c.sales.post(`/jobs/${job.jobId}/quotes`, {}, { key });
    expect(second.body).toEqual(first.body);
    const { rows } = await h.admin.query("SELECT count(*)::int AS n FROM quotes WHERE job_id = $1", [
      job.jobId,
    ]);
    expect(rows[0].n).toBe(1);
  });
});

describe("signing", () => {
  test("at home records the signature and the last day to cancel", async () => {
    const job = await pricedJob(h, c);
    const quote = await issueQuote(c.sales, job.jobId);
    const signed = await accept(quote);
    expect(signed.status).toBe(201);
    // 16 CFR 429.0 by way of shared/worked-cancellations.json: Thanksgiving and the Sunday do not count.
    expect((await c.sales.get(`/quotes/${quote.id}`)).body).toMatchObject({
      state: "accepted",
      acceptance: {
        signer: "Pat Doe",
        signedOn: "2026-11-25",
        signedAt: "home",
        cancelUntil: "2026-11-30",
        voidWhy: null,
      },
    });
    const { rows } = await h.admin.query("SELECT stage FROM jobs WHERE id = $1", [job.jobId]);
    expect(rows[0].stage).toBe("accepted");
    expect((await timelineOf(h, job.jobId)).at(-1)).toBe(
      "Pat Doe signed quote Q-26-0001 for $9,610 on 25 Nov 2026. The right to cancel runs to 30 Nov 2026 (16 CFR 429.0, 429.1; 5 USC 6103). Check local law.",
    );
    const again = await accept(quote);
    expect(again.status).toBe(409);
    expect(again.body.detail).toContain("already signed");
  });

  test("at the office leaves no right to cancel", async () => {
    const quote = await issueQuote(c.sales, (await pricedJob(h, c)).jobId);
    expect((await accept(quote, { signedAt: "office" })).status).toBe(201);
    expect((await c.sales.get(`/quotes/${quote.id}`)).body.acceptance.cancelUntil).toBeNull();
  });

  test("needs the hash of this quote and a day within its life", async () => {
    const job = await pricedJob(h, c);
    const quote = await issueQuote(c.sales, job.jobId);
    const other = await issueQuote(c.sales, (await pricedJob(h, c)).jobId);
    h.setNow("2026-12-01T15:00:00Z");
    const wrong = await accept(quote, { documentSha256: other.documentSha256 });
    expect([wrong.status, faults(wrong)]).toEqual([422, ["body.documentSha256"]]);
    for (const signedOn of ["2026-12-02", "2026-11-24"]) {
      const response = await accept(quote, { signedOn });
      expect([signedOn, response.status, faults(response)]).toEqual([signedOn, 422, ["body.signedOn"]]);
    }
    const { rows } = await h.admin.query("SELECT count(*)::int AS n FROM acceptances WHERE job_id = $1", [
      job.jobId,
    ]);
    expect(rows[0].n).toBe(0);
    expect((await accept(quote, { signedOn: "2026-11-26" })).status).toBe(201);
  });

  test("works on the last day and not after it", async () => {
    const quote = await issueQuote(c.sales, (await pricedJob(h, c)).jobId, { validDays: 7 });
    const late = await issueQuote(c.sales, (await pricedJob(h, c)).jobId, { validDays: 7 });
    h.setNow("2026-12-02T15:00:00Z");
    expect((await accept(quote, { signedOn: "2026-12-02" })).status).toBe(201);
    h.setNow("2026-12-03T15:00:00Z");
    expect((await c.sales.get(`/quotes/${late.id}`)).body.state).toBe("expired");
    const refused = await accept(late, { signedOn: "2026-12-03" });
    expect(refused.status).toBe(409);
    expect(refused.body.detail).toContain("ran out on 2 Dec 2026");
  });

  test("of two at once, one counts", async () => {
    const job = await pricedJob(h, c);
    const quote = await issueQuote(c.sales, job.jobId);
    const both = await Promise.all([accept(quote), accept(quote, { signer: "Sam Roe" })]);
    expect(both.map((r) => r.status).sort()).toEqual([201, 409]);
    const { rows } = await h.admin.query("SELECT count(*)::int AS n FROM acceptances WHERE job_id = $1", [
      job.jobId,
    ]);
    expect(rows[0].n).toBe(1);
  });

  test("is the office's to record", async () => {
    const quote = await issueQuote(c.sales, (await pricedJob(h, c)).jobId);
    for (const member of [c.estimator, c.scheduler, c.lead_hand]) {
      expect((await member.post(`/quotes/${quote.id}/acceptance`, signature(quote))).status).toBe(403);
    }
  });
});

describe("a quote that is no longer the one out", () => {
  test("an expired one is superseded when sent again, and cannot be signed", async () => {
    const job = await pricedJob(h, c);
    const first = await issueQuote(c.sales, job.jobId, { validDays: 1 });
    h.setNow("2026-11-30T15:00:00Z");
    const second = await issueQuote(c.sales, job.jobId);
    expect((await c.sales.get(`/quotes/${first.id}`)).body.state).toBe("superseded");
    const refused = await accept(first, { signedOn: "2026-11-26" });
    expect(refused.status).toBe(409);
    expect(refused.body.detail).toBe(`Quote ${first.number} was replaced by ${second.number}. Use that one.`);
    expect((await c.sales.post(`/quotes/${first.id}/decline`, { why: "too dear" })).status).toBe(409);
    expect(await timelineOf(h, job.jobId)).toContain(
      `Quote ${first.number} superseded: Replaced by quote ${second.number}.`,
    );
    expect((await accept(second, { signedOn: "2026-11-30" })).status).toBe(201);
  });

  test("one on an older revision cannot be signed", async () => {
    const job = await pricedJob(h, c);
    const quote = await issueQuote(c.sales, job.jobId);
    await issueRevision(h, c, job, { priceCents: 1_192_000 });
    const refused = await accept(quote);
    expect(refused.status).toBe(409);
    expect(refused.body.detail).toContain("scope changed");
    const next = await issueQuote(c.sales, job.jobId);
    expect(next.price.cents).toBe(1_192_000);
  });

  test("a new quote voids the signature on the older scope, and the customer signs again", async () => {
    const job = await signedJob(h, c);
    await issueRevision(h, c, job, { priceCents: 970_000 });
    const next = await issueQuote(c.sales, job.jobId);
    expect((await c.sales.get(`/quotes/${job.quoteId}`)).body).toMatchObject({
      state: "void",
      acceptance: { signer: "Pat Doe", voidWhy: `Replaced by quote ${next.number}.` },
    });
    expect((await accept(next)).status).toBe(201);
    expect((await c.sales.get(`/quotes/${next.id}`)).body.state).toBe("accepted");
  });

  test("a declined one stays declined; another can follow", async () => {
    const job = await pricedJob(h, c);
    const quote = await issueQuote(c.sales, job.jobId);
    expect((await c.sales.post(`/quotes/${quote.id}/decline`, { why: "no" })).status).toBe(422);
    expect((await c.sales.post(`/quotes/${quote.id}/decline`, { why: "found a cheaper one" })).body).toEqual({
      done: true,
    });
    expect((await c.sales.get(`/quotes/${quote.id}`)).body.state).toBe("declined");
    expect((await accept(quote)).status).toBe(409);
    expect((await c.sales.post(`/quotes/${quote.id}/decline`, { why: "again" })).status).toBe(409);
    expect((await timelineOf(h, job.jobId)).at(-1)).toContain("found a cheaper one");
    expect((await c.sales.post(`/jobs/${job.jobId}/quotes`, {})).status).toBe(201);
  });

  test("withdrawing ends what is open and leaves a standing signature alone", async () => {
    const open = await pricedJob(h, c);
    const quote = await issueQuote(c.sales, open.jobId);
    const signed = await signedJob(h, c);
    const withdraw = (jobId: string) =>
      h.database.withCompany(c.companyId, {}, (db) => endOpenQuotes(db, jobId, "withdrawn", "Job closed."));
    expect(await withdraw(open.jobId)).toEqual([quote.number]);
    expect(await withdraw(open.jobId)).toEqual([]);
    expect(await withdraw(signed.jobId)).toEqual([]);
    expect((await c.sales.get(`/quotes/${quote.id}`)).body.state).toBe("superseded");
    expect((await c.sales.get(`/quotes/${signed.quoteId}`)).body.state).toBe("accepted");
    expect(await timelineOf(h, open.jobId)).toContain(`Quote ${quote.number} withdrawn: Job closed.`);
  });
});

test("quotes, endings and signatures are never changed, not even by the owner of the tables", async () => {
  const job = await signedJob(h, c);
  await issueRevision(h, c, job, { priceCents: 1 });
  const next = await issueQuote(c.sales, job.jobId);
  await c.sales.post(`/quotes/${next.id}/decline`, { why: "changed her mind" });
  const tables = ["quotes", "acceptances", "acceptance_voids", "quote_endings"];
  for (const table of tables) {
    await expect(h.admin.query(`UPDATE ${table} SET created_at = now()`), table).rejects.toThrow(
      "append-only",
    );
    await expect(h.admin.query(`DELETE FROM ${table}`), table).rejects.toThrow("append-only");
  }
  // The role the program works as may not even try.
  await expect(
    h.database.withCompany(c.companyId, {}, (db) => db.sql`UPDATE quotes SET price_cents = 1`),
  ).rejects.toThrow("permission denied");
});

test("another company's ids, and ids of nothing, are not found", async () => {
  const other = await h.company();
  const job = await pricedJob(h, c);
  const quote = await issueQuote(c.sales, job.jobId);
  for (const [member, jobId, quoteId] of [
    [other.sales, job.jobId, quote.id],
    [c.sales, randomUUID(), randomUUID()],
  ] as const) {
    expect((await member.get(`/quotes/${quoteId}`)).status).toBe(404);
    expect((await member.post(`/jobs/${jobId}/quotes`, {})).status).toBe(404);
    expect((await member.post(`/quotes/${quoteId}/acceptance`, signature(quote))).status).toBe(404);
    expect((await member.post(`/quotes/${quoteId}/decline`, { why: "not mine" })).status).toBe(404);
  }
  expect((await c.sales.get(`/quotes/${quote.id}`)).body).toEqual(quote);
});

describe("the words and the text of a document", () => {
  const line = {
    component: "decking",
    action: "replace",
    description: "",
    unit: "sqft",
    concealed: false,
  } as const;
  test.each([
    [{ quantity: "214" }, "replace decking, 214 sq ft"],
    [{ quantity: "1", unit: "each" }, "replace decking, 1 piece"],
    [{ quantity: "0.5", unit: "hour" }, "replace decking, 0.5 hours"],
    [{ quantity: "8", unit: "lf", component: "rim_joist" }, "replace rim joist, 8 ft"],
    [{ quantity: "8", unit: "lf", action: "open_up" }, "open up decking, 8 ft"],
  ] as const)("%j is %s", (over, words) => expect(sayLine({ ...line, ...over })).toBe(words));

  test("keys are in one order at every depth, lists keep theirs", () => {
    expect(canonicalJson({ b: [{ z: 1, a: "é" }, 2], a: null })).toBe('{"a":null,"b":[{"a":"é","z":1},2]}');
  });
});
