import { randomUUID } from "node:crypto";
import type { Comparison } from "@ledgerboard/contracts/estimates";
import type { Job } from "@ledgerboard/contracts/jobs";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import {
  add,
  companyWithBook,
  issue,
  jobWithZones,
  type Line,
  readRevision,
  start,
  work,
} from "./estimating.fixture.ts";

const NOW = "2026-11-25T15:00:00Z";
let h: Harness;
let c: TestCompany;
let job: Awaited<ReturnType<typeof jobWithZones>>;
beforeAll(async () => {
  h = await startHarness();
  h.setNow(NOW);
  // Its policy: the larger of $500 and 10%, or any structural work changed.
  c = await companyWithBook(h);
});
afterAll(() => h.close());
beforeEach(async () => {
  job = await jobWithZones(h, c);
});

type Code = Parameters<typeof work>[0];
const why = { reasonCode: "misjudged_condition", reason: "Softer than it looked." };

async function firstPass(scope: Partial<Record<Code, string>>): Promise<string> {
  const id = await start(c.sales, job.jobId, "first_pass");
  for (const [code, quantity] of Object.entries(scope)) {
    await add(c.sales, id, work(code as Code, job.deckId, quantity));
  }
  await issue(c.sales, id);
  return id;
}

/** A site review with these changes by assembly code; every other line is looked at and left as it is. */
async function review(changes: Partial<Record<Code, object>>, added: object[] = []): Promise<string> {
  const id = await start(c.estimator, job.jobId, "site_review");
  for (const line of (await readRevision(c.estimator, id)).lines) {
    const change = changes[line.assemblyCode as Code];
    const body = change ? { ...why, ...change } : { reviewed: true };
    const answer = await c.estimator.patch(`/lines/${line.id}`, body, line.version);
    if (answer.status !== 200) throw new Error(JSON.stringify(answer.body));
  }
  for (const line of added) await add(c.estimator, id, { ...why, ...line });
  return id;
}

const compare = async (query: Record<string, string> = {}): Promise<Comparison> => {
  const answer = await c.scheduler.get(`/jobs/${job.jobId}/comparison`, query);
  if (answer.status !== 200) throw new Error(JSON.stringify(answer.body));
  return answer.body as Comparison;
};
const readJob = async (): Promise<Job> => (await c.owner.get(`/jobs/${job.jobId}`)).body as Job;
const fired = ({ rules }: Pick<Comparison, "rules">) => rules.filter((r) => r.fired).map((r) => r.rule);

/** The customer signs a quote on the newest issued revision, in the office. */
async function sign(): Promise<{ quoteId: string; number: string; acceptanceId: string }> {
  const quote = await c.sales.post(`/jobs/${job.jobId}/quotes`, {});
  const { number, documentSha256 } = (await c.sales.get(`/quotes/${quote.body.id}`)).body;
  const signed = await c.sales.post(`/quotes/${quote.body.id}/acceptance`, {
    signer: "Ines Calloway",
    signedOn: "2026-11-25",
    signedAt: "office",
    documentSha256,
  });
  if (signed.status !== 201) throw new Error(JSON.stringify(signed.body));
  return { quoteId: quote.body.id, number, acceptanceId: signed.body.id };
}

/** A crew on the job from Monday, 30 November. */
async function book(): Promise<void> {
  await h.admin.query(
    `WITH crew AS (INSERT INTO crews (company_id, name, size) VALUES ($1, $2, 3) RETURNING id)
     INSERT INTO bookings (company_id, job_id, crew_id, start_on, end_on, crew_days)
     SELECT $1, $3, id, '2026-11-30', '2026-12-01', 2 FROM crew`,
    [c.companyId, `Crew ${randomUUID().slice(0, 8)}`, job.jobId],
  );
}

