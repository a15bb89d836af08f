import type { Comparison } from "@ledgerboard/contracts/estimates";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { usd } from "../support/fixtures.ts";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { issueQuote } from "../support/priced-job.ts";
import {
  add,
  companyWithBook,
  issue,
  jobWithZones,
  priceByHand,
  readRevision,
  start,
  work,
} from "./estimating.fixture.ts";

/** What is not simply in the price: optional extras, work of others, and work that is only suspected. */
let h: Harness;
let c: TestCompany;
let job: Awaited<ReturnType<typeof jobWithZones>>;
let id: string;
beforeAll(async () => {
  h = await startHarness();
  h.setNow("2026-11-25T15:00:00Z");
  c = await companyWithBook(h);
});
afterAll(() => h.close());
beforeEach(async () => {
  job = await jobWithZones(h, c);
  id = await start(c.sales, job.jobId, "first_pass");
  await add(c.sales, id, work("DECK-REPLACE", job.deckId, "200")); // $2,936.24
});

const path = (answer: { body: { errors?: { path: string }[] } }) => answer.body.errors?.map((e) => e.path);
const ROT = { chanceBp: 4000, lowQuantity: "2", highQuantity: "13", capQuantity: "10", charge: "included" };
const rim = (more: object = {}) => ({
  ...work("RIM-REPAIR", job.deckId, "6"),
  evidence: "concealed",
  allowance: ROT,
  ...more,
});

describe("an optional extra", () => {
  it("is priced beside the total and never in it", async () => {
    const joists = await add(c.sales, id, {
      ...work("JOIST-SISTER", job.deckId, "4"),
      alternate: " Joists ",
    });
    const stairs = { alternate: "Stair" };
    const treads = await add(c.sales, id, { ...work("TREAD-REPLACE", job.stairId, "7"), ...stairs });
    await add(c.sales, id, { ...work("STRINGER-REPLACE", job.stairId, "3"), ...stairs, by: "owner" });
    // Four sistered joists are $650.83 on paper (estimates.test.ts).
    expect([joists.standing, joists.alternate, joists.price.price.cents]).toEqual([
      "alternate",
      "Joists",
      65_083,
    ]);
    const revision = await readRevision(c.scheduler, id);
    expect(revision.totals.price.cents).toBe(293_624);
    expect(revision.alternates.map((a) => [a.name, a.price.price.cents])).toEqual([
      ["Joists", 65_083],
      ["Stair", priceByHand(treads, revision.terms)],
    ]);
    expect(revision.lines.map((l) => l.standing)).toEqual(["base", "alternate", "alternate", "not_ours"]);
    const { rows } = await h.admin.query("SELECT price_cents FROM revisions WHERE id = $1", [id]);
    expect(rows).toEqual([{ price_cents: 293_624 }]);
    // Taken into the base it is in the price like any other line.
    const taken = await c.sales.patch(`/lines/${joists.id}`, { alternate: null }, joists.version);
    expect([taken.body.standing, (await readRevision(c.sales, id)).totals.price.cents]).toEqual([
      "base",
      293_624 + 65_083,
    ]);
  });

  it("alone leaves nothing to issue", async () => {
    const [deck] = (await readRevision(c.sales, id)).lines;
    await c.sales.patch(`/lines/${deck?.id}`, { alternate: "Boards" }, deck?.version ?? 0);
    const answer = await c.sales.post(`/revisions/${id}/issue`);
    expect([answer.status, answer.body.detail]).toMatchObject([
      409,
      expect.stringMatching(/carries a price/),
    ]);
  });

  it("stands apart in the quote, as do the lines of the owner and of others", async () => {
    await add(c.sales, id, { ...work("JOIST-SISTER", job.deckId, "4"), alternate: "Joists" });
    await add(c.sales, id, { ...work("TREAD-REPLACE", job.stairId, "7"), by: "owner" });
    await add(c.sales, id, { ...work("POST-REPAIR", job.deckId, "2"), by: "others", alternate: "Posts" });
    await issue(c.sales, id);
    const { document, price } = await issueQuote(c.sales, job.jobId);
    expect(price).toEqual(usd(293_624));
    expect(document.price).toEqual(price);
    expect(document.alternates).toEqual([
      { name: "Joists", lines: ["Lower deck: sister joist, 4 pieces"], price: usd(65_083) },
    ]);
    expect(document.lines).toEqual([
      { zone: "Lower deck", words: "replace decking, 200 sq ft", by: "by us", price: usd(293_624) },
      { zone: "Lower deck", words: "repair post, 2 pieces", by: "by others", price: usd(0) },
      { zone: "Main stair", words: "replace tread, 7 pieces", by: "by owner", price: usd(0) },
    ]);
  });
});

