import type { Comparison } from "@ledgerboard/contracts/estimates";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { usd } from "../support/fixtures.ts";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { issueQuote, timelineOf } from "../support/priced-job.ts";
import {
  add,
  companyWithBook,
  issue,
  jobWithZones,
  type Revision,
  readRevision,
  start,
  work,
} from "./estimating.fixture.ts";

let h: Harness;
let c: TestCompany;
let job: Awaited<ReturnType<typeof jobWithZones>>;
beforeAll(async () => {
  h = await startHarness();
  h.setNow("2026-11-25T15:00:00Z");
  c = await companyWithBook(h);
});
afterAll(() => h.close());
beforeEach(async () => {
  job = await jobWithZones(h, c);
});

const PERMIT = { kind: "permit", words: "County permit", cost: usd(8500), atCost: true };
const TRAVEL = { kind: "travel", words: "Ferry", cost: usd(4000), atCost: false };
const path = (answer: { body: { errors?: { path: string }[] } }) => answer.body.errors?.map((e) => e.path);

/** 200 sq ft of deck boards; worked on paper in comparison.test.ts: $2,055.37 of cost, $2,936.24 at a 30% margin. */
async function draft(who = c): Promise<Revision> {
  const at = who === c ? job : await jobWithZones(h, who);
  const id = await start(who.sales, at.jobId, "first_pass");
  await add(who.sales, id, work("DECK-REPLACE", at.deckId, "200"));
  return readRevision(who.sales, id);
}

describe("charges of the whole job", () => {
  it("are passed on at cost, or with overhead and margin, and said in the timeline", async () => {
    const { id, version } = await draft();
    const answer = await c.sales.patch(`/revisions/${id}`, { charges: [PERMIT, TRAVEL] }, version);
    expect([answer.status, answer.headers.etag]).toEqual([200, `"${answer.body.version}"`]);
    // On paper: $40 and 15% are $46; at a 30% margin $65.71. The permit stays $85.
    const { charges, totals } = answer.body as Revision;
    expect(charges.map((x) => [x.words, x.cost.cents, x.price.cost.cents, x.price.price.cents])).toEqual([
      ["County permit", 8500, 8500, 8500],
      ["Ferry", 4000, 4600, 6571],
    ]);
    expect(totals.price.cents).toBe(293_624 + 8500 + 6571);
    expect(answer.body).toEqual(await readRevision(c.owner, id));
    expect((await timelineOf(h, job.jobId)).at(-1)).toBe(
      "First pass (revision 1): charges of the whole job: County permit, Ferry. Now $3,086.95.",
    );
    const none = await c.sales.patch(`/revisions/${id}`, { charges: [] }, answer.body.version);
    expect([none.body.charges, none.body.totals.price.cents]).toEqual([[], 293_624]);
  });

  it("go into a site review, and what changes in them is a step of the bridge of its own", async () => {
    const { id, version } = await draft();
    await c.estimator.patch(`/revisions/${id}`, { charges: [PERMIT, TRAVEL], marginBp: 3500 }, version);
    await issue(c.sales, id);
    const review = await readRevision(c.estimator, await start(c.estimator, job.jobId, "site_review"));
    expect([review.charges.map((x) => x.words), review.terms.marginBp]).toEqual([
      ["County permit", "Ferry"],
      3500,
    ]);
    const dearer = { charges: [PERMIT, { ...TRAVEL, cost: usd(6000) }] };
    expect((await c.sales.patch(`/revisions/${review.id}`, dearer, review.version)).status).toBe(403);
    await c.estimator.patch(`/revisions/${review.id}`, dearer, review.version);
    const { bridge, delta } = (await c.owner.get(`/jobs/${job.jobId}/comparison`)).body as Comparison;
    // On paper at a 35% margin: $69 of cost are $106.15, $46 are $70.77.
    expect(bridge.filter((s) => s.delta.cents !== 0)).toEqual([{ step: "whole_job", delta: usd(3538) }]);
    expect([bridge.length, delta]).toEqual([8, usd(3538)]);
  });

  it.each([
    ["a cost below zero", { charges: [{ ...PERMIT, cost: usd(-1) }] }, ["body.charges.0.cost.cents"]],
    ["part of a cent", { charges: [{ ...PERMIT, cost: usd(1.5) }] }, ["body.charges.0.cost.cents"]],
    ["no words", { charges: [{ ...PERMIT, words: " " }] }, ["body.charges.0.words"]],
    ["an unknown kind", { charges: [{ ...PERMIT, kind: "bribe" }] }, ["body.charges.0.kind"]],
    ["more than twenty", { charges: Array.from({ length: 21 }, () => PERMIT) }, ["body.charges"]],
    ["more than any house costs", { charges: [{ ...TRAVEL, cost: usd(1_000_000_000) }] }, ["body.charges"]],
    ["a margin above 90%", { marginBp: 9001 }, ["body.marginBp"]],
    ["nothing at all", {}, ["body"]],
  ])("with %s are refused, and nothing changes", async (_what, body, wanted) => {
    const before = await draft();
    const answer = await c.owner.patch(`/revisions/${before.id}`, body, before.version);
    expect([answer.status, path(answer)]).toEqual([422, wanted]);
    expect(await readRevision(c.owner, before.id)).toEqual(before);
  });
});

