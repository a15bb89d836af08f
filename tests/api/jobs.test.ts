import type { jobs } from "@ledgerboard/contracts";
import { addDays } from "@ledgerboard/contracts/dates";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { inquiry, lead, MONDAY, TODAY, taken } from "../support/fixtures.ts";
import { type Client, type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { issueQuote, issueRevision } from "../support/priced-job.ts";

type Row = jobs.JobRow;
interface Page {
  items: Row[];
  next: string | null;
}

let h: Harness;
beforeAll(async () => {
  h = await startHarness();
  h.setNow(MONDAY);
});
afterAll(() => h.close());

const list = async (who: Client, query: Record<string, string | number>): Promise<Page> =>
  taken<Page & Record<string, unknown>>(await who.get("/jobs", query));
const idsIn = async (who: Client, query: Record<string, string | number>): Promise<string[]> =>
  (await list(who, { limit: 200, ...query })).items.map((row) => row.id);

/** Walks a list to its end; `between` runs after every page. */
async function walk(who: Client, query: Record<string, string | number>, between = async () => {}) {
  const seen: Row[] = [];
  let after: string | null = null;
  do {
    const page: Page = await list(who, { ...query, ...(after !== null && { after }) });
    expect(page.items.length).toBeLessThanOrEqual(Number(query.limit));
    seen.push(...page.items);
    after = page.next;
    await between();
  } while (after !== null);
  return seen;
}

describe("the waiting list", () => {
  let c: TestCompany;
  interface Place {
    id: string;
    pinned: boolean;
    hazard: boolean;
    due: string;
    inquiry: string;
  }
  const places: Place[] = [];
  const byPress = (a: Place, b: Place): number =>
    Number(b.pinned) - Number(a.pinned) ||
    (a.pinned ? 0 : Number(b.hazard) - Number(a.hazard)) ||
    a.due.localeCompare(b.due) ||
    a.inquiry.localeCompare(b.inquiry) ||
    a.id.localeCompare(b.id);

  beforeAll(async () => {
    c = await h.company();
    // Every mixture of pin, hazard and promise, with equal dates among them so that the later keys decide too.
    for (let i = 0; i < 48; i++) {
      const { jobId } = await lead(c.sales);
      const inquiryOn = addDays(TODAY, -((i * 7) % 5) * 20);
      const promised = i % 3 === 0 ? addDays(TODAY, ((i * 5) % 7) - 30) : null;
      const pinned = i % 8 === 1;
      const hazard = i % 5 === 2;
      await h.admin.query(
        "UPDATE jobs SET inquiry_on = $2, promised_from = $3, promised_to = $3, pinned_why = $4, hazard = $5 WHERE id = $1",
        [jobId, inquiryOn, promised, pinned ? "first" : null, hazard ? "tread loose" : null],
      );
      // Whoever was promised nothing is due 60 days after the inquiry.
      places.push({ id: jobId, pinned, hazard, due: promised ?? addDays(inquiryOn, 60), inquiry: inquiryOn });
    }
    places.sort(byPress);
  });
  const wanted = () => places.map((p) => p.id);

  test("goes by pin, hazard, day due, day of inquiry", async () => {
    expect(await idsIn(c.sales, {})).toEqual(wanted());
    const [first] = (await list(c.sales, { limit: 1 })).items;
    expect(first).toMatchObject({
      pinnedWhy: "first",
      stage: "inquiry",
      number: expect.stringMatching(/^TC-26-\d{4}$/),
    });
  });

  test.each([1, 7, 47, 48, 49])("is complete without repeats in pages of %i", async (limit) => {
    expect((await walk(c.sales, { limit })).map((r) => r.id)).toEqual(wanted());
  });

  test("stays complete without repeats while inquiries arrive between its pages", async () => {
    const arrived: string[] = [];
    const seen = await walk(c.sales, { limit: 9 }, async () => {
      arrived.push((await lead(c.sales)).jobId);
      // One that belongs before what has been read, and must not push anything back into view.
      const { jobId } = await lead(c.sales);
      await h.admin.query(
        "UPDATE jobs SET pinned_why = 'late comer', inquiry_on = '2020-01-01' WHERE id = $1",
        [jobId],
      );
      arrived.push(jobId);
    });
    const ids = seen.map((r) => r.id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids.filter((id) => !arrived.includes(id))).toEqual(wanted());
    await h.admin.query(
      "UPDATE jobs SET closed_on = now(), closed_reason = 'other', stage = 'closed' WHERE id = ANY($1)",
      [arrived],
    );
  });

  test("says how long each waits and how late it is", async () => {
    const rows = new Map((await list(c.sales, { limit: 200 })).items.map((r) => [r.id, r]));
    for (const place of places) {
      const row = rows.get(place.id);
      const days = (from: string) => Math.round((Date.parse(TODAY) - Date.parse(from)) / 86_400_000);
      expect(row?.waitedDays).toBe(days(place.inquiry));
      expect(row?.daysLate).toBe(row?.promised ? Math.max(0, days(row.promised.to)) : 0);
    }
  });

  test("takes a cursor only for the list it was made for, and only its own", async () => {
    const { next } = await list(c.sales, { limit: 2 });
    const other = { limit: 2, view: "all", after: next ?? "" };
    const forged = `${(next ?? "").slice(0, -4)}AAAA`;
    for (const query of [other, { after: forged }, { after: "x" }, { after: "A".repeat(400) }]) {
      const answer = await c.sales.get("/jobs", query);
      expect(answer.status).toBe(422);
      expect(answer.body.errors[0].path).toBe("query.after");
    }
    const stranger = await h.company();
    // Even with a right cursor of another company only one's own is read.
    expect((await list(stranger.sales, { limit: 2, after: next ?? "" })).items).toEqual([]);
  });
});

describe("views, stages and counts", () => {
  let c: TestCompany;
  const priced = async (promisedTo: string | null = null): Promise<string> => {
    const { jobId } = await lead(c.sales);
    await h.admin.query("UPDATE jobs SET promised_from = $2, promised_to = $2 WHERE id = $1", [
      jobId,
      promisedTo,
    ]);
    const zoneId = taken(await c.sales.post(`/jobs/${jobId}/zones`, { name: "Deck", kind: "deck" })).id;
    await issueRevision(h, c, { jobId, zoneId });
    return jobId;
  };
  const signed = async (promisedTo: string | null = null): Promise<string> => {
    const jobId = await priced(promisedTo);
    const { id, documentSha256 } = await issueQuote(c.sales, jobId);
    const body = { signer: "Pat Doe", signedOn: TODAY, signedAt: "office", documentSha256 };
    taken(await c.sales.post(`/quotes/${id}/acceptance`, body));
    return jobId;
  };
  const made: Record<string, string> = {};
  beforeAll(async () => {
    h.setNow(MONDAY);
    c = await h.company();
    made.inquiry = (await lead(c.sales, { hazard: "stair gives way" })).jobId;
    made.firstPass = await priced();
    made.quoted = await priced();
    await issueQuote(c.sales, made.quoted, { validDays: 60 });
    made.expiring = await priced();
    await issueQuote(c.sales, made.expiring, { validDays: 2 });
    made.accepted = await signed("2026-02-20");
    const crew = taken(await c.scheduler.post("/crews", { name: "North", size: 2 })).id;
    const book = async (startOn: string) => {
      const jobId = await signed();
      const body = { crewId: crew, startOn, crewDays: 2 };
      return { jobId, ...taken(await c.scheduler.post(`/jobs/${jobId}/bookings`, body)) };
    };
    made.booked = (await book("2026-03-23")).jobId;
    const finished = await book("2026-03-02");
    made.finished = finished.jobId;
    taken(await c.scheduler.post(`/bookings/${finished.id}/start`));
    taken(await c.scheduler.post(`/bookings/${finished.id}/finish`, { actualHours: "12.5" }));
    const underWay = await book("2026-03-09");
    made.underWay = underWay.jobId;
    taken(await c.scheduler.post(`/bookings/${underWay.id}/start`));
    made.closed = (await lead(c.sales)).jobId;
    taken(await c.sales.post(`/jobs/${made.closed}/close`, { reason: "no_answer" }));
  });
  const names = (ids: string[]) =>
    ids.map((id) => Object.entries(made).find(([, jobId]) => jobId === id)?.[0] ?? id).sort();

  const STAGES: Record<string, string> = {
    inquiry: "inquiry",
    firstPass: "first_pass",
    quoted: "quoted",
    expiring: "quoted",
    accepted: "accepted",
    booked: "booked",
    finished: "finished",
    underWay: "under_way",
    closed: "closed",
  };

  test("each job is in its view and no other", async () => {
    const views = ["waiting", "booked", "under_way", "finished", "closed"];
    const found = await Promise.all(views.map(async (view) => [view, names(await idsIn(c.owner, { view }))]));
    expect(Object.fromEntries(found)).toEqual({
      waiting: ["accepted", "expiring", "firstPass", "inquiry", "quoted"],
      booked: ["booked"],
      under_way: ["underWay"],
      finished: ["finished"],
      closed: ["closed"],
    });
    const all = await list(c.owner, { view: "all", limit: 200 });
    expect(all.items.map((r) => r.id)).toEqual(Object.values(made).sort().reverse());
    for (const row of all.items) expect(row.stage).toBe(STAGES[names([row.id])[0] ?? ""]);
  });

  test("the newest-first views page without repeats", async () => {
    const ids = (await walk(c.owner, { view: "all", limit: 2 })).map((r) => r.id);
    expect(ids).toEqual(Object.values(made).sort().reverse());
  });

  test("a stage finds the jobs whose rows say that stage, in any view, also once a quote has run out", async () => {
    for (const now of [MONDAY, "2026-03-06T15:00:00Z"]) {
      h.setNow(now);
      for (const view of ["waiting", "all"]) {
        const rows = (await list(c.owner, { view, limit: 200 })).items;
        for (const stage of new Set(Object.values(STAGES))) {
          const say = rows.filter((r) => r.stage === stage).map((r) => r.id);
          expect(await idsIn(c.owner, { view, stage }), `${view} ${stage} ${now}`).toEqual(say);
        }
      }
    }
    expect(names(await idsIn(c.owner, { stage: "first_pass" }))).toEqual(["expiring", "firstPass"]);
    h.setNow(MONDAY);
  });

  test("the counts are those of the rows", async () => {
    for (const now of [MONDAY, "2026-03-06T15:00:00Z"]) {
      h.setNow(now);
      const rows = (await list(c.owner, { view: "all", limit: 200 })).items;
      const counts = taken<Record<string, unknown>>(await c.owner.get("/jobs/counts"));
      const count = (of: (r: Row) => boolean) => rows.filter(of).length;
      const stages = [...new Set(rows.map((r) => r.stage))].map((stage) => ({
        stage,
        count: count((r) => r.stage === stage),
      }));
      expect(counts).toMatchObject({
        waiting: count((r) => !["booked", "under_way", "finished", "closed"].includes(r.stage)),
        late: count((r) => r.daysLate > 0),
        hazards: count((r) => r.hazard !== null),
        crews: 1,
        bookedTo: "2026-03-24",
      });
      const byStage = (a: { stage: string }, b: { stage: string }) => a.stage.localeCompare(b.stage);
      expect((counts.stages as { stage: string }[]).sort(byStage)).toEqual(stages.sort(byStage));
    }
    h.setNow(MONDAY);
  });
});

describe("search", () => {
  let c: TestCompany;
  const made: Record<string, string> = {};
  beforeAll(async () => {
    c = await h.company();
    const at = async (name: string, given: Record<string, unknown>) => {
      made[name] = (await lead(c.sales, given)).jobId;
    };
    await at("percent", { title: "Replace 100% of treads" });
    await at("underscore", { title: "Zone deck_lower" });
    await at("backslash", { title: "Deck\\porch corner" });
    await at("quote", { title: "O'Leary's stair" });
    await at("accent", { customer: { name: "Émile Ångström", phone: "410-555-0188" } });
    await at("city", {
      property: { street: "1 A", city: "Sparrows Point", state: "MD", postalCode: "21219" },
    });
  });
  const found = async (search: string, more = {}) =>
    (await idsIn(c.owner, { search, ...more })).map(
      (id) => Object.entries(made).find(([, v]) => v === id)?.[0],
    );

  test.each([
    ["%", ["percent"]],
    ["100% of", ["percent"]],
    ["_", ["underscore"]],
    ["deck_l", ["underscore"]],
    ["\\", ["backslash"]],
    ["\\p", ["backslash"]],
    ["o'leary", ["quote"]],
    ["SPARROWS", ["city"]],
    ["émile", ["accent"]],
    ["ÉMILE ÅNG", ["accent"]],
    ["d%k", []],
    ["deck lower", []],
  ])("%s is looked for as it is written", async (search, names) => {
    expect(await found(search)).toEqual(names);
    expect(await found(search, { view: "all" })).toEqual(names);
  });

  test("finds a number, whole or in part", async () => {
    const row = (await list(c.owner, { search: "100%" })).items[0];
    expect(await found(row?.number.toLowerCase() ?? "")).toEqual(["percent"]);
    expect((await found("tc-26-")).sort()).toEqual(Object.keys(made).sort());
  });

  test("pages like the whole list", async () => {
    expect((await walk(c.owner, { search: "tc-26", limit: 2 })).map((r) => r.id)).toEqual(
      await idsIn(c.owner, {}),
    );
  });
});

test("a title longer than a line is refused before anything is stored", async () => {
  const c = await h.company();
  const answer = await c.sales.post("/leads", inquiry({ title: "x".repeat(121) }));
  expect(answer.status).toBe(422);
  expect(answer.body.errors).toEqual([{ path: "body.title", message: "At most 120 characters." }]);
  expect((await h.admin.query("SELECT FROM jobs WHERE company_id = $1", [c.companyId])).rowCount).toBe(0);
});
