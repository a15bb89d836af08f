import { randomUUID } from "node:crypto";
import fc from "fast-check";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import worked from "../../shared/worked-deposits.json" with { type: "json" };
import { type Client, type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { issueRevision, pricedJob, signedJob, timelineOf } from "../support/priced-job.ts";

let h: Harness;
let c: TestCompany;
beforeAll(async () => {
  h = await startHarness();
});
afterAll(() => h.close());
beforeEach(async () => {
  h.setNow("2026-11-25T15:00:00Z");
  c = await h.company();
});

const usd = (cents: number) => ({ cents, currency: "USD" });
const moneyOf = async (jobId: string) => (await c.sales.get(`/jobs/${jobId}/money`)).body;
const ask = (jobId: string, cents: number, dueOn = "2026-12-02") =>
  c.sales.post(`/jobs/${jobId}/deposit-requests`, { amount: usd(cents), dueOn });
const pay = (jobId: string, cents: number, over: object = {}, key: string = randomUUID()) =>
  c.sales.post(
    `/jobs/${jobId}/payments`,
    { method: "cheque", amount: usd(cents), receivedOn: "2026-11-25", ...over },
    { key },
  );
const refund = (jobId: string, cents: number) => pay(jobId, cents, { kind: "refund" });
const reverse = (paymentId: string, member: Client = c.owner) =>
  member.post(`/payments/${paymentId}/reversal`, { why: "typed wrong" });
const ledgerSum = async (jobId: string) => {
  const { rows } = await h.admin.query(
    "SELECT coalesce(sum(amount_cents), 0)::int AS sum, count(*)::int AS n FROM payments WHERE job_id = $1",
    [jobId],
  );
  return rows[0] as { sum: number; n: number };
};

describe("before a signature", () => {
  test("there is no contract, no limit, no balance, and no money may be asked or taken", async () => {
    const job = await pricedJob(h, c);
    expect(await moneyOf(job.jobId)).toEqual({
      jobId: job.jobId,
      contract: null,
      request: null,
      cap: null,
      suggested: null,
      paid: usd(0),
      balance: null,
      entries: [],
    });
    const asked = await ask(job.jobId, 100);
    expect([asked.status, asked.body.detail]).toEqual([
      409,
      "The customer has not signed. Ask for no money before that.",
    ]);
    expect((await pay(job.jobId, 100)).status).toBe(409);
    expect((await ledgerSum(job.jobId)).n).toBe(0);
  });
});

describe("asking for a deposit", () => {
  test("Maryland: a third at most; more is refused with the limit and its source", async () => {
    const job = await signedJob(h, c);
    const money = await moneyOf(job.jobId);
    expect(money).toMatchObject({ contract: usd(961_000), balance: usd(961_000), request: null });
    // A third of $9,610 cut to the cent: Md. Code, Bus. Reg. 8-617, as shared/deposit-caps.json has it.
    expect(money.cap).toMatchObject({
      status: "cap",
      cap: usd(320_333),
      source: "Md. Code, Bus. Reg. 8-617(a), (b)",
      unsure: false,
      checkLocalLaw: "Check local law.",
    });
    // 33.33 % of $9,610 is $3,203.013.
    expect(money.suggested).toEqual(usd(320_301));

    const refused = await ask(job.jobId, 320_334);
    expect(refused.status).toBe(422);
    expect(refused.body.errors).toEqual([
      {
        path: "body.amount",
        message: expect.stringMatching(
          /^At most \$3,203\.33: .+one third of the price.* \(source: Md\. Code, Bus\. Reg\. 8-617\(a\), \(b\)\)\. Check local law\.$/,
        ),
      },
    ]);
    const asked = await ask(job.jobId, 320_333);
    expect(asked.status).toBe(201);
    expect((await moneyOf(job.jobId)).request).toMatchObject({
      id: asked.body.id,
      amount: usd(320_333),
      dueOn: "2026-12-02",
    });
    expect((await timelineOf(h, job.jobId)).at(-1)).toBe(
      "Deposit of $3,203.33 asked, due 2 Dec 2026. The limit is $3,203.33 (source: Md. Code, Bus. Reg. 8-617(a), (b)). Check local law.",
    );
    const twice = await ask(job.jobId, 1_000);
    expect([twice.status, twice.body.detail]).toEqual([
      409,
      "A deposit of $3,203.33 has already been asked for.",
    ]);
  });

  test("outside check: every limit of a statute in shared/worked-deposits.json holds to the cent", async () => {
    const rows = (
      worked.rows as {
        state: string;
        contract_price_cents: number;
        max_deposit_cents: number | null;
        unsure: boolean;
        source: string;
        special_order_cost_cents?: number;
        labor_cost_cents?: number;
      }[]
    ).filter(
      (r) =>
        r.max_deposit_cents !== null &&
        !r.unsure &&
        !r.special_order_cost_cents &&
        r.labor_cost_cents === undefined,
    );
    let checked = 0;
    for (const { state, contract_price_cents: priceCents, max_deposit_cents: most, source } of rows) {
      const job = await signedJob(h, c, { state, priceCents });
      const { cap } = await moneyOf(job.jobId);
      if (cap.status !== "cap") continue;
      checked += 1;
      const name = `${state} ${priceCents}`;
      expect([name, cap.cap.cents, cap.source]).toEqual([name, most, source]);
      const over = await ask(job.jobId, (most ?? 0) + 1);
      expect([name, over.status]).toEqual([name, 422]);
      expect([name, (await ask(job.jobId, most ?? 0)).status]).toEqual([name, 201]);
    }
    expect(checked).toBeGreaterThanOrEqual(4);
  });

  test("the law of the place of work counts, not of the company's seat", async () => {
    const job = await signedJob(h, c, { state: "CA" });
    // 10 % of $9,610 and $1,000, the lesser: Cal. Bus. & Prof. Code 7159.5(a)(3), as shared/deposit-caps.json has it.
    expect(await moneyOf(job.jobId)).toMatchObject({ cap: { cap: usd(96_100) }, suggested: usd(96_100) });
    expect((await ask(job.jobId, 96_101)).status).toBe(422);
    expect((await ask(job.jobId, 96_100)).status).toBe(201);
  });

  test("where nothing is known it is allowed, and the record says so", async () => {
    const job = await signedJob(h, c, { state: "PR" });
    expect(await moneyOf(job.jobId)).toMatchObject({
      cap: { status: "no_data", cap: null, unsure: true },
      suggested: usd(320_301),
    });
    expect((await ask(job.jobId, 500_000)).status).toBe(201);
    expect((await timelineOf(h, job.jobId)).at(-1)).toBe(
      "Deposit of $5,000 asked, due 2 Dec 2026. No data on deposits in PR. There may be a limit. Source: none. Check local law.",
    );
  });

  test("a limit that is not confirmed only warns", async () => {
    // Ohio: 10 % from $25,000 on, marked unsure in shared/deposit-caps.json.
    const job = await signedJob(h, c, { state: "OH", priceCents: 3_000_000 });
    expect(await moneyOf(job.jobId)).toMatchObject({
      cap: { cap: usd(300_000), unsure: true },
      suggested: usd(300_000),
    });
    expect((await ask(job.jobId, 300_001)).status).toBe(201);
    expect((await timelineOf(h, job.jobId)).at(-1)).toMatch(
      /The limit is \$3,000 .+ This is not confirmed\. Check local law\.$/,
    );
  });

  test("never more than the contract, never due in the past; none is an answer too", async () => {
    const job = await signedJob(h, c, { state: "PR" });
    expect((await ask(job.jobId, 961_001)).body.errors).toEqual([
      { path: "body.amount", message: "At most the whole contract, $9,610." },
    ]);
    expect((await ask(job.jobId, 100, "2026-11-24")).body.errors[0].path).toBe("body.dueOn");
    expect((await ask(job.jobId, 0, "2026-11-25")).status).toBe(201);
    expect((await timelineOf(h, job.jobId)).at(-1)).toMatch(/^No deposit asked\./);
  });

  test("the share is rounded half-up to the cent", async () => {
    await h.admin.query("UPDATE companies SET deposit_share_bp = 5000 WHERE company_id = $1", [c.companyId]);
    const job = await signedJob(h, c, { state: "PR", priceCents: 10_001 });
    expect((await moneyOf(job.jobId)).suggested).toEqual(usd(5_001));
  });

  test("of two at once, one counts", async () => {
    const job = await signedJob(h, c);
    const both = await Promise.all([ask(job.jobId, 100), ask(job.jobId, 200)]);
    expect(both.map((r) => r.status).sort()).toEqual([201, 409]);
  });

  test("a new contract asks anew, and what was paid counts towards it", async () => {
    const job = await signedJob(h, c);
    await ask(job.jobId, 320_333);
    await pay(job.jobId, 320_333);
    await issueRevision(h, c, job, { priceCents: 1_192_000 });
    const issued = await c.sales.post(`/jobs/${job.jobId}/quotes`, {});
    expect(await moneyOf(job.jobId)).toMatchObject({ contract: null, balance: null, paid: usd(320_333) });
    const quote = (await c.sales.get(`/quotes/${issued.body.id}`)).body;
    await c.sales.post(`/quotes/${quote.id}/acceptance`, {
      signer: "Pat Doe",
      signedOn: "2026-11-25",
      signedAt: "office",
      documentSha256: quote.documentSha256,
    });
    expect(await moneyOf(job.jobId)).toMatchObject({
      contract: usd(1_192_000),
      request: null,
      cap: { cap: usd(397_333) },
      balance: usd(871_667),
    });
    expect((await ask(job.jobId, 397_333)).status).toBe(201);
  });
});

describe("the ledger", () => {
  test("takes receipts and refunds; the balance is the contract less the sum of the entries", async () => {
    const job = await signedJob(h, c);
    const first = await pay(job.jobId, 200_000, { reference: "no. 1042" });
    expect(first.status).toBe(201);
    expect(first.body).toMatchObject({
      kind: "receipt",
      method: "cheque",
      amount: usd(200_000),
      receivedOn: "2026-11-25",
      reference: "no. 1042",
      reversesId: null,
      reversed: false,
      by: "The sales",
    });
    expect((await refund(job.jobId, 50_000)).body).toMatchObject({ kind: "refund", amount: usd(-50_000) });
    const money = await moneyOf(job.jobId);
    expect(money).toMatchObject({ paid: usd(150_000), balance: usd(811_000) });
    expect(money.entries.map((e: { amount: { cents: number } }) => e.amount.cents)).toEqual([
      200_000, -50_000,
    ]);
    const timeline = await timelineOf(h, job.jobId);
    expect(timeline.slice(-2)).toEqual([
      "$2,000 received by cheque on 25 Nov 2026 (no. 1042).",
      "$500 paid back by cheque on 25 Nov 2026.",
    ]);
  });

  test("refuses money of tomorrow, nothing, and more paid back than was paid", async () => {
    const job = await signedJob(h, c);
    expect((await pay(job.jobId, 100, { receivedOn: "2026-11-26" })).body.errors[0].path).toBe(
      "body.receivedOn",
    );
    expect((await pay(job.jobId, 0)).status).toBe(422);
    await pay(job.jobId, 10_000);
    const refused = await refund(job.jobId, 10_001);
    expect(refused.status).toBe(422);
    expect(refused.body.errors).toEqual([
      { path: "body.amount", message: "At most $100 can be paid back: no more was paid." },
    ]);
    expect((await refund(job.jobId, 10_000)).status).toBe(201);
    expect(await ledgerSum(job.jobId)).toEqual({ sum: 0, n: 2 });
  });

  test("a day is the company's, not Greenwich's", async () => {
    h.setNow("2026-11-26T02:00:00Z");
    const job = await signedJob(h, c);
    expect((await pay(job.jobId, 100, { receivedOn: "2026-11-26" })).status).toBe(422);
    expect((await pay(job.jobId, 100, { receivedOn: "2026-11-25" })).status).toBe(201);
  });

  test("money above the limit before the start is on record, and the record says what to do", async () => {
    const job = await signedJob(h, c);
    await pay(job.jobId, 320_333);
    expect((await timelineOf(h, job.jobId)).at(-1)).not.toContain("too much");
    await pay(job.jobId, 1_000);
    expect((await timelineOf(h, job.jobId)).at(-1)).toMatch(
      /Before work starts that is \$10 too much\. At most \$3,203\.33: .+Check local law\.$/,
    );
  });

  test("a repeated request enters one payment, also when both arrive at once", async () => {
    const job = await signedJob(h, c);
    const key = randomUUID();
    const first = await pay(job.jobId, 5_000, {}, key);
    const again = await pay(job.jobId, 5_000, {}, key);
    expect(again.body).toEqual(first.body);
    expect(again.headers["idempotent-replayed"]).toBe("true");
    expect((await pay(job.jobId, 6_000, {}, key)).status).toBe(422);
    const other = randomUUID();
    const [a, b] = await Promise.all([pay(job.jobId, 700, {}, other), pay(job.jobId, 700, {}, other)]);
    expect(a.body).toEqual(b.body);
    expect(await ledgerSum(job.jobId)).toEqual({ sum: 5_700, n: 2 });
    expect((await c.sales.post(`/jobs/${job.jobId}/payments`, {}, { key: null })).status).toBe(400);
  });

  test("two refunds at once cannot pay back more than was paid", async () => {
    const job = await signedJob(h, c);
    await pay(job.jobId, 10_000);
    const both = await Promise.all([refund(job.jobId, 8_000), refund(job.jobId, 8_000)]);
    expect(both.map((r) => r.status).sort()).toEqual([201, 422]);
    expect((await ledgerSum(job.jobId)).sum).toBe(2_000);
  });

  test("entries are never changed, not even by the owner of the tables", async () => {
    const job = await signedJob(h, c);
    await ask(job.jobId, 100);
    await pay(job.jobId, 100);
    for (const table of ["payments", "deposit_requests"]) {
      await expect(h.admin.query(`UPDATE ${table} SET amount_cents = 5`), table).rejects.toThrow(
        "append-only",
      );
      await expect(h.admin.query(`DELETE FROM ${table}`), table).rejects.toThrow("append-only");
      await expect(h.admin.query(`TRUNCATE ${table} CASCADE`), table).rejects.toThrow("append-only");
    }
    await expect(
      h.database.withCompany(c.companyId, {}, (db) => db.sql`UPDATE payments SET amount_cents = 5`),
    ).rejects.toThrow("permission denied");
  });
});

describe("reversing an entry", () => {
  test("writes its opposite, once, and a reversal is final", async () => {
    const job = await signedJob(h, c);
    const { body: entry } = await pay(job.jobId, 10_000);
    const reversal = await reverse(entry.id);
    expect(reversal.status).toBe(201);
    expect(reversal.body).toMatchObject({ kind: "reversal", amount: usd(-10_000), reversesId: entry.id });
    expect((await moneyOf(job.jobId)).entries).toMatchObject([
      { id: entry.id, reversed: true },
      { id: reversal.body.id, reversed: false },
    ]);
    const twice = await reverse(entry.id);
    expect([twice.status, twice.body.detail]).toEqual([409, "This entry has already been reversed."]);
    const back = await reverse(reversal.body.id);
    expect(back.status).toBe(409);
    expect(back.body.detail).toContain("itself a reversal");
    expect(await ledgerSum(job.jobId)).toEqual({ sum: 0, n: 2 });
    expect((await timelineOf(h, job.jobId)).at(-1)).toBe(
      "The receipt of $100 entered for 25 Nov 2026 was reversed: typed wrong",
    );
  });

  test("a refund's reversal brings the money back", async () => {
    const job = await signedJob(h, c);
    await pay(job.jobId, 10_000);
    const { body } = await refund(job.jobId, 4_000);
    expect((await reverse(body.id)).body.amount).toEqual(usd(4_000));
    expect((await moneyOf(job.jobId)).paid).toEqual(usd(10_000));
  });

  test("is refused where more would be paid back than was paid", async () => {
    const job = await signedJob(h, c);
    const { body } = await pay(job.jobId, 10_000);
    await refund(job.jobId, 1);
    const refused = await reverse(body.id);
    expect(refused.status).toBe(409);
    expect(refused.body.detail).toContain("Reverse the refund of it first");
    expect((await ledgerSum(job.jobId)).n).toBe(2);
  });

  test("is the owner's, and of two at once one counts", async () => {
    const job = await signedJob(h, c);
    const { body } = await pay(job.jobId, 10_000);
    for (const member of [c.sales, c.scheduler, c.estimator, c.lead_hand]) {
      expect((await reverse(body.id, member)).status).toBe(403);
    }
    const both = await Promise.all([reverse(body.id), reverse(body.id)]);
    expect(both.map((r) => r.status).sort()).toEqual([201, 409]);
  });
});

test("whatever is entered in whatever order, the sum stays at or above zero and is what is shown", async () => {
  const step = fc.oneof(
    fc.record({ kind: fc.constantFrom("receipt", "refund"), cents: fc.integer({ min: 1, max: 5_000 }) }),
    fc.record({ kind: fc.constant("reverse"), which: fc.nat(9) }),
  );
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 4, maxLength: 10 }), async (steps) => {
      const job = await signedJob(h, c);
      let expected = 0;
      const entries: { id: string; cents: number; open: boolean }[] = [];
      for (const s of steps) {
        if ("cents" in s) {
          const cents = s.kind === "refund" ? -s.cents : s.cents;
          const response = await pay(job.jobId, s.cents, { kind: s.kind });
          const lawful = expected + cents >= 0;
          expect(response.status).toBe(lawful ? 201 : 422);
          if (!lawful) continue;
          expected += cents;
          entries.push({ id: response.body.id, cents, open: true });
        } else if (entries.length > 0) {
          const entry = entries[s.which % entries.length];
          if (!entry) continue;
          const lawful = entry.open && expected - entry.cents >= 0;
          const response = await reverse(entry.id);
          expect(response.status).toBe(lawful ? 201 : 409);
          if (!lawful) continue;
          entry.open = false;
          expected -= entry.cents;
          entries.push({ id: response.body.id, cents: -entry.cents, open: false });
        }
      }
      const money = await moneyOf(job.jobId);
      expect(money.paid.cents).toBe(expected);
      expect(money.balance.cents).toBe(961_000 - expected);
      expect(money.entries).toHaveLength(entries.length);
    }),
    { numRuns: 12 },
  );
});

