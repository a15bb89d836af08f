import type { assessment, Output } from "@ledgerboard/contracts";
import { afterAll, beforeAll, expect, test } from "vitest";
import { taken } from "../support/fixtures.ts";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { add, companyWithBook, issue, jobWithZones, start, work } from "./estimating.fixture.ts";

type Assessment = Output<typeof assessment.assessRevision>;

/** What the company's own finished jobs say about a new one. */
let h: Harness;
let c: TestCompany;
beforeAll(async () => {
  h = await startHarness();
  h.setNow("2026-11-25T15:00:00Z");
  c = await companyWithBook(h);
});
afterAll(() => h.close());
const company = () => c;

const draft = async (): Promise<string> => {
  const { jobId, deckId } = await jobWithZones(h, c);
  const id = await start(c.sales, jobId, "first_pass");
  await add(c.sales, id, work("DECK-REPLACE", deckId, "100"));
  return id;
};
const assess = async (id: string): Promise<Assessment> =>
  taken(await c.sales.get(`/revisions/${id}/assessment`)) as unknown as Assessment;
const past = ({ findings }: Assessment) => findings.filter((f) => f.ruleId === "hours_outside_past");

/** A job of 100 sq ft of boards (9 h by the book) on 20 ft by 5 ft that took so many hours. */
async function finished(on: string, hours: number, also?: { of: TestCompany; line: object }): Promise<void> {
  const c = also?.of ?? company();
  const { jobId, deckId } = await jobWithZones(h, c);
  await h.admin.query("UPDATE zones SET length_ft = 20, width_ft = 5 WHERE id = $1", [deckId]);
  const id = await start(c.sales, jobId, "first_pass");
  await add(c.sales, id, work("DECK-REPLACE", deckId, "100"));
  if (also) await add(c.sales, id, { ...work("JOIST-REPLACE", deckId, "10"), ...also.line });
  await issue(c.sales, id);
  await h.admin.query(
    `WITH crew AS (INSERT INTO crews (company_id, name, size) VALUES ($1, $2, 3) RETURNING id)
     INSERT INTO bookings (company_id, job_id, crew_id, start_on, end_on, crew_days, started_on, finished_on, actual_hours)
     SELECT $1, $3, id, $4, $4, 1, $4, $4, $5 FROM crew`,
    [c.companyId, `Crew of ${jobId}`, jobId, on, hours],
  );
}

test("says nothing until jobs are finished, then how many, and warns of hours far from theirs", async () => {
  const id = await draft();
  expect((await assess(id)).past.finishedJobs).toBe(0);
  // Too long ago to say anything.
  await finished("2023-11-25", 27);
  expect((await assess(id)).past.finishedJobs).toBe(0);
  const days = ["2026-03-02", "2026-04-06", "2026-05-04", "2026-06-01"];
  for (const day of days) await finished(day, 27);
  const four = await assess(id);
  expect([four.past.finishedJobs, past(four)]).toEqual([4, []]);
  await finished("2026-07-06", 27);
  const five = await assess(id);
  expect(five.past.finishedJobs).toBe(5);
  // 27 h for 100 sq ft are 0.27 a square foot; the book says 0.09.
  expect(past(five)).toMatchObject([
    { severity: "warning", numbers: { hours: "0.09", mean: "0.27", jobs: "5" }, passed: null },
  ]);
  // Another company's past is its own.
  const other = await companyWithBook(h);
  const theirs = await jobWithZones(h, other);
  const revision = await start(other.sales, theirs.jobId, "first_pass");
  const answer = await other.sales.get(`/revisions/${revision}/assessment`);
  expect(answer.body.past.finishedJobs).toBe(0);
});

// One joist in ten hours of ten estimated is no hour a joist: such a line says nothing of a sure one.
test.each([
  [
    "concealed work",
    {
      evidence: "concealed",
      allowance: {
        chanceBp: 1000,
        lowQuantity: "8",
        highQuantity: "12",
        capQuantity: "12",
        charge: "included",
      },
    },
  ],
  ["optional extras", { alternate: "New joists" }],
])("takes no hours of %s for those of sure work", async (_what, line) => {
  const other = await companyWithBook(h);
  const days = ["2026-03-02", "2026-04-06", "2026-05-04", "2026-06-01", "2026-07-06"];
  for (const day of days) await finished(day, 3, { of: other, line });
  const { jobId, deckId } = await jobWithZones(h, other);
  const id = await start(other.sales, jobId, "first_pass");
  await add(other.sales, id, work("JOIST-REPLACE", deckId, "2"));
  await add(other.sales, id, work("DECK-REPLACE", deckId, "100"));
  const answer = taken(await other.sales.get(`/revisions/${id}/assessment`)) as unknown as Assessment;
  expect(answer.past.finishedJobs).toBe(5);
  const said = past(answer);
  // The boards, in 3 h instead of the book's 9, are spoken of; the joists are not.
  expect(said.map((f) => f.words.split(" ")[0])).toEqual(["decking"]);
});