describe("concealed work", () => {
  it("inside the price is priced at what is to be expected", async () => {
    const line = await add(c.sales, id, rim());
    // 40% of the mean of 2, 6 and 13 ft is 2.8 ft: $17.25, tax $1.04, 1.4 h $62.83, 15% $12.17, at 30% $133.27.
    expect(line).toMatchObject({
      standing: "base",
      quantity: "6",
      price: { hours: "1.4", price: usd(13_327) },
    });
    const { terms, totals } = await readRevision(c.sales, id);
    expect(priceByHand(line, terms)).toBe(13_327);
    expect(totals.price.cents).toBe(293_624 + 13_327);
  });

  it("charged only if found has an agreed unit price and a cap, in the line and in the quote", async () => {
    const line = await add(c.sales, id, rim({ allowance: { ...ROT, charge: "if_found" } }));
    // Six feet at full price are $285.56, so $47.59 a foot and $475.90 for ten.
    expect(line).toMatchObject({
      standing: "if_found",
      price: { price: usd(0), hours: "0" },
      agreed: { unitPrice: usd(4759), capQuantity: "10", cap: usd(47_590) },
    });
    await issue(c.sales, id);
    const { document } = await issueQuote(c.sales, job.jobId);
    expect([document.price, document.lines.length]).toEqual([usd(293_624), 1]);
    expect(document.ifFound).toEqual([
      {
        zone: "Lower deck",
        words: "repair rim joist",
        unitPrice: usd(4759),
        perUnit: "ft",
        capQuantity: "10 ft",
        cap: usd(47_590),
      },
    ]);
  });

  it("charged only if found says in the quote which optional extra it goes with", async () => {
    const found = { allowance: { ...ROT, charge: "if_found" }, alternate: "Rim", description: "north side" };
    await add(c.sales, id, rim(found));
    await issue(c.sales, id);
    const { document } = await issueQuote(c.sales, job.jobId);
    expect([document.price, document.alternates]).toEqual([usd(293_624), []]);
    expect(document.ifFound.map((f: { words: string }) => f.words)).toEqual([
      'repair rim joist (north side), with the optional extra "Rim"',
    ]);
  });

  it.each<[string, object, string]>([
    ["on work that is seen", { evidence: "assumed" }, "body.allowance"],
    [
      "whose least is above the likeliest",
      { allowance: { ...ROT, lowQuantity: "7" } },
      "body.allowance.lowQuantity",
    ],
    ["whose most is below it", { allowance: { ...ROT, highQuantity: "5" } }, "body.allowance.highQuantity"],
    ["without a cap", { allowance: { ...ROT, capQuantity: "0" } }, "body.allowance.capQuantity"],
    ["with a chance above one", { allowance: { ...ROT, chanceBp: 10_001 } }, "body.allowance.chanceBp"],
    ["with no word on who pays", { allowance: { ...ROT, charge: "perhaps" } }, "body.allowance.charge"],
  ])("refuses an allowance %s", async (_what, change, wanted) => {
    const answer = await c.sales.post(`/revisions/${id}/lines`, rim(change));
    expect([answer.status, path(answer)]).toEqual([422, [wanted]]);
    expect((await readRevision(c.sales, id)).lines).toHaveLength(1);
  });

  it("loses its allowance once it is seen, and keeps its bounds until then", async () => {
    const line = await add(c.sales, id, rim());
    const more = await c.sales.patch(`/lines/${line.id}`, { quantity: "14" }, line.version);
    expect([more.status, path(more)]).toEqual([422, ["body.allowance.highQuantity"]]);
    const both = { evidence: "found", allowance: ROT };
    const kept = await c.sales.patch(`/lines/${line.id}`, both, line.version);
    expect([kept.status, path(kept)]).toEqual([422, ["body.allowance"]]);
    const found = await c.sales.patch(`/lines/${line.id}`, { evidence: "found" }, line.version);
    expect(found.body).toMatchObject({
      evidence: "found",
      allowance: null,
      agreed: null,
      price: { hours: "3", price: usd(28_556) },
    });
  });

  it("wants a reason where a site review changes its allowance, and has a step of the bridge", async () => {
    const line = await add(c.sales, id, rim());
    await issue(c.sales, id);
    const review = await start(c.estimator, job.jobId, "site_review");
    const copied = (await readRevision(c.estimator, review)).lines.find(
      (l) => l.lineageId === line.lineageId,
    );
    expect(copied?.allowance).toEqual(ROT);
    const likelier = { allowance: { ...ROT, chanceBp: 8000 } };
    const send = (body: object) => c.estimator.patch(`/lines/${copied?.id}`, body, copied?.version ?? 0);
    expect(path(await send(likelier))).toEqual(["body.reasonCode"]);
    const sent = await send({ ...likelier, reasonCode: "concealed", reason: "Soft where probed." });
    const more = sent.body.price.price.cents - 13_327;
    expect(more).toBeGreaterThan(0);
    const { bridge, changes, delta } = (await c.owner.get(`/jobs/${job.jobId}/comparison`))
      .body as Comparison;
    expect(changes.map((x) => x.kind)).toEqual(["unchanged", "allowance"]);
    expect(bridge.filter((s) => s.delta.cents !== 0)).toEqual([{ step: "allowance", delta: usd(more) }]);
    expect(delta).toEqual(usd(more));
  });
});