describe("the list of deposits", () => {
  test("shows signed jobs as not asked, due, late and paid, page by page", async () => {
    const notAsked = await signedJob(h, c);
    const due = await signedJob(h, c);
    const late = await signedJob(h, c);
    const paid = await signedJob(h, c);
    await pricedJob(h, c);
    const closed = await signedJob(h, c);
    await h.admin.query("UPDATE jobs SET closed_on = '2026-11-25', closed_reason = 'other' WHERE id = $1", [
      closed.jobId,
    ]);
    await ask(due.jobId, 100_000, "2026-12-10");
    await ask(late.jobId, 100_000, "2026-11-27");
    await ask(paid.jobId, 100_000, "2026-11-27");
    await pay(due.jobId, 99_999);
    await pay(paid.jobId, 100_000);
    h.setNow("2026-11-28T15:00:00Z");

    const list = async (query: Record<string, string | number> = {}) =>
      (await c.scheduler.get("/deposits", query)).body as { items: { jobId: string }[]; next: string | null };
    expect((await list()).items).toMatchObject([
      { jobId: paid.jobId, state: "paid", paid: usd(100_000) },
      { jobId: late.jobId, state: "overdue", paid: usd(0), dueOn: "2026-11-27" },
      { jobId: due.jobId, state: "due", due: usd(100_000), paid: usd(99_999), dueOn: "2026-12-10" },
      {
        jobId: notAsked.jobId,
        number: notAsked.number,
        state: "not_asked",
        due: null,
        dueOn: null,
        contract: usd(961_000),
      },
    ]);
    const ids = async (state: string) => (await list({ state })).items.map((row) => row.jobId);
    expect(await ids("due")).toEqual([late.jobId, due.jobId]);
    expect(await ids("paid")).toEqual([paid.jobId]);
    expect(await ids("not_asked")).toEqual([notAsked.jobId]);

    const seen: string[] = [];
    let after: string | null = null;
    do {
      const page: Awaited<ReturnType<typeof list>> = await list({ limit: 3, ...(after && { after }) });
      seen.push(...page.items.map((row) => row.jobId));
      after = page.next;
    } while (after);
    expect(seen).toEqual([paid.jobId, late.jobId, due.jobId, notAsked.jobId]);
    const first = await list({ limit: 1 });
    expect((await c.scheduler.get("/deposits", { state: "due", after: first.next ?? "" })).status).toBe(422);
  });

  test("leaves out a job whose signature was voided", async () => {
    const job = await signedJob(h, c);
    await issueRevision(h, c, job, { priceCents: 970_000 });
    await c.sales.post(`/jobs/${job.jobId}/quotes`, {});
    expect((await c.sales.get("/deposits")).body.items).toEqual([]);
  });
});