describe("the margin", () => {
  it("is set by the senior estimator or the owner, not by sales", async () => {
    const { id, version } = await draft();
    const refused = await c.sales.patch(`/revisions/${id}`, { marginBp: 3500 }, version);
    expect([refused.status, refused.body.detail]).toEqual([
      403,
      "The margin is set by the owner or the senior estimator.",
    ]);
    expect((await c.scheduler.patch(`/revisions/${id}`, { note: "x" }, version)).status).toBe(403);
    const set = await c.estimator.patch(`/revisions/${id}`, { marginBp: 3500 }, version);
    // On paper: $2,055.37 / 0.65 = $3,162.11.
    expect([set.status, set.body.terms.marginBp, set.body.totals.price.cents]).toEqual([200, 3500, 316_211]);
    expect((await timelineOf(h, job.jobId)).at(-1)).toBe(
      "First pass (revision 1): margin 35% (was 30%). Now $3,162.11.",
    );
  });
});

describe("a draft's note and versions", () => {
  it("keeps the note beside what else was changed; an issued one keeps everything", async () => {
    const { id, version } = await draft();
    const noted = await c.sales.patch(`/revisions/${id}`, { note: "Gate code 11.\nDog." }, version);
    expect(noted.body).toMatchObject({ note: "Gate code 11.\nDog.", charges: [], terms: { marginBp: 3000 } });
    await issue(c.sales, id);
    const late = await c.sales.patch(
      `/revisions/${id}`,
      { note: "" },
      (await readRevision(c.sales, id)).version,
    );
    expect([late.status, late.body.type]).toEqual([409, "/problems/illegal-move"]);
    expect((await readRevision(c.sales, id)).note).toBe("Gate code 11.\nDog.");
  });

  it("is changed from what was seen: two at once, and one while a line was added", async () => {
    const { id, version } = await draft();
    const both = await Promise.all([
      c.sales.patch(`/revisions/${id}`, { note: "one" }, version),
      c.estimator.patch(`/revisions/${id}`, { note: "two" }, version),
    ]);
    expect(both.map((r) => r.status).sort()).toEqual([200, 412]);
    const now = await readRevision(c.sales, id);
    expect(both.find((r) => r.status === 412)?.body.current).toEqual(now);
    await add(c.sales, id, work("TREAD-REPLACE", job.stairId, "1"));
    expect((await c.sales.patch(`/revisions/${id}`, { charges: [] }, now.version)).status).toBe(412);
  });

  it("is no one else's", async () => {
    const { id, version } = await draft();
    const other = await companyWithBook(h);
    expect((await other.owner.patch(`/revisions/${id}`, { note: "x" }, version)).status).toBe(404);
  });
});