describe("what changed", () => {
  it("is a bridge whose every step is the sum of its lines, and whose sum is the difference to the cent", async () => {
    const from = await firstPass({
      "DECK-REPLACE": "180.5",
      "JOIST-SISTER": "4",
      "TREAD-REPLACE": "7",
      "HANGER-REPLACE": "9",
    });
    const to = await review(
      {
        "DECK-REPLACE": { quantity: "233.3333" },
        "JOIST-SISTER": { action: "replace", assemblyCode: "JOIST-REPLACE" },
        "TREAD-REPLACE": { action: "keep" },
      },
      [work("DECK-REPAIR", job.deckId, "13.7")],
    );
    // The terms of a draft do not move by themselves; here they do, so that the last step has something to carry.
    await h.admin.query("UPDATE revisions SET margin_bp = 3100, overhead_bp = 1450 WHERE id = $1", [to]);
    const { bridge, changes, delta, ...rest } = await compare();
    const [before, after] = [await readRevision(c.owner, from), await readRevision(c.owner, to)];
    expect(rest).toMatchObject({
      from: {
        id: from,
        number: 1,
        kind: "first_pass",
        price: before.totals.price,
        hours: before.totals.hours,
      },
      to: { id: to, number: 2, kind: "site_review", price: after.totals.price, hours: after.totals.hours },
      varianceId: null,
      open: false,
      policyFrom: "2020-01-01",
    });
    expect(delta.cents).toBe(after.totals.price.cents - before.totals.price.cents);
    expect(bridge.reduce((sum, s) => sum + s.delta.cents, 0)).toBe(delta.cents);
    expect(changes.reduce((sum, l) => sum + l.delta.cents, 0)).toBe(delta.cents);
    expect(
      changes.map((l) => [l.kind, l.before?.assemblyCode ?? null, l.after?.assemblyCode ?? null]),
    ).toEqual([
      ["quantity", "DECK-REPLACE", "DECK-REPLACE"],
      ["action", "JOIST-SISTER", "JOIST-REPLACE"],
      ["action", "TREAD-REPLACE", null],
      ["rate", "HANGER-REPLACE", "HANGER-REPLACE"],
      ["added", null, "DECK-REPAIR"],
    ]);
    const step = (name: string) => bridge.find((s) => s.step === name)?.delta.cents;
    const priceIn = (lines: Line[], code: string) =>
      lines.find((l) => l.assemblyCode === code)?.price.price.cents ?? 0;
    expect(step("added")).toBe(priceIn(after.lines, "DECK-REPAIR"));
    expect(step("action")).toBe(
      priceIn(after.lines, "JOIST-REPLACE") -
        priceIn(before.lines, "JOIST-SISTER") -
        priceIn(before.lines, "TREAD-REPLACE"),
    );
    expect(step("removed")).toBe(0);
    expect(step("overhead_and_tax")).not.toBe(0);
    expect(changes[0]?.after?.reason).toBe(why.reason);
    expect(Number(rest.deltaHours)).toBeCloseTo(Number(after.totals.hours) - Number(before.totals.hours), 4);
  });

  it("can be asked of any two revisions of the job, both ways", async () => {
    const first = await firstPass({ "DECK-REPLACE": "100" });
    const second = await review({ "DECK-REPLACE": { quantity: "110" } });
    await issue(c.estimator, second);
    const third = await review({ "DECK-REPLACE": { quantity: "120" } });
    const [whole, back, newest] = [
      await compare({ from: first, to: third }),
      await compare({ from: third, to: first }),
      await compare(),
    ];
    expect([newest.from.id, newest.to.id]).toEqual([second, third]);
    expect(back.delta.cents).toBe(-whole.delta.cents);
    expect(whole.delta.cents).toBeGreaterThan(newest.delta.cents);
    expect((await compare({ from: third })).changes.map((l) => l.kind)).toEqual(["unchanged"]);
  });

  it("needs two revisions of this job", async () => {
    const at = `/jobs/${job.jobId}/comparison`;
    const detail = async (query = {}) => {
      const { status, body } = await c.owner.get(at, query);
      return [status, body.detail];
    };
    expect(await detail()).toEqual([404, "Nothing is priced on this job yet."]);
    const first = await firstPass({ "DECK-REPLACE": "100" });
    expect(await detail()).toEqual([404, "There is only one revision yet, so there is nothing to compare."]);
    const mine = job;
    job = await jobWithZones(h, c);
    const foreign = await firstPass({ "DECK-REPLACE": "100" });
    job = mine;
    expect((await detail({ from: foreign, to: first }))[0]).toBe(404);
    expect((await detail({ from: first, to: randomUUID() }))[0]).toBe(404);
    expect((await detail({ from: "first", to: first }))[0]).toBe(422);
    const other = await companyWithBook(h);
    expect((await other.owner.get(at, { from: first, to: first })).status).toBe(404);
    expect((await c.owner.get(`/jobs/${randomUUID()}/comparison`)).status).toBe(404);
  });
});

