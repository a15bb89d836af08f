import type { assessment, Output } from "@ledgerboard/contracts";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { DECK_SHAPE, taken } from "../support/fixtures.ts";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { timelineOf } from "../support/priced-job.ts";
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

type Assessment = Output<typeof assessment.assessRevision>;

let h: Harness;
let c: TestCompany;
let job: Awaited<ReturnType<typeof jobWithZones>>;
let zoneId: string;
let id: string;
beforeAll(async () => {
  h = await startHarness();
  h.setNow("2026-11-25T15:00:00Z");
  c = await companyWithBook(h);
});
afterAll(() => h.close());
beforeEach(async () => {
  job = await jobWithZones(h, c);
  zoneId = taken(
    await c.sales.post(`/jobs/${job.jobId}/zones`, { name: "Back deck", kind: "deck", geometry: DECK_SHAPE }),
  ).id;
  id = await start(c.sales, job.jobId, "first_pass");
});

const assess = async (query: Record<string, string> = {}, of = id): Promise<Assessment> =>
  taken(await c.scheduler.get(`/revisions/${of}/assessment`, query)) as unknown as Assessment;
const found = ({ findings }: Assessment, ruleId: string) => findings.filter((f) => f.ruleId === ruleId);
const TOO_MANY = "more_replaced_than_exists";
const tooMany = async () => found(await assess(), TOO_MANY)[0];
const change = async (line: Line, body: object): Promise<Line> => {
  const { version } = (await readRevision(c.sales, id)).lines.find((l) => l.id === line.id) ?? line;
  return taken(await c.sales.patch(`/lines/${line.id}`, body, version)) as unknown as Line;
};
const pass = (key: string | undefined, why = "Two more under the stair landing.", who = c.sales) =>
  who.post(`/revisions/${id}/passes`, { key, why });
const withdraw = (key: string | undefined) => c.sales.post(`/revisions/${id}/passes/withdraw`, { key });
const tryIssue = async () => {
  const { status, body } = await c.sales.post(`/revisions/${id}/issue`);
  return [status, body.detail];
};