describe("minimum charge and rounding", () => {
  it("come from the book's terms: raised to the minimum, then up to the round price", async () => {
    const own = await companyWithBook(h, { minimumChargeCents: 49_900, roundUpToCents: 2500 });
    const at = await jobWithZones(h, own);
    const id = await start(own.sales, at.jobId, "first_pass");
    expect((await readRevision(own.sales, id)).totals.price.cents).toBe(0);
    // On paper: a joist at $28.50 with 5% waste is $29.93, tax $1.80, 1.5 h $67.32, 15% $14.86; at 30% $162.73.
    const small = await add(own.sales, id, work("JOIST-SISTER", at.deckId, "1"));
    expect(small.price.price.cents).toBe(16_273);
    const revision = await readRevision(own.sales, id);
    expect(revision.adjustments.map((a) => [a.kind, a.before.cents, a.price.price.cents])).toEqual([
      ["minimum_charge", 16_273, 33_627],
      ["rounding", 49_900, 100],
    ]);
    expect(revision.totals).toMatchObject({ price: usd(50_000), cost: small.price.cost });
    await add(own.sales, id, work("DECK-REPLACE", at.deckId, "200"));
    const larger = await readRevision(own.sales, id);
    // $162.73 and $2,936.24 are $3,098.97; the next $25 is $3,100.
    expect(larger.adjustments.map((a) => [a.kind, a.price.price.cents])).toEqual([["rounding", 103]]);
    expect(larger.totals.price.cents).toBe(310_000);
    await issue(own.sales, id);
    expect((await own.owner.get(`/jobs/${at.jobId}`)).body.price).toEqual(usd(310_000));
    const { document } = await issueQuote(own.sales, at.jobId);
    expect([document.price, document.wholeJob]).toEqual([
      usd(310_000),
      [{ words: "Rounding", price: usd(103) }],
    ]);
  });
});

describe("whole packs", () => {
  it("are bought once for two lines that share a box", async () => {
    const own = await companyWithBook(h);
    const book = (await own.owner.get("/price-book")).body;
    const screws = {
      code: "SCREWS",
      component: "fastener",
      action: "replace",
      description: "New deck screws",
      unit: "each",
      note: "",
      recipe: {
        materials: [{ code: "SCREW-DECK", inSalt: null, perUnit: "1", wasteBp: 0 }],
        labor: [{ code: "carpenter", hoursPerUnit: "0.01", setupHours: "0" }],
        disposalUnitCents: "0",
        equipmentUnitCents: "0",
        laborCvBp: 2000,
      },
    };
    expect((await own.estimator.post(`/price-books/${book.id}/assemblies`, screws)).status).toBe(201);
    const at = await jobWithZones(h, own);
    const id = await start(own.sales, at.jobId, "first_pass");
    const line = (zoneId: string, quantity: string) => ({
      zoneId,
      component: "fastener",
      action: "replace",
      unit: "each",
      assemblyCode: "SCREWS",
      quantity,
    });
    await add(own.sales, id, line(at.deckId, "100"));
    await add(own.sales, id, line(at.stairId, "200"));
    const two = await readRevision(own.sales, id);
    // A box of 350 at $34: the lines use $9.71 and $19.43 of it, so $4.86 are left over.
    expect(two.purchases).toEqual([
      {
        code: "SCREW-DECK",
        name: "Box of SCREW-DECK",
        unit: "each",
        section: null,
        wholePacks: true,
        needed: "300",
        used: usd(2914),
        packs: [{ size: "350", price: usd(3400), count: 1 }],
        cost: usd(3400),
        leftover: usd(486),
      },
    ]);
    // On paper: $34 and 6% tax, 3 h at $44.88, 15% over $170.68, at 30%: $280.40; the lines by themselves $271.94.
    expect(two.lines.map((l) => l.price.price.cents)).toEqual([9064, 18_130]);
    expect(two.adjustments.map((a) => [a.kind, a.price.material.cents, a.price.price.cents])).toEqual([
      ["whole_packs", 486, 846],
    ]);
    expect(two.totals.price.cents).toBe(28_040);
    await add(own.sales, id, line(at.deckId, "60"));
    const three = await readRevision(own.sales, id);
    expect(three.purchases[0]?.packs[0]?.count).toBe(2);
    await issue(own.sales, id);
    const { document } = await issueQuote(own.sales, at.jobId);
    expect(document.wholeJob).toEqual([
      {
        words: "Materials sold in whole packs, beyond what is used",
        price: three.adjustments[0]?.price.price,
      },
    ]);
    expect(document.price).toEqual(three.totals.price);
  });
});
