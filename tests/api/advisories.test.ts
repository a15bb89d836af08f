import type { advisories, Output } from "@ledgerboard/contracts";
import type { Advisory } from "@ledgerboard/contracts/advisories";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { DECK_SHAPE, taken } from "../support/fixtures.ts";
import { type Client, type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { issueQuote, timelineOf } from "../support/priced-job.ts";
import { add, companyWithBook, issue, jobWithZones, start, work } from "./estimating.fixture.ts";

type Listed = Output<typeof advisories.listAdvisories>;

/** Existing conditions short of today's code, and what the customer says to them. */
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

const list = async (who: Client = c.lead_hand): Promise<Listed> =>
  taken(await who.get(`/jobs/${job.jobId}/advisories`)) as unknown as Listed;
const post = (body: object = {}, who = c.sales) =>
  who.post(`/jobs/${job.jobId}/advisories`, {
    words: "Balusters 6 in apart on the back guard.",
    reference: "IRC 2018 R312.1.3: less than 4 in",
    ...body,
  });
const decide = async (id: string, body: object, who = c.sales) => {
  const seen = (await list()).advisories.find((a) => a.id === id);
  return who.patch(`/advisories/${id}/decision`, body, seen?.version ?? 1);
};
const DECLINED = { decision: "declined", name: "Ines Calloway", on: "2026-11-24", how: "signed note" };
const path = (answer: { body: { errors?: { path: string }[] } }) => answer.body.errors?.map((e) => e.path);
const wide = { ...DECK_SHAPE, guards: [{ ...DECK_SHAPE.guards[0], balusterWidthIn: 1.5, clearGapIn: 6 }] };
const zone = async (geometry: object): Promise<string> =>
  taken(await c.sales.post(`/jobs/${job.jobId}/zones`, { name: "Back deck", kind: "deck", geometry })).id;

describe("an advisory", () => {
  it("is recorded with its place and reference, and told in the timeline", async () => {
    const { id } = taken(await post({ zoneId: job.deckId, component: "baluster" }));
    expect(await list()).toEqual({
      advisories: [
        {
          id,
          jobId: job.jobId,
          zoneId: job.deckId,
          zoneName: "Lower deck",
          component: "baluster",
          words: "Balusters 6 in apart on the back guard.",
          reference: "IRC 2018 R312.1.3: less than 4 in",
          decision: "undecided",
          alternate: null,
          declined: null,
          recordedBy: "The sales",
          at: "2026-11-25T15:00:00.000Z",
          version: 1,
        },
      ],
      suggested: [],
    });
    expect((await timelineOf(h, job.jobId)).at(-1)).toBe(
      "Advisory: Balusters 6 in apart on the back guard. (IRC 2018 R312.1.3: less than 4 in)",
    );
    taken(await post({ words: "No handrail." }, c.estimator));
    expect((await list()).advisories.map((a) => [a.words, a.zoneName])).toEqual([
      ["Balusters 6 in apart on the back guard.", "Lower deck"],
      ["No handrail.", null],
    ]);
  });

  it.each<[string, object, string]>([
    ["no words", { words: " " }, "body.words"],
    ["no reference", { reference: "" }, "body.reference"],
    ["an unknown component", { component: "roof" }, "body.component"],
    ["a zone that is none", { zoneId: "7" }, "body.zoneId"],
    ["a field of ours", { decision: "in_scope" }, "body"],
  ])("is refused with %s", async (_what, body, wanted) => {
    const answer = await post(body);
    expect([answer.status, path(answer)]).toEqual([422, [wanted]]);
    expect((await list()).advisories).toEqual([]);
  });

  it("names a zone of its own job", async () => {
    const { deckId } = await jobWithZones(h, c);
    const answer = await post({ zoneId: deckId });
    expect([answer.status, answer.body.errors]).toEqual([
      422,
      [{ path: "body.zoneId", message: "This job has no such zone." }],
    ]);
  });

  it("keeps its zone from being removed", async () => {
    const { id } = taken(await post({ zoneId: job.stairId }));
    for (const taking of [false, true]) {
      if (taking) taken(await c.sales.delete(`/advisories/${id}`));
      const answer = await c.sales.delete(`/zones/${job.stairId}`);
      expect([answer.status, answer.body.detail]).toEqual([
        409,
        "Main stair is on record in scope lines, notes or advisories, so it stays.",
      ]);
    }
  });
});

describe("what the measures show", () => {
  it("is suggested until somebody records it", async () => {
    const zoneId = await zone(wide);
    const { suggested } = await list();
    const opening = suggested.find((s) => s.component === "baluster");
    expect(opening).toMatchObject({ zoneId, words: expect.stringMatching(/^Openings of 6 in /) });
    expect(opening?.reference).toMatch(/R312/);
    taken(await post(opening));
    const now = await list();
    expect(now.suggested).toEqual(suggested.filter((s) => s !== opening));
    expect(now.advisories[0]).toMatchObject({ ...opening, zoneName: "Back deck" });
    taken(await c.sales.delete(`/advisories/${now.advisories[0]?.id}`));
    expect((await list()).suggested).toEqual(suggested);
  });

  it("is nothing of openings that keep the limit", async () => {
    await zone(DECK_SHAPE);
    expect((await list()).suggested.filter((s) => s.component === "baluster")).toEqual([]);
  });
});

describe("the customer's decision", () => {
  let id: string;
  beforeEach(async () => {
    id = taken(await post({ zoneId: job.deckId, component: "baluster" })).id;
  });
  const said = async () => (await timelineOf(h, job.jobId)).at(-1);

  it("is declined in writing: who, when and how", async () => {
    const answer = await decide(id, DECLINED);
    expect(answer.body).toMatchObject({
      decision: "declined",
      declined: { name: "Ines Calloway", on: "2026-11-24", how: "signed note" },
      version: 2,
    });
    expect((await list()).advisories).toEqual([answer.body]);
    expect(await said()).toBe(
      'Advisory "Balusters 6 in apart on the back guard.": declined in writing by Ines Calloway on 24 Nov 2026 (signed note).',
    );
    expect((await decide(id, { ...DECLINED, on: "2026-11-25" })).status).toBe(200);
  });

  it("is taken into the work, or open again, and forgets what was said before", async () => {
    await decide(id, DECLINED);
    const scoped = (await decide(id, { decision: "in_scope" })).body as Advisory;
    expect([scoped.decision, scoped.declined, scoped.alternate]).toEqual(["in_scope", null, null]);
    expect(await said()).toMatch(/: taken into the work\.$/);
    const open = (await decide(id, { decision: "undecided" }, c.estimator)).body as Advisory;
    expect([open.decision, await said()]).toEqual([
      "undecided",
      expect.stringMatching(/: not decided yet\.$/),
    ]);
  });

  it("is an optional extra that the newest revision has", async () => {
    const extra = { decision: "alternate", alternate: "New balusters" };
    const none = await decide(id, extra);
    expect([none.status, none.body.errors]).toEqual([
      422,
      [
        {
          path: "body.alternate",
          message: "The estimate has no optional extra yet. Add its lines as an extra first.",
        },
      ],
    ]);
    const revision = await start(c.sales, job.jobId, "first_pass");
    await add(c.sales, revision, { ...work("JOIST-SISTER", job.deckId, "4"), alternate: "Joists" });
    expect((await decide(id, extra)).body.errors[0].message).toBe(
      "The estimate has no optional extra of that name; it has Joists.",
    );
    await add(c.sales, revision, { ...work("TREAD-REPLACE", job.stairId, "2"), alternate: "New balusters" });
    expect((await decide(id, extra)).body).toMatchObject({
      decision: "alternate",
      alternate: "New balusters",
    });
    expect(await said()).toMatch(/: priced as the optional extra "New balusters"\.$/);
  });

  it.each<[string, object, string]>([
    ["a day to come", { ...DECLINED, on: "2026-11-26" }, "body.on"],
    ["nobody's name", { ...DECLINED, name: " " }, "body.name"],
    ["no word of how", { ...DECLINED, how: "" }, "body.how"],
    ["a decision nobody knows", { decision: "perhaps" }, "body.decision"],
    ["an extra without a name", { decision: "alternate", alternate: "" }, "body.alternate"],
    ["fields of another decision", { ...DECLINED, decision: "in_scope" }, "body"],
  ])("is refused with %s", async (_what, body, wanted) => {
    const answer = await decide(id, body);
    expect([answer.status, [...new Set(path(answer))]]).toEqual([422, [wanted]]);
    expect((await list()).advisories[0]).toMatchObject({ decision: "undecided", version: 1 });
  });

  it("is for those who estimate, on an open job of their own", async () => {
    const other = await companyWithBook(h);
    for (const [who, status] of [
      [c.scheduler, 403],
      [c.lead_hand, 403],
      [other.owner, 404],
    ] as const) {
      expect((await decide(id, DECLINED, who)).status).toBe(status);
      expect((await post({}, who)).status).toBe(status);
      expect((await who.delete(`/advisories/${id}`)).status).toBe(status);
    }
    expect((await other.owner.get(`/jobs/${job.jobId}/advisories`)).status).toBe(404);
    taken(await c.owner.post(`/jobs/${job.jobId}/close`, { reason: "no_answer" }));
    for (const answer of [
      await decide(id, DECLINED),
      await post(),
      await c.sales.delete(`/advisories/${id}`),
    ]) {
      expect([answer.status, answer.body.detail]).toEqual([409, "The job is closed. Reopen it first."]);
    }
  });

  it("is gone with an advisory that was taken back; the record stays", async () => {
    expect((await c.sales.delete(`/advisories/${id}`)).body).toEqual({ done: true });
    expect((await list()).advisories).toEqual([]);
    expect([(await decide(id, DECLINED)).status, (await c.sales.delete(`/advisories/${id}`)).status]).toEqual(
      [404, 404],
    );
    expect(await said()).toBe("Advisory taken back: Balusters 6 in apart on the back guard.");
    const { rows } = await h.admin.query(
      "SELECT removed_at IS NOT NULL AS removed FROM advisories WHERE id = $1",
      [id],
    );
    expect(rows).toEqual([{ removed: true }]);
  });

  it("is taken back once, however many take it back at the same time", async () => {
    const answers = await Promise.all([1, 2, 3, 4].map(() => c.sales.delete(`/advisories/${id}`)));
    expect(answers.map((a) => a.status).sort()).toEqual([200, 404, 404, 404]);
    const { rows } = await h.admin.query(
      "SELECT count(*)::int AS entries FROM audit_entries WHERE entity_id = $1 AND action = 'advisory.removed'",
      [id],
    );
    expect(rows).toEqual([{ entries: 1 }]);
  });

  it("is printed in the quote, frozen with it", async () => {
    taken(await post({ words: "No handrail on the stair.", reference: "IRC 2018 R311.7.8" }));
    const gone = taken(await post({ words: "Recorded by mistake." })).id;
    taken(await c.sales.delete(`/advisories/${gone}`));
    await decide(id, DECLINED);
    const revision = await start(c.sales, job.jobId, "first_pass");
    await add(c.sales, revision, work("DECK-REPLACE", job.deckId, "20"));
    await issue(c.sales, revision);
    const quote = await issueQuote(c.sales, job.jobId);
    expect(quote.document.advisories).toEqual([
      {
        words: "Lower deck: Balusters 6 in apart on the back guard.",
        reference: "IRC 2018 R312.1.3: less than 4 in",
        decision: "declined in writing by Ines Calloway on 24 Nov 2026 (signed note)",
      },
      { words: "No handrail on the stair.", reference: "IRC 2018 R311.7.8", decision: "not decided yet" },
    ]);
    await decide(id, { decision: "in_scope" });
    expect((await c.sales.get(`/quotes/${quote.id}`)).body).toEqual(quote);
  });
});