describe("whether it is material", () => {
  it.each<[string, Partial<Record<Code, string>>, Partial<Record<Code, object>>, string[]]>([
    // Boards come to about $14.68 a square foot.
    [
      "past the amount and the percent",
      { "DECK-REPLACE": "200" },
      { "DECK-REPLACE": { quantity: "240" } },
      ["price"],
    ],
    ["as much the other way", { "DECK-REPLACE": "200" }, { "DECK-REPLACE": { quantity: "160" } }, ["price"]],
    [
      "past the amount, under the percent",
      { "DECK-REPLACE": "1000" },
      { "DECK-REPLACE": { quantity: "1040" } },
      [],
    ],
    [
      "past the percent, under the amount",
      { "DECK-REPLACE": "20" },
      { "DECK-REPLACE": { quantity: "30" } },
      [],
    ],
    [
      "a structural action for little money",
      { "DECK-REPLACE": "900", "JOIST-SISTER": "1" },
      { "JOIST-SISTER": { action: "replace", assemblyCode: "JOIST-REPLACE" } },
      ["structural_action"],
    ],
    [
      "more of the same structural work",
      { "DECK-REPLACE": "900", "JOIST-SISTER": "1" },
      { "JOIST-SISTER": { quantity: "2" } },
      [],
    ],
    ["nothing changed", { "DECK-REPLACE": "100" }, {}, []],
  ])("%s", async (_name, scope, changes, rules) => {
    await firstPass(scope);
    const id = await review(changes);
    const draft = await compare();
    expect([draft.material, fired(draft), draft.open]).toEqual([rules.length > 0, rules, false]);
    const { material, varianceId } = await issue(c.estimator, id);
    expect(material).toBe(rules.length > 0);
    const issued = await compare();
    expect(issued).toEqual({ ...draft, varianceId, open: material, changes: issued.changes });
    const { rows } = await h.admin.query(
      "SELECT material, delta_cents, trim_scale(delta_hours)::text AS hours FROM variances WHERE id = $1",
      [varianceId],
    );
    expect(rows).toEqual([{ material, delta_cents: issued.delta.cents, hours: issued.deltaHours }]);
  });

  it("is decided by the policy in effect that day and stays decided", async () => {
    const own = await companyWithBook(h);
    const [mine, mineJob] = [c, job];
    c = own;
    job = await jobWithZones(h, own);
    try {
      await firstPass({ "DECK-REPLACE": "900" });
      await h.admin.query(
        `INSERT INTO materiality_policies (company_id, effective_from, amount_cents, percent_bp, hours, structural_action)
         VALUES ($1, '2026-11-25', 100000000, 9000, 2, false), ($1, '2026-11-26', 0, 0, 0, true)`,
        [own.companyId],
      );
      const id = await review({ "DECK-REPLACE": { quantity: "923" } });
      expect((await issue(c.estimator, id)).material).toBe(true);
      await h.admin.query(
        `INSERT INTO materiality_policies (company_id, effective_from, amount_cents, percent_bp, hours, structural_action)
         VALUES ($1, '2026-11-25', 100000000, 9000, NULL, false)`,
        [own.companyId],
      );
      h.setNow("2026-11-26T15:00:00Z");
      const later = await compare();
      expect([fired(later), later.policyFrom, later.rules[1]?.limit]).toEqual([
        ["hours"],
        "2026-11-25",
        "2 hours",
      ]);
    } finally {
      h.setNow(NOW);
      [c, job] = [mine, mineJob];
    }
  });
});