test("another company's ids, and ids of nothing, are not found; money is not for every role", async () => {
  const other = await h.company();
  const job = await signedJob(h, c);
  const { body: entry } = await pay(job.jobId, 100);
  for (const [sales, owner, jobId, paymentId] of [
    [other.sales, other.owner, job.jobId, entry.id],
    [c.sales, c.owner, randomUUID(), randomUUID()],
  ] as const) {
    expect((await sales.get(`/jobs/${jobId}/money`)).status).toBe(404);
    const money = { amount: usd(1), dueOn: "2026-12-02" };
    expect((await sales.post(`/jobs/${jobId}/deposit-requests`, money)).status).toBe(404);
    const payment = { method: "cash", amount: usd(1), receivedOn: "2026-11-25" };
    expect((await sales.post(`/jobs/${jobId}/payments`, payment)).status).toBe(404);
    expect((await reverse(paymentId, owner)).status).toBe(404);
  }
  expect((await other.sales.get("/deposits")).body.items).toEqual([]);
  expect(await ledgerSum(job.jobId)).toEqual({ sum: 100, n: 1 });
  for (const member of [c.estimator, c.lead_hand]) {
    expect((await member.get(`/jobs/${job.jobId}/money`)).status).toBe(403);
    expect((await member.get("/deposits")).status).toBe(403);
  }
  expect((await c.scheduler.get(`/jobs/${job.jobId}/money`)).status).toBe(200);
  expect((await c.scheduler.post(`/jobs/${job.jobId}/payments`, {})).status).toBe(403);
});
