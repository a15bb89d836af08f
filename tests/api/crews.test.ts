import { randomUUID } from "node:crypto";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { type Client, type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { issueRevision, pricedJob, refresh, signedJob, timelineOf } from "../support/priced-job.ts";

let h: Harness;
let c: TestCompany;
beforeAll(async () => {
  h = await startHarness();
});
afterAll(() => h.close());
beforeEach(async () => {
  // Wednesday, the day before Thanksgiving.
  h.setNow("2026-11-25T15:00:00Z");
  c = await h.company();
});

const addCrew = async (over: object = {}) =>
  (await c.scheduler.post("/crews", { name: "North", size: 3, ...over })).body;
const book = (jobId: string, crewId: string, startOn: string, over: object = {}) =>
  c.scheduler.post(`/jobs/${jobId}/bookings`, { crewId, startOn, ...over });
const move = (id: string, body: object, version: number) =>
  c.scheduler.patch(`/bookings/${id}`, body, version);
const cancel = (id: string) => c.scheduler.post(`/bookings/${id}/cancel`, { why: "customer away" });
const start = (id: string, member: Client = c.scheduler) => member.post(`/bookings/${id}/start`);
const finish = (id: string, member: Client = c.scheduler) =>
  member.post(`/bookings/${id}/finish`, { actualHours: "46.5" });
const close = (on: string, crewId: string | null = null) =>
  c.scheduler.post("/calendar-closures", { crewId, on, why: "Holiday" });
const sheet = async (from: string, days = 28) => (await c.scheduler.get("/crew-sheet", { from, days })).body;
const placeHold = async (jobId: string, hold: string) => {
  await h.admin.query(
    "INSERT INTO holds (company_id, job_id, hold, why, placed_by_id) VALUES ($1, $2, $3, 'a reason', $4)",
    [c.companyId, jobId, hold, c.scheduler.memberId],
  );
  await refresh(h, c.companyId, jobId);
};
const liftHolds = async (jobId: string) => {
  await h.admin.query("UPDATE holds SET lifted_at = now() WHERE job_id = $1", [jobId]);
  await refresh(h, c.companyId, jobId);
};
const bookingRow = async (id: string) => {
  const { rows } = await h.admin.query(
    `SELECT start_on::text, end_on::text, crew_days, started_on::text, finished_on::text, actual_hours::float8,
            cancelled_at IS NOT NULL AS cancelled, cancelled_why FROM bookings WHERE id = $1`,
    [id],
  );
  return rows[0];
};
const wrong = (response: { status: number; body: { errors?: { path: string; message: string }[] } }) => [
  response.status,
  response.body.errors?.[0]?.path,
  response.body.errors?.[0]?.message,
];

describe("crews", () => {
  test("are formed with days and people, listed, and changed from the version that was seen", async () => {
    const crew = await addCrew({
      skills: ["stairs"],
      members: [
        { name: "Lee", lead: true },
        { name: "Kim", lead: false },
      ],
    });
    expect(crew).toMatchObject({
      name: "North",
      size: 3,
      skills: ["stairs"],
      weekdays: [1, 2, 3, 4, 5],
      baseLatitude: null,
      members: [
        { name: "Lee", lead: true },
        { name: "Kim", lead: false },
      ],
      active: true,
      version: 1,
    });
    const changed = await c.owner.patch(
      `/crews/${crew.id}`,
      { name: "North Bay", weekdays: [6, 2, 3], members: [{ name: "Kim", lead: true }], baseLatitude: 38.97 },
      1,
    );
    expect(changed.status).toBe(200);
    expect(changed.body).toMatchObject({
      name: "North Bay",
      size: 3,
      weekdays: [2, 3, 6],
      members: [{ name: "Kim", lead: true }],
      baseLatitude: 38.97,
      version: 2,
    });
    expect((await c.lead_hand.get("/crews")).body.items).toEqual([changed.body]);
    const stale = await c.owner.patch(`/crews/${crew.id}`, { size: 4 }, 1);
    expect(stale.status).toBe(412);
    expect(stale.body.current).toEqual(changed.body);
    expect((await c.lead_hand.patch(`/crews/${crew.id}`, { size: 4 }, 2)).status).toBe(403);
  });

  test("have names of their own and at least one working day", async () => {
    await addCrew();
    const twice = await c.scheduler.post("/crews", { name: "North", size: 2 });
    expect([twice.status, twice.body.detail]).toEqual([409, "There is a crew of that name already."]);
    expect((await c.scheduler.post("/crews", { name: "South", size: 2, weekdays: [] })).status).toBe(422);
    expect((await c.scheduler.get("/crews")).body.items).toHaveLength(1);
  });

  test("people are linked to the one member of their name, and stay linked", async () => {
    const crew = await addCrew({
      members: [
        { name: "The lead_hand", lead: true },
        { name: "Nobody Known", lead: false },
      ],
    });
    const linked = async () =>
      (
        await h.admin.query("SELECT name, member_id FROM crew_members WHERE crew_id = $1 ORDER BY position", [
          crew.id,
        ])
      ).rows;
    const lead = { name: "The lead_hand", member_id: c.lead_hand.memberId };
    expect(await linked()).toEqual([lead, { name: "Nobody Known", member_id: null }]);
    await h.admin.query("UPDATE members SET name = 'Married Name' WHERE id = $1", [c.lead_hand.memberId]);
    await c.scheduler.patch(`/crews/${crew.id}`, { members: [{ name: "The lead_hand", lead: true }] }, 1);
    expect(await linked()).toEqual([lead]);
  });

  test("with work ahead cannot be stood down; without, they take no bookings", async () => {
    const crew = await addCrew();
    const job = await signedJob(h, c);
    const { body: booking } = await book(job.jobId, crew.id, "2026-12-01");
    const refused = await c.scheduler.patch(`/crews/${crew.id}`, { active: false }, 1);
    expect(refused.status).toBe(409);
    expect(refused.body.detail).toContain(`${job.number} from 1 Dec 2026`);
    await cancel(booking.id);
    expect((await c.scheduler.patch(`/crews/${crew.id}`, { active: false }, 1)).body.active).toBe(false);
    const none = await book(job.jobId, crew.id, "2026-12-01");
    expect([none.status, none.body.detail]).toEqual([409, "Crew North was stood down. Choose another crew."]);
    expect((await c.scheduler.patch(`/crews/${crew.id}`, { active: true }, 2)).body.active).toBe(true);
    expect((await book(job.jobId, crew.id, "2026-12-01")).status).toBe(201);
  });
});

describe("booking", () => {
  test("takes its days from the signed hours and the crew, over weekends and closed days", async () => {
    const crew = await addCrew();
    await close("2026-12-04");
    const job = await signedJob(h, c, { hours: "72.01", promisedTo: "2026-11-30" });
    // 72.01 hours for three people of 8 hours are 4 days: Wed 2, Thu 3, (Fri closed, weekend), Mon 7, Tue 8.
    const booked = await book(job.jobId, crew.id, "2026-12-02");
    expect(booked.status).toBe(201);
    expect(booked.body).toMatchObject({
      jobId: job.jobId,
      number: job.number,
      crewId: crew.id,
      startOn: "2026-12-02",
      endOn: "2026-12-08",
      crewDays: 4,
      hours: "72.01",
      state: "booked",
      holds: [],
      version: 1,
    });
    expect((await timelineOf(h, job.jobId)).at(-1)).toBe(
      "Crew North booked, 2 Dec 2026 to 8 Dec 2026 (4 crew days). The start was promised by 30 Nov 2026.",
    );
    const { rows } = await h.admin.query("SELECT stage FROM jobs WHERE id = $1", [job.jobId]);
    expect(rows[0].stage).toBe("booked");
    const twice = await book(job.jobId, crew.id, "2026-12-14");
    expect([twice.status, twice.body.detail]).toEqual([
      409,
      "A crew is already booked from 2 Dec 2026. Move that booking.",
    ]);
  });

  test("goes by the hours that were signed, not by a newer scope's", async () => {
    const crew = await addCrew();
    const job = await signedJob(h, c, { hours: "24" });
    await issueRevision(h, c, job, { hours: "240", priceCents: 961_000 });
    expect((await book(job.jobId, crew.id, "2026-12-01")).body).toMatchObject({ crewDays: 1, hours: "240" });
  });

  test("may be given its days", async () => {
    const crew = await addCrew({ weekdays: [1, 2, 3, 4] });
    const job = await signedJob(h, c);
    expect((await book(job.jobId, crew.id, "2026-12-02", { crewDays: 3 })).body).toMatchObject({
      endOn: "2026-12-07",
      crewDays: 3,
    });
  });

  test("starts on a workday of the crew, from today on, at most two years ahead", async () => {
    const crew = await addCrew();
    const job = await signedJob(h, c);
    await close("2026-11-26");
    await close("2026-11-27", crew.id);
    expect(wrong(await book(job.jobId, crew.id, "2026-11-28"))).toEqual([
      422,
      "body.startOn",
      "Crew North does not work on 28 Nov 2026 (Saturday). Its next workday is 30 Nov 2026.",
    ]);
    expect(wrong(await book(job.jobId, crew.id, "2026-11-26"))).toEqual([
      422,
      "body.startOn",
      "Crew North does not work on 26 Nov 2026 (Holiday). Its next workday is 30 Nov 2026.",
    ]);
    expect(wrong(await book(job.jobId, crew.id, "2026-11-24"))).toEqual([
      422,
      "body.startOn",
      "24 Nov 2026 has passed. Choose today or a later day.",
    ]);
    for (const [startOn, crewDays] of [
      ["2028-11-27", 1],
      ["2028-11-24", 2],
      ["2099-12-31", 120],
    ] as const) {
      const far = await book(job.jobId, crew.id, startOn, { crewDays });
      expect(wrong(far)).toEqual([422, "body.startOn", "Book at most two years ahead, to 24 Nov 2028."]);
    }
    expect((await book(job.jobId, crew.id, "2026-11-25", { crewDays: 1 })).status).toBe(201);
  });

  test("says so when the hours are more than a booking can hold", async () => {
    const crew = await addCrew({ size: 1 });
    const job = await signedJob(h, c, { hours: "960.5" });
    expect(wrong(await book(job.jobId, crew.id, "2026-12-01")).slice(0, 2)).toEqual([422, "body.crewDays"]);
    expect((await book(job.jobId, crew.id, "2026-12-01", { crewDays: 120 })).status).toBe(201);
  });

  test("names the job that is in the way; the day after it is free", async () => {
    const crew = await addCrew();
    const first = await signedJob(h, c);
    const second = await signedJob(h, c);
    await book(first.jobId, crew.id, "2026-12-01", { crewDays: 3 });
    for (const [startOn, crewDays] of [
      ["2026-12-03", 1],
      ["2026-11-30", 2],
      ["2026-11-30", 10],
    ] as const) {
      const refused = await book(second.jobId, crew.id, startOn, { crewDays });
      expect([refused.status, refused.body.detail]).toEqual([
        409,
        `Crew North is on ${first.number} from 1 Dec 2026 to 3 Dec 2026. Choose other days or another crew.`,
      ]);
    }
    expect((await book(second.jobId, crew.id, "2026-12-04", { crewDays: 1 })).status).toBe(201);
  });

  test("of one crew for two jobs at once: one wins, the other is told which job is in the way", async () => {
    const crew = await addCrew();
    // Mondays.
    for (const startOn of ["2026-12-07", "2026-12-14", "2026-12-21", "2026-12-28", "2027-01-04"]) {
      const jobs = [await signedJob(h, c), await signedJob(h, c)] as const;
      const both = await Promise.all(jobs.map((job) => book(job.jobId, crew.id, startOn)));
      expect(both.map((r) => r.status).sort()).toEqual([201, 409]);
      const won = both[0]?.status === 201 ? 0 : 1;
      expect(both[1 - won]?.body.type).toBe("/problems/conflict");
      expect(both[1 - won]?.body.detail).toContain(`Crew North is on ${jobs[won]?.number} from`);
    }
  });

  test("of one job for two crews at once: one wins", async () => {
    const north = await addCrew();
    const south = await addCrew({ name: "South" });
    const job = await signedJob(h, c);
    const both = await Promise.all([
      book(job.jobId, north.id, "2026-12-01"),
      book(job.jobId, south.id, "2026-12-01"),
    ]);
    expect(both.map((r) => r.status).sort()).toEqual([201, 409]);
  });

  test("the database itself keeps a crew off two jobs on one day", async () => {
    const crew = await addCrew();
    const first = await signedJob(h, c);
    const second = await signedJob(h, c);
    await book(first.jobId, crew.id, "2026-12-01", { crewDays: 2 });
    await expect(
      h.admin.query(
        "INSERT INTO bookings (company_id, job_id, crew_id, start_on, end_on, crew_days) VALUES ($1, $2, $3, '2026-12-02', '2026-12-02', 1)",
        [c.companyId, second.jobId, crew.id],
      ),
    ).rejects.toThrow("bookings_crew_days");
  });

  test("waits for the right to cancel to lapse", async () => {
    const crew = await addCrew();
    const job = await signedJob(h, c, { signedAt: "home" });
    for (const instant of ["2026-11-25T15:00:00Z", "2026-12-01T04:59:00Z"]) {
      h.setNow(instant);
      const refused = await book(job.jobId, crew.id, "2026-12-07");
      expect(refused.status).toBe(409);
      expect(refused.body.detail).toContain("Right to cancel runs to 30 Nov 2026");
    }
    // Midnight in Annapolis.
    h.setNow("2026-12-01T05:01:00Z");
    expect((await book(job.jobId, crew.id, "2026-12-07")).status).toBe(201);
  });

  test("waits for the signature and for the deposit that was asked", async () => {
    const crew = await addCrew();
    const unsigned = await pricedJob(h, c);
    expect((await book(unsigned.jobId, crew.id, "2026-12-01")).body.detail).toContain("has not signed");
    const job = await signedJob(h, c);
    const cents = (n: number) => ({ cents: n, currency: "USD" });
    await c.sales.post(`/jobs/${job.jobId}/deposit-requests`, {
      amount: cents(100_000),
      dueOn: "2026-12-01",
    });
    const pay = (n: number) =>
      c.sales.post(`/jobs/${job.jobId}/payments`, {
        method: "cash",
        amount: cents(n),
        receivedOn: "2026-11-25",
      });
    await pay(99_999);
    expect((await book(job.jobId, crew.id, "2026-12-01")).body.detail).toContain(
      "Deposit short by $0.01 of $1,000",
    );
    await pay(1);
    expect((await book(job.jobId, crew.id, "2026-12-01")).status).toBe(201);
  });
});

describe("moving and cancelling", () => {
  test("moves over its own days, to another crew, or to another length", async () => {
    const north = await addCrew();
    const pair = await addCrew({ name: "Pair", size: 2 });
    const job = await signedJob(h, c);
    const { body: booking } = await book(job.jobId, north.id, "2026-12-01");
    expect(booking).toMatchObject({ endOn: "2026-12-02", crewDays: 2 });
    const later = await move(booking.id, { startOn: "2026-12-02" }, 1);
    expect(later.status).toBe(200);
    expect(later.body).toMatchObject({ startOn: "2026-12-02", endOn: "2026-12-03", crewDays: 2, version: 2 });
    // 48 hours for two people are three days.
    expect((await move(booking.id, { crewId: pair.id }, 2)).body).toMatchObject({
      crewId: pair.id,
      startOn: "2026-12-02",
      endOn: "2026-12-04",
      crewDays: 3,
      version: 3,
    });
    expect((await move(booking.id, { crewDays: 1 }, 3)).body).toMatchObject({
      endOn: "2026-12-02",
      version: 4,
    });
    expect((await timelineOf(h, job.jobId)).at(-2)).toBe(
      "Booking moved to crew Pair, 2 Dec 2026 to 4 Dec 2026 (3 crew days); it was crew North, 2 Dec 2026 to 3 Dec 2026 (2 crew days).",
    );
    const free = await signedJob(h, c);
    expect((await book(free.jobId, north.id, "2026-12-02")).status).toBe(201);
  });

  test("is refused on an older version, with what is there now, and onto another job", async () => {
    const crew = await addCrew();
    const other = await signedJob(h, c);
    await book(other.jobId, crew.id, "2026-12-07", { crewDays: 2 });
    const job = await signedJob(h, c);
    const { body: booking } = await book(job.jobId, crew.id, "2026-12-01", { crewDays: 2 });
    const moved = await move(booking.id, { startOn: "2026-12-02" }, 1);
    const stale = await move(booking.id, { startOn: "2026-12-03" }, 1);
    expect(stale.status).toBe(412);
    expect(stale.body.current).toEqual(moved.body);
    const refused = await move(booking.id, { startOn: "2026-12-04" }, 2);
    expect([refused.status, refused.body.detail]).toEqual([
      409,
      `Crew North is on ${other.number} from 7 Dec 2026 to 8 Dec 2026. Choose other days or another crew.`,
    ]);
    expect(wrong(await move(booking.id, { startOn: "2026-12-05" }, 2))[1]).toBe("body.startOn");
    expect(await bookingRow(booking.id)).toMatchObject({ start_on: "2026-12-02", end_on: "2026-12-03" });
    h.setNow("2026-12-03T15:00:00Z");
    expect(wrong(await move(booking.id, { crewDays: 1 }, 2))[1]).toBe("body.startOn");
    expect((await c.lead_hand.patch(`/bookings/${booking.id}`, { crewDays: 1 }, 2)).status).toBe(403);
    const blind = await c.scheduler.patch(`/bookings/${booking.id}`, { crewDays: 1 }, Number.NaN);
    expect(blind.status).toBe(428);
  });

  test("two moves onto the same days at once: one wins", async () => {
    const crew = await addCrew();
    const jobs = [await signedJob(h, c), await signedJob(h, c)] as const;
    const bookings = [
      (await book(jobs[0].jobId, crew.id, "2026-12-01", { crewDays: 1 })).body,
      (await book(jobs[1].jobId, crew.id, "2026-12-02", { crewDays: 1 })).body,
    ];
    const both = await Promise.all(bookings.map((b) => move(b.id, { startOn: "2026-12-09" }, 1)));
    expect(both.map((r) => r.status).sort()).toEqual([200, 409]);
  });

  test("a cancelled booking frees the days and is over", async () => {
    const crew = await addCrew();
    const job = await signedJob(h, c);
    const { body: booking } = await book(job.jobId, crew.id, "2026-12-01");
    expect((await cancel(booking.id)).body).toEqual({ done: true });
    expect(await bookingRow(booking.id)).toMatchObject({ cancelled: true, cancelled_why: "customer away" });
    expect((await timelineOf(h, job.jobId)).at(-1)).toBe(
      "Booking of crew North, 1 Dec 2026 to 2 Dec 2026 (2 crew days), cancelled: customer away",
    );
    for (const response of [
      await cancel(booking.id),
      await start(booking.id),
      await finish(booking.id),
      await move(booking.id, {}, 2),
    ]) {
      expect([response.status, response.body.detail]).toEqual([
        409,
        "This booking was cancelled. Book a crew anew.",
      ]);
    }
    expect((await book(job.jobId, crew.id, "2026-12-01")).status).toBe(201);
  });
});

describe("the work itself", () => {
  test("starts as booked and finishes with its hours", async () => {
    const crew = await addCrew();
    const job = await signedJob(h, c);
    const { body: booking } = await book(job.jobId, crew.id, "2026-12-01");
    expect((await finish(booking.id)).body.detail).toBe("Work has not started.");
    h.setNow("2026-12-01T15:00:00Z");
    expect((await start(booking.id)).body).toEqual({ done: true });
    expect((await start(booking.id)).body.detail).toBe("Work has already started.");
    for (const response of [await cancel(booking.id), await move(booking.id, { startOn: "2026-12-09" }, 2)]) {
      expect(response.status).toBe(409);
      expect(response.body.detail).toContain("Work has started");
    }
    h.setNow("2026-12-02T22:00:00Z");
    expect((await finish(booking.id)).body).toEqual({ done: true });
    expect(await bookingRow(booking.id)).toMatchObject({
      started_on: "2026-12-01",
      finished_on: "2026-12-02",
      actual_hours: 46.5,
      end_on: "2026-12-02",
      crew_days: 2,
    });
    expect((await timelineOf(h, job.jobId)).slice(-2)).toEqual([
      "Crew North started work on 1 Dec 2026, as booked.",
      "Crew North finished on 2 Dec 2026 after 46.5 hours; 48 were estimated.",
    ]);
    const { rows } = await h.admin.query("SELECT stage FROM jobs WHERE id = $1", [job.jobId]);
    expect(rows[0].stage).toBe("finished");
    expect((await finish(booking.id)).status).toBe(409);
  });

  test("may start before the booked day, not while the crew is at work elsewhere", async () => {
    const crew = await addCrew();
    const first = await signedJob(h, c);
    const second = await signedJob(h, c);
    const { body: one } = await book(first.jobId, crew.id, "2026-12-01");
    const { body: two } = await book(second.jobId, crew.id, "2026-12-07");
    h.setNow("2026-11-30T15:00:00Z");
    await start(one.id);
    expect((await timelineOf(h, first.jobId)).at(-1)).toBe(
      "Crew North started work on 30 Nov 2026, 1 day before the booked 1 Dec 2026.",
    );
    const refused = await start(two.id);
    expect([refused.status, refused.body.detail]).toEqual([
      409,
      `Crew North is still at work on ${first.number}. Finish that job first.`,
    ]);
    await finish(one.id);
    h.setNow("2026-12-09T15:00:00Z");
    expect((await start(two.id)).status).toBe(200);
    expect((await timelineOf(h, second.jobId)).at(-1)).toBe(
      "Crew North started work on 9 Dec 2026, 2 days after the booked 7 Dec 2026.",
    );
  });

  test("of two starts of one crew at once, one counts", async () => {
    const crew = await addCrew();
    const jobs = [await signedJob(h, c), await signedJob(h, c)] as const;
    const one = (await book(jobs[0].jobId, crew.id, "2026-12-01")).body;
    const two = (await book(jobs[1].jobId, crew.id, "2026-12-07")).body;
    const both = await Promise.all([start(one.id), start(two.id)]);
    expect(both.map((r) => r.status).sort()).toEqual([200, 409]);
  });

  test("does not start while a hold stands", async () => {
    const crew = await addCrew();
    const job = await signedJob(h, c);
    const { body: booking } = await book(job.jobId, crew.id, "2026-12-01");
    await placeHold(job.jobId, "permit");
    await placeHold(job.jobId, "weather");
    const refused = await start(booking.id);
    expect(refused.status).toBe(409);
    expect(refused.body.detail).toContain("Waiting for the permit");
    expect(refused.body.detail).toContain("Waiting for the weather");
    expect((await bookingRow(booking.id)).started_on).toBeNull();
    await liftHolds(job.jobId);
    expect((await start(booking.id)).status).toBe(200);
  });

  test("finished early, the crew is free the day after", async () => {
    const crew = await addCrew();
    const job = await signedJob(h, c);
    const { body: booking } = await book(job.jobId, crew.id, "2026-12-01", { crewDays: 8 });
    h.setNow("2026-12-01T15:00:00Z");
    await start(booking.id);
    h.setNow("2026-12-03T15:00:00Z");
    await finish(booking.id);
    expect(await bookingRow(booking.id)).toMatchObject({ end_on: "2026-12-03", crew_days: 3 });
    expect((await timelineOf(h, job.jobId)).at(-1)).toContain("free again before the booked 10 Dec 2026.");
    const next = await signedJob(h, c);
    expect((await book(next.jobId, crew.id, "2026-12-03")).status).toBe(409);
    expect((await book(next.jobId, crew.id, "2026-12-04")).status).toBe(201);
  });

  test("is a crew lead's in his own crew; the scheduler's anywhere", async () => {
    const crew = await addCrew({ members: [{ name: "The lead_hand", lead: true }] });
    const { rows } = await h.admin.query(
      "INSERT INTO members (company_id, name, email, password_hash, roles) VALUES ($1, 'Stray', 'stray@x.example', 'none', '{lead_hand}') RETURNING id",
      [c.companyId],
    );
    const stray = await h.signIn(c.companyId, rows[0].id, "lead_hand");
    const job = await signedJob(h, c);
    const { body: booking } = await book(job.jobId, crew.id, "2026-12-01");
    const refused = await start(booking.id, stray);
    expect(refused.status).toBe(403);
    expect(refused.body.detail).toContain("You are not in crew North");
    expect((await start(booking.id, c.lead_hand)).status).toBe(200);
    expect((await finish(booking.id, stray)).status).toBe(403);
    expect((await finish(booking.id, c.owner)).status).toBe(200);
    expect((await start(booking.id, c.sales)).status).toBe(403);
  });

  test("in a crew with nobody linked, any crew lead may, and the record says so", async () => {
    const crew = await addCrew({ members: [{ name: "Nobody Known", lead: true }] });
    const job = await signedJob(h, c);
    const { body: booking } = await book(job.jobId, crew.id, "2026-11-25");
    expect((await start(booking.id, c.lead_hand)).status).toBe(200);
    expect((await timelineOf(h, job.jobId)).at(-1)).toBe(
      "Crew North started work on 25 Nov 2026, as booked. Entered by The lead_hand; nobody of crew North is linked to a member.",
    );
  });
});

describe("closed days", () => {
  test("are refused while jobs are booked on them, and those are named", async () => {
    const north = await addCrew();
    const south = await addCrew({ name: "South" });
    const job = await signedJob(h, c);
    await book(job.jobId, north.id, "2026-12-03", { crewDays: 3 });
    for (const crewId of [north.id, null]) {
      const refused = await close("2026-12-04", crewId);
      expect([refused.status, refused.body.detail]).toEqual([
        409,
        `Booked on 4 Dec 2026: ${job.number} (crew North, 3 Dec 2026 to 7 Dec 2026). Move that first, then close the day.`,
      ]);
    }
    expect((await close("2026-12-04", south.id)).status).toBe(201);
    // A Saturday inside the run is no day of work to begin with.
    expect((await close("2026-12-05")).status).toBe(201);
    const twice = await close("2026-12-05");
    expect([twice.status, twice.body.detail]).toEqual([409, "That day is closed already."]);
  });

  test("do not disturb work under way, and say so", async () => {
    const crew = await addCrew();
    const job = await signedJob(h, c);
    const { body: booking } = await book(job.jobId, crew.id, "2026-11-25", { crewDays: 4 });
    await start(booking.id);
    expect((await close("2026-11-26")).status).toBe(201);
    expect(await bookingRow(booking.id)).toMatchObject({ end_on: "2026-11-30" });
    const { rows } = await h.admin.query(
      "SELECT words FROM audit_entries WHERE company_id = $1 AND action = 'closure.added'",
      [c.companyId],
    );
    expect(rows[0].words).toBe(
      `Nobody works on 26 Nov 2026: Holiday. ${job.number} is under way and keeps its days.`,
    );
  });

  test("closing a day and booking it at once cannot both succeed", async () => {
    const crew = await addCrew();
    for (const on of ["2026-12-07", "2026-12-08", "2026-12-09", "2026-12-10"]) {
      const job = await signedJob(h, c);
      const both = await Promise.all([close(on), book(job.jobId, crew.id, on, { crewDays: 1 })]);
      expect(both.filter((r) => r.status === 201)).toHaveLength(1);
    }
  });

  test("can be opened again", async () => {
    const crew = await addCrew();
    const job = await signedJob(h, c);
    const { body } = await close("2026-12-01", crew.id);
    expect((await book(job.jobId, crew.id, "2026-12-01")).status).toBe(422);
    expect((await c.scheduler.delete(`/calendar-closures/${body.id}`)).body).toEqual({ done: true });
    expect((await c.scheduler.delete(`/calendar-closures/${body.id}`)).status).toBe(404);
    expect((await book(job.jobId, crew.id, "2026-12-01")).status).toBe(201);
  });
});

describe("the crew sheet", () => {
  test("shows crews, days, closed days, bookings with holds, and the jobs that are ready", async () => {
    const north = await addCrew();
    const south = await addCrew({ name: "South" });
    await close("2026-12-25");
    await close("2026-12-04", south.id);
    const booked = await signedJob(h, c);
    const { body: booking } = await book(booked.jobId, north.id, "2026-11-30", { crewDays: 3 });
    await placeHold(booked.jobId, "materials_on_order");
    const soon = await signedJob(h, c, { promisedTo: "2026-12-10", hours: "12.5" });
    const sooner = await signedJob(h, c, { promisedTo: "2026-12-05" });
    await signedJob(h, c, { signedAt: "home" });
    await pricedJob(h, c);

    const s = await sheet("2026-12-02", 3);
    expect(s.days).toEqual([
      { on: "2026-12-02", weekday: 3 },
      { on: "2026-12-03", weekday: 4 },
      { on: "2026-12-04", weekday: 5 },
    ]);
    expect(s.crews.map((crew: { name: string }) => crew.name)).toEqual(["North", "South"]);
    expect(s.closures).toEqual([
      { id: expect.any(String), crewId: south.id, on: "2026-12-04", why: "Holiday" },
    ]);
    expect(s.bookings).toEqual([
      { ...booking, holds: [{ hold: "materials_on_order", why: "Materials are on order" }] },
    ]);
    expect(s.ready).toMatchObject([
      {
        jobId: sooner.jobId,
        number: sooner.number,
        hours: "48",
        stage: "accepted",
        promisedTo: "2026-12-05",
      },
      { jobId: soon.jobId, hours: "12.5", city: "Annapolis" },
    ]);
    expect((await sheet("2026-12-03", 3)).bookings).toEqual([]);
    // The day after the right to cancel has lapsed, the third job is ready too.
    h.setNow("2026-12-01T15:00:00Z");
    expect((await sheet("2026-12-02", 3)).ready).toHaveLength(3);
  });

  test("shows a crew that was stood down only where it has work", async () => {
    const crew = await addCrew();
    const job = await signedJob(h, c);
    const { body: booking } = await book(job.jobId, crew.id, "2026-11-25", { crewDays: 1 });
    await start(booking.id);
    await finish(booking.id);
    expect((await c.scheduler.patch(`/crews/${crew.id}`, { active: false }, 1)).status).toBe(200);
    expect((await sheet("2026-11-25", 1)).crews).toHaveLength(1);
    expect((await sheet("2026-11-25", 1)).bookings).toMatchObject([{ state: "finished" }]);
    expect((await sheet("2026-11-26", 1)).crews).toHaveLength(0);
  });

  test("ends with the calendar", async () => {
    expect((await sheet("2099-12-31", 1)).days).toHaveLength(1);
    expect((await c.scheduler.get("/crew-sheet", { from: "2099-12-31", days: 2 })).status).toBe(422);
  });
});

test("another company's ids, and ids of nothing, are not found", async () => {
  const other = await h.company();
  const crew = await addCrew();
  const job = await signedJob(h, c);
  const free = await signedJob(h, c);
  const { body: booking } = await book(job.jobId, crew.id, "2026-12-01");
  const { body: closure } = await close("2026-12-25");
  for (const [member, bookingId, crewId, jobId, closureId] of [
    [other.owner, booking.id, crew.id, free.jobId, closure.id],
    [c.owner, randomUUID(), randomUUID(), randomUUID(), randomUUID()],
  ] as const) {
    const responses = [
      await member.patch(`/crews/${crewId}`, { size: 2 }, 1),
      await member.post("/calendar-closures", { crewId, on: "2026-12-24", why: "Holiday" }),
      await member.delete(`/calendar-closures/${closureId}`),
      await member.post(`/jobs/${jobId}/bookings`, { crewId, startOn: "2026-12-14" }),
      await member.patch(`/bookings/${bookingId}`, {}, 1),
      await member.post(`/bookings/${bookingId}/cancel`, { why: "not mine" }),
      await member.post(`/bookings/${bookingId}/start`),
      await member.post(`/bookings/${bookingId}/finish`, { actualHours: "1" }),
    ];
    expect(responses.map((r) => r.status)).toEqual(responses.map(() => 404));
  }
  const theirs = await other.owner.post("/crews", { name: "Theirs", size: 2 });
  expect((await book(free.jobId, theirs.body.id, "2026-12-14")).status).toBe(404);
  expect((await move(booking.id, { crewId: theirs.body.id }, 1)).status).toBe(404);
  expect((await other.owner.get("/crews")).body.items).toHaveLength(1);
  const s = (await other.owner.get("/crew-sheet", { from: "2026-12-01" })).body;
  expect([s.bookings, s.closures, s.ready]).toEqual([[], [], []]);
  expect(await bookingRow(booking.id)).toMatchObject({ cancelled: false, started_on: null });
});

test("a repeated request books once", async () => {
  const crew = await addCrew();
  const job = await signedJob(h, c);
  const key = randomUUID();
  const body = { crewId: crew.id, startOn: "2026-12-01" };
  const first = await c.scheduler.post(`/jobs/${job.jobId}/bookings`, body, { key });
  const second = await c.scheduler.post(`/jobs/${job.jobId}/bookings`, body, { key });
  expect([first.status, second.status]).toEqual([201, 201]);
  expect(second.body).toEqual(first.body);
});