describe("what follows from a material change", () => {
  it("supersedes a quote nobody has signed", async () => {
    await firstPass({ "DECK-REPLACE": "200" });
    const quote = await c.sales.post(`/jobs/${job.jobId}/quotes`, {});
    const { number } = (await c.sales.get(`/quotes/${quote.body.id}`)).body;
    const { consequences } = await issue(c.estimator, await review({}));
    expect(consequences).toEqual([`Quote ${number} is superseded.`]);
    expect((await readJob()).quotes.map((q) => q.state)).toEqual(["superseded"]);
  });

  // Worked on paper: 200 sq ft of boards are $924 with 10% waste, 6% tax $55.44, 18 h at $44.88 $807.84, 15% over
  // $268.09, at a 30% margin $2,936.24; 320 sq ft are $1,478.40 + $88.70 + $1,292.54 + $428.95, so $4,697.99.
  it("voids the signature, supersedes its quote, holds the crew and tells the salesperson", async () => {
    await firstPass({ "DECK-REPLACE": "200" });
    const { quoteId, number, acceptanceId } = await sign();
    await book();
    const reviewId = await review({ "DECK-REPLACE": { quantity: "320" } });
    expect((await readJob()).holds).toEqual([]);
    const { material, varianceId, consequences } = await issue(c.estimator, reviewId);
    expect(material).toBe(true);
    expect(consequences).toEqual([
      `Quote ${number} is superseded.`,
      "Ines Calloway's signature of 25 Nov 2026 no longer stands.",
      "The crew booked from 30 Nov 2026 is on hold.",
    ]);
    const voids = await h.admin.query(
      "SELECT variance_id, why FROM acceptance_voids WHERE acceptance_id = $1",
      [acceptanceId],
    );
    expect(voids.rows).toEqual([
      {
        variance_id: varianceId,
        why: expect.stringMatching(/^Price moved \+\$.*limit is the larger of \$500 and 10%\.$/),
      },
    ]);
    const endings = await h.admin.query("SELECT kind FROM quote_endings WHERE quote_id = $1", [quoteId]);
    expect(endings.rows).toEqual([{ kind: "superseded" }]);

    const now = await readJob();
    expect(now.holds.map((x) => x.hold)).toEqual(["unsigned", "material_variance_unresolved"]);
    expect(now.variance).toMatchObject({ id: varianceId, material: true, open: true });
    expect(now.next).toMatchObject({ act: "issue_quote", owedBy: "sales" });
    const mail = await h.admin.query(
      "SELECT kind, recipient, subject, body FROM outbox_messages WHERE job_id = $1",
      [job.jobId],
    );
    expect(mail.rows).toEqual([
      {
        kind: "material_change",
        recipient: `sales@${c.slug}.example`,
        subject: `${now.number}: the site review changed the job by +$1,761.75`,
        body: expect.stringContaining("Ines Calloway's signature of 25 Nov 2026 no longer stands."),
      },
    ]);
    const timeline = (await c.owner.get(`/jobs/${job.jobId}/timeline`)).body.items.map(
      (e: { words: string }) => e.words,
    );
    expect(timeline).toContain(
      "Site review (revision 2) issued at $4,697.99, +$1,761.75: a material change.",
    );
    expect(
      timeline.some((w: string) =>
        w.startsWith("Ines Calloway's signature of 25 Nov 2026 no longer stands."),
      ),
    ).toBe(true);
  });

  it("is settled by a signature on the changed scope", async () => {
    await firstPass({ "DECK-REPLACE": "200" });
    await sign();
    await issue(c.estimator, await review({ "DECK-REPLACE": { quantity: "320" } }));
    expect((await compare()).open).toBe(true);
    await sign();
    expect(await compare()).toMatchObject({ material: true, open: false });
    expect((await readJob()).holds).toEqual([]);
  });

  it("leaves a signature standing when the change is not material", async () => {
    await firstPass({ "DECK-REPLACE": "200" });
    await sign();
    await book();
    const { material, consequences } = await issue(
      c.estimator,
      await review({ "DECK-REPLACE": { quantity: "210" } }),
    );
    expect([material, consequences]).toEqual([
      false,
      ["Ines Calloway's signature of 25 Nov 2026 still stands."],
    ]);
    const now = await readJob();
    expect([now.holds, now.quotes.map((q) => q.state)]).toEqual([[], ["accepted"]]);
    const { rows } = await h.admin.query("SELECT count(*)::int AS n FROM outbox_messages WHERE job_id = $1", [
      job.jobId,
    ]);
    expect(rows).toEqual([{ n: 0 }]);
  });

  it("measures small steps against what the customer signed, so that they cannot add up behind his back", async () => {
    const first = await firstPass({ "DECK-REPLACE": "200" });
    const { number } = await sign();
    expect((await issue(c.estimator, await review({ "DECK-REPLACE": { quantity: "225" } }))).material).toBe(
      false,
    );
    const third = await review({ "DECK-REPLACE": { quantity: "230" } });
    expect((await issue(c.estimator, third)).material).toBe(false);
    const kept = await h.admin.query(
      "SELECT from_revision_id AS id FROM variances WHERE to_revision_id = $1",
      [third],
    );
    expect(kept.rows).toEqual([{ id: (await readRevision(c.owner, third)).basedOnId }]);
    const last = await review({ "DECK-REPLACE": { quantity: "245" } });
    // Against the review before it this is $220.19, against the signed first pass $660.65.
    expect(fired(await compare())).toEqual([]);
    const { material, varianceId, consequences } = await issue(c.estimator, last);
    expect([material, consequences]).toEqual([
      true,
      [`Quote ${number} is superseded.`, "Ines Calloway's signature of 25 Nov 2026 no longer stands."],
    ]);
    expect(await compare({ from: first, to: last })).toMatchObject({
      varianceId,
      material: true,
      open: true,
    });
    expect(await compare()).toMatchObject({ material: false, open: false });
    expect(
      (await c.owner.post(`/variances/${varianceId}/waive`, { why: "He agreed on the phone." })).status,
    ).toBe(200);
    expect((await readJob()).holds.map((x) => x.hold)).toEqual(["unsigned"]);
  });

  it("is all or nothing: what fails halfway leaves no trace", async () => {
    await firstPass({ "DECK-REPLACE": "200" });
    await sign();
    const id = await review({ "DECK-REPLACE": { quantity: "320" } });
    // The last step of issuing is the mail; a mail that cannot be written must take everything back with it.
    await h.admin.query(
      "ALTER TABLE outbox_messages ADD CONSTRAINT no_mail CHECK (kind <> 'material_change') NOT VALID",
    );
    try {
      expect((await c.estimator.post(`/revisions/${id}/issue`)).status).toBe(500);
    } finally {
      await h.admin.query("ALTER TABLE outbox_messages DROP CONSTRAINT no_mail");
    }
    expect((await readRevision(c.estimator, id)).state).toBe("draft");
    const now = await readJob();
    expect([now.holds, now.variance, now.quotes.map((q) => q.state)]).toEqual([[], null, ["accepted"]]);
    expect((await issue(c.estimator, id)).material).toBe(true);
  });
});