// 12 ft of joists 16 in apart: 144 / 16 and one more are ten.
describe("more joists replaced than there are", () => {
  it("is a blocking finding with its numbers, and a row of what is there beside what is done", async () => {
    const line = await add(c.sales, id, work("JOIST-REPLACE", zoneId, "12"));
    await add(c.sales, id, { ...work("JOIST-SISTER", zoneId, "1"), by: "others" });
    const assessment = await assess();
    const [finding] = found(assessment, TOO_MANY);
    expect(finding).toMatchObject({
      severity: "blocking",
      zoneId,
      lineageId: line.lineageId,
      field: "quantity",
      numbers: { worked: "12", there: "10", unit: "each" },
      passed: null,
    });
    expect(finding?.words).toMatch(/12 .*Back deck.* 10/);
    expect(assessment.coverage.find((r) => r.zoneId === zoneId && r.component === "joist")).toEqual({
      zoneId,
      component: "joist",
      unit: "each",
      existing: "10",
      kept: "0",
      treated: "1",
      replaced: "12",
      added: "0",
      left: "0",
      over: "2",
      byOthers: "0",
    });
    const order = assessment.findings.map((f) => ["blocking", "warning", "note"].indexOf(f.severity));
    expect(order).toEqual([...order].sort());
    expect(new Set(assessment.findings.map((f) => f.key)).size).toBe(assessment.findings.length);
  });

  it("keeps the draft from being issued until somebody says why", async () => {
    await add(c.sales, id, work("JOIST-REPLACE", zoneId, "12"));
    const finding = await tooMany();
    const refused = `${finding?.words} Mend it, or let it pass with a reason, then issue.`;
    expect(await tryIssue()).toEqual([409, refused]);
    expect((await pass(finding?.key, "  ")).status).toBe(422);
    expect((await pass(finding?.key)).body).toEqual({ done: true });
    expect((await tooMany())?.passed).toEqual({
      why: "Two more under the stair landing.",
      by: "The sales",
      at: "2026-11-25T15:00:00.000Z",
    });
    expect(await tryIssue()).toEqual([200, undefined]);
    expect((await timelineOf(h, job.jobId)).filter((w) => w.includes("remark"))).toEqual([
      "First pass (revision 1): a remark was let pass: Two more under the stair landing.",
    ]);
  });

  it("needs another reason once its numbers are others, and none once they are right", async () => {
    const line = await add(c.sales, id, work("JOIST-REPLACE", zoneId, "12"));
    const first = await tooMany();
    await pass(first?.key);
    await change(line, { quantity: "13" });
    const second = await tooMany();
    expect([second?.passed, second?.key === first?.key]).toEqual([null, false]);
    expect((await tryIssue())[0]).toBe(409);
    // Back at the old number the old reason holds.
    await change(line, { quantity: "12.0" });
    expect((await tooMany())?.passed?.why).toBe("Two more under the stair landing.");
    await change(line, { quantity: "10" });
    expect(await tooMany()).toBeUndefined();
    expect((await tryIssue())[0]).toBe(200);
  });

  it("stands again when the reason is taken back; each word of it is kept", async () => {
    await add(c.sales, id, work("JOIST-REPLACE", zoneId, "12"));
    const key = (await tooMany())?.key;
    const nothing = await withdraw(key);
    expect([nothing.status, nothing.body.detail]).toEqual([
      409,
      "No reason stands for this remark, so there is none to take back.",
    ]);
    await pass(key);
    await pass(key, "Counted twice.", c.estimator);
    expect((await tooMany())?.passed).toMatchObject({ why: "Counted twice.", by: "The estimator" });
    expect((await withdraw(key)).status).toBe(200);
    expect((await tooMany())?.passed).toBeNull();
    expect([(await withdraw(key)).status, (await tryIssue())[0]]).toEqual([409, 409]);
    const { rows } = await h.admin.query("SELECT why FROM finding_passes WHERE job_id = $1 ORDER BY id", [
      job.jobId,
    ]);
    expect(rows.map((r) => r.why)).toEqual(["Two more under the stair landing.", "Counted twice.", null]);
    expect((await timelineOf(h, job.jobId)).at(-1)).toBe("First pass (revision 1): a remark stands again.");
  });

  it("is passed by those who estimate, in their own company, on a draft", async () => {
    await add(c.sales, id, work("JOIST-REPLACE", zoneId, "12"));
    const key = (await tooMany())?.key;
    const other = await companyWithBook(h);
    expect((await pass(key, "Not mine to say.", c.scheduler)).status).toBe(403);
    expect((await pass(key, "Not mine to say.", other.owner)).status).toBe(404);
    expect((await other.owner.get(`/revisions/${id}/assessment`)).status).toBe(404);
    expect((await c.lead_hand.get(`/revisions/${id}/assessment`)).status).toBe(403);
    await pass(key);
    await issue(c.sales, id);
    expect((await withdraw(key)).status).toBe(409);
    expect((await assess()).findings.length).toBeGreaterThan(0);
  });

  it("keeps its reason in the site review of the same work", async () => {
    await add(c.sales, id, work("JOIST-REPLACE", zoneId, "12"));
    const key = (await tooMany())?.key;
    await pass(key);
    await issue(c.sales, id);
    id = await start(c.estimator, job.jobId, "site_review");
    expect(await tooMany()).toMatchObject({ key, passed: { why: "Two more under the stair landing." } });
    // The review is the senior estimator's, and so are its reasons.
    expect((await withdraw(key)).status).toBe(403);
  });

  it("cannot be passed before it is there, nor once it is gone", async () => {
    const line = await add(c.sales, id, work("JOIST-REPLACE", zoneId, "12"));
    const key = (await tooMany())?.key;
    await change(line, { quantity: "9" });
    for (const gone of [key, "no_such_rule|zone:job|"]) {
      const answer = await pass(gone);
      expect([answer.status, answer.body.errors]).toEqual([
        422,
        [{ path: "body.key", message: "The estimate has no such remark now. Look at its remarks again." }],
      ]);
    }
    const { rows } = await h.admin.query("SELECT count(*)::int AS n FROM finding_passes WHERE job_id = $1", [
      job.jobId,
    ]);
    expect(rows).toEqual([{ n: 0 }]);
  });

  it("in an optional extra does not count against the base scope", async () => {
    await add(c.sales, id, work("JOIST-SISTER", zoneId, "6"));
    await add(c.sales, id, { ...work("JOIST-REPLACE", zoneId, "6"), alternate: "All new joists" });
    expect(await tooMany()).toBeUndefined();
    const row = (await assess()).coverage.find((r) => r.component === "joist" && r.zoneId === zoneId);
    expect(row).toMatchObject({ treated: "6", replaced: "0", over: null });
  });
});