describe("a quote's document", () => {
  it("prints what the whole job costs, with the same sum as the price", async () => {
    const { version } = await readRevision(c.sales, id);
    const charges = [
      { kind: "permit", words: "County permit", cost: usd(8500), atCost: true },
      { kind: "travel", words: "Ferry", cost: usd(4000), atCost: false },
    ];
    await c.sales.patch(`/revisions/${id}`, { charges }, version);
    await issue(c.sales, id);
    const { document } = await issueQuote(c.sales, job.jobId);
    expect(document.wholeJob).toEqual([
      { words: "County permit", price: usd(8500) },
      { words: "Ferry", price: usd(6571) },
    ]);
    const parts = [...document.lines, ...document.wholeJob] as { price: { cents: number } }[];
    expect(parts.reduce((sum, p) => sum + p.price.cents, 0)).toBe(document.price.cents);
  });

  it("of before there were any of these is still read as it was signed", async () => {
    await issue(c.sales, id);
    const quote = await issueQuote(c.sales, job.jobId);
    const { wholeJob: _w, alternates: _a, ifFound: _i, advisories: _v, ...old } = quote.document;
    // As the table had it before the change: nothing in the document but what was known then.
    await h.admin.query("ALTER TABLE quotes DISABLE TRIGGER USER");
    await h.admin.query(
      "UPDATE quotes SET document = $2::text::jsonb, document_text = $2::text WHERE id = $1",
      [quote.id, JSON.stringify(old)],
    );
    await h.admin.query("ALTER TABLE quotes ENABLE TRIGGER USER");
    const answer = await c.sales.get(`/quotes/${quote.id}`);
    expect(answer.status).toBe(200);
    expect(answer.body.document).toMatchObject(old);
    expect((await c.owner.get(`/jobs/${job.jobId}`)).status).toBe(200);
  });
});