describe("letting a material change pass", () => {
  const waive = (varianceId: string | null, who = c.owner, reason = "The customer is my neighbour") =>
    who.post(`/variances/${varianceId}/waive`, { why: reason });

  it("settles the change, on the owner's word alone, but does not bring a signature back", async () => {
    await firstPass({ "DECK-REPLACE": "200" });
    await sign();
    const { varianceId } = await issue(c.estimator, await review({ "DECK-REPLACE": { quantity: "320" } }));
    expect((await waive(varianceId, c.estimator)).status).toBe(403);
    expect((await waive(varianceId, c.owner, " ")).status).toBe(422);
    const stranger = (await companyWithBook(h)).owner;
    expect((await waive(varianceId, stranger)).status).toBe(404);
    expect((await waive(randomUUID())).status).toBe(404);

    expect((await waive(varianceId)).status).toBe(200);
    expect(await compare()).toMatchObject({
      material: true,
      open: false,
      waivedWhy: "The customer is my neighbour",
    });
    const now = await readJob();
    expect(now.holds.map((x) => x.hold)).toEqual(["unsigned"]);
    expect(now.next).toMatchObject({ act: "issue_quote", owedBy: "sales" });
    const { rows } = await h.admin.query(
      "SELECT words FROM audit_entries WHERE job_id = $1 AND action = 'variance.waived'",
      [job.jobId],
    );
    expect(rows).toEqual([
      {
        words:
          "The owner let the material change of $1,761.75 pass: The customer is my neighbour. " +
          "Ines Calloway's signature stays void: a new one is still needed.",
      },
    ]);
    const again = await waive(varianceId);
    expect([again.status, again.body.detail]).toEqual([
      409,
      "There is no material change waiting to be settled.",
    ]);
  });

  it("is only for the newest material change", async () => {
    await firstPass({ "DECK-REPLACE": "200" });
    const small = await issue(c.estimator, await review({ "DECK-REPLACE": { quantity: "210" } }));
    expect((await waive(small.varianceId)).body.detail).toBe(
      "This change is not material, so there is nothing to let pass.",
    );
    const olderId = await review({ "DECK-REPLACE": { quantity: "320" } });
    const older = await issue(c.estimator, olderId);
    const newer = await issue(c.estimator, await review({ "DECK-REPLACE": { quantity: "200" } }));
    expect((await waive(older.varianceId)).body.detail).toBe(
      "A later site review has taken the place of this change.",
    );
    // The older is not waited for any more: the newer covers it.
    expect([(await compare({ to: olderId })).open, (await compare()).open]).toEqual([false, true]);
    expect((await waive(newer.varianceId)).status).toBe(200);
  });
});