describe("the spread of the cost", () => {
  const priced = async (): Promise<void> => {
    await add(c.sales, id, work("DECK-REPLACE", zoneId, "100"));
    await add(c.sales, id, work("JOIST-REPLACE", zoneId, "4"));
  };

  it("is the same for the same seed, and another for another", async () => {
    await priced();
    const [one, again, other] = [await assess(), await assess(), await assess({ seed: "7" })];
    expect(again.risk).toEqual(one.risk);
    expect([one.risk.seed, other.risk.seed]).toEqual([1, 7]);
    expect((await assess({ seed: "7" })).risk).toEqual(other.risk);
    expect(other.risk.histogram).not.toEqual(one.risk.histogram);
    // Same job, so nearly the same mean: within four standard errors of it.
    const { mean, standardDeviation, draws } = one.risk;
    const error = (4 * Math.SQRT2 * standardDeviation.cents) / Math.sqrt(draws);
    expect(Math.abs(other.risk.mean.cents - mean.cents)).toBeLessThan(error);
  });

  it("counts every draw once and is in order", async () => {
    await priced();
    const { risk } = await assess();
    expect(risk.histogram.reduce((n, bar) => n + bar.count, 0)).toBe(risk.draws);
    expect(risk.price).toEqual((await readRevision(c.sales, id)).totals.price);
    const rising = [risk.p10, risk.p50, risk.p90].map((m) => m.cents);
    expect(rising).toEqual([...rising].sort((a, b) => a - b));
    const prices = risk.prices.map((p) => p.price.cents);
    expect(prices).toEqual([...prices].sort((a, b) => b - a));
    expect(prices.at(-1)).toBeLessThan(prices[0] ?? 0);
    expect(risk.prices.find((p) => p.chanceBp === 5000)?.price.cents).toBe(risk.p50.cents);
  });

  it("leaves less chance of a loss at a higher margin", async () => {
    await priced();
    const chances: number[] = [];
    for (const marginBp of [0, 500, 3000]) {
      const { version } = await readRevision(c.owner, id);
      taken(await c.owner.patch(`/revisions/${id}`, { marginBp }, version));
      chances.push((await assess()).risk.chanceOfLossBp);
    }
    const [none, little, much] = chances as [number, number, number];
    expect(none).toBeGreaterThan(3000);
    expect([none > little, little > much, much < 500]).toEqual([true, true, true]);
  });

  it.each(["x", "-1", "1.5", "1000000"])("refuses the seed %s", async (seed) => {
    const answer = await c.sales.get(`/revisions/${id}/assessment`, { seed });
    expect([answer.status, answer.body.errors[0].path]).toEqual([422, "query.seed"]);
  });
});

describe("what is hardly there yet", () => {
  it("is assessed without a line: no price, no spread, no loss", async () => {
    const { risk, coverage, past } = await assess();
    expect([risk.mean.cents, risk.p90.cents, risk.price.cents, risk.chanceOfLossBp]).toEqual([0, 0, 0, 0]);
    expect([past.finishedJobs, coverage.some((r) => r.existing === "10" && r.component === "joist")]).toEqual(
      [0, true],
    );
  });

  it("is assessed on zones nobody measured: nothing exists as far as is known", async () => {
    await add(c.sales, id, work("TREAD-REPLACE", job.stairId, "5"));
    const { coverage } = await assess();
    expect(coverage.find((r) => r.zoneId === job.stairId)).toMatchObject({
      component: "tread",
      existing: null,
      replaced: "5",
      left: null,
      over: null,
    });
  });
});
