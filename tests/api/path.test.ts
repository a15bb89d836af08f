import { afterAll, beforeAll, expect, test } from "vitest";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { smallBook } from "../support/small-book.ts";

/** One job carried through every stage by the people whose work it is, over HTTP, on a real database. */
let h: Harness;
let c: TestCompany;
beforeAll(async () => {
  h = await startHarness();
  c = await h.company({ name: "Path Carpentry" });
  await h.database.withCompany(c.companyId, {}, (db) => smallBook(db, "2026-01-01"));
});
afterAll(() => h.close());

const stageOf = async (jobId: string): Promise<string> => (await c.owner.get(`/jobs/${jobId}`)).body.stage;
const usd = (cents: number) => ({ cents, currency: "USD" });

test("an inquiry becomes a finished job, with a material site review on the way", async () => {
  h.setNow("2026-03-02T15:00:00Z"); // a Monday
  const book = `/price-books/${(await c.estimator.get("/price-book")).body.id}`;
  await c.estimator.post(`${book}/labor-rates`, {
    code: "path-carpenter",
    name: "Carpenter",
    hourly: usd(3800),
    burdenBp: 3200,
  });
  const assembly = async (
    code: string,
    component: string,
    action: string,
    unit: string,
    materialCents: number,
    hoursPerUnit: string,
  ): Promise<void> => {
    const material = await c.estimator.post(`${book}/materials`, {
      code: `M-${code}`,
      name: `For ${code}`,
      unit: "each",
      section: null,
      packs: [{ size: "1", price: usd(materialCents) }],
      wholePacks: false,
    });
    expect(material.status).toBe(201);
    const added = await c.estimator.post(`${book}/assemblies`, {
      code,
      component,
      action,
      unit,
      description: `${action} ${component}`,
      note: "",
      recipe: {
        materials: [{ code: `M-${code}`, inSalt: null, perUnit: "1", wasteBp: 1000 }],
        labor: [{ code: "path-carpenter", hoursPerUnit, setupHours: "0" }],
        disposalUnitCents: "0",
        equipmentUnitCents: "0",
        laborCvBp: 2500,
      },
    });
    expect(added.status).toBe(201);
  };
  await assembly("DECK-NEW", "decking", "replace", "sqft", 620, "0.12");
  await assembly("STRINGER-NEW", "stringer", "replace", "each", 4800, "2.5");
  await assembly("POST-BASE-NEW", "post", "repair", "each", 3900, "1");

  const lead = await c.sales.post("/leads", {
    words: "The porch floor is soft near the steps.",
    title: "Porch floor",
    customer: { name: "Maribel Quist", phone: "(410) 555-0150", email: "maribel@quist.example" },
    property: {
      street: "14 Alder Lane",
      city: "Catonsville",
      state: "MD",
      postalCode: "21228",
      yearBuilt: 1962,
    },
  });
  expect(lead.status).toBe(201);
  const jobId = lead.body.jobId as string;
  expect(await stageOf(jobId)).toBe("inquiry");

  const visit = await c.sales.post(`/jobs/${jobId}/visits`, {
    kind: "first_look",
    startsAt: "2026-03-03T14:00:00Z",
    memberId: c.sales.memberId,
  });
  expect(visit.status).toBe(201);
  await c.sales.patch(`/visits/${visit.body.id}`, { state: "done" }, visit.body.version);

  const floor = (
    await c.sales.post(`/jobs/${jobId}/zones`, {
      name: "Porch floor",
      kind: "porch",
      lengthFt: "20",
      widthFt: "10.7",
    })
  ).body;
  const porch = floor.id;
  const stair = (await c.sales.post(`/jobs/${jobId}/zones`, { name: "Back stair", kind: "stair" })).body.id;
  const first = (await c.sales.post(`/jobs/${jobId}/revisions`, { kind: "first_pass" })).body.id;
  const line = (revision: string, body: object) => c.sales.post(`/revisions/${revision}/lines`, body);
  expect(
    (
      await line(first, {
        zoneId: porch,
        component: "decking",
        action: "replace",
        assemblyCode: "DECK-NEW",
        quantity: "214",
        unit: "sqft",
      })
    ).status,
  ).toBe(201);
  await line(first, {
    zoneId: stair,
    component: "stringer",
    action: "replace",
    assemblyCode: "STRINGER-NEW",
    quantity: "5",
    unit: "each",
  });
  expect(await stageOf(jobId)).toBe("first_pass");
  expect((await c.sales.post(`/revisions/${first}/issue`)).status).toBe(200);

  // The customer signs the first pass before the senior has seen the site.
  const quote1 = (await c.sales.post(`/jobs/${jobId}/quotes`, {})).body.id;
  expect(await stageOf(jobId)).toBe("quoted");
  const offered = (await c.sales.get(`/quotes/${quote1}`)).body;
  const sign = (quoteId: string, hash: string) =>
    c.sales.post(`/quotes/${quoteId}/acceptance`, {
      signer: "Maribel Quist",
      signedOn: "2026-03-02",
      signedAt: "home",
      documentSha256: hash,
    });
  expect((await sign(quote1, offered.documentSha256)).status).toBe(201);
  expect(await stageOf(jobId)).toBe("accepted");

  // The site review finds the stringers sound and the post bases gone.
  expect((await c.sales.post(`/jobs/${jobId}/revisions`, { kind: "site_review" })).status).toBe(403);
  const review = (await c.estimator.post(`/jobs/${jobId}/revisions`, { kind: "site_review" })).body.id;
  const early = await c.estimator.post(`/revisions/${review}/issue`);
  expect(early.status).toBe(409);
  expect(early.body.detail).toMatch(/unreviewed|reviewed/);
  const { lines } = (await c.estimator.get(`/revisions/${review}`)).body;
  const [decking, stringers] = lines;
  const bare = await c.estimator.patch(
    `/lines/${stringers.id}`,
    { action: "keep", assemblyCode: null },
    stringers.version,
  );
  expect(bare.status).toBe(422); // a change needs its reason
  expect(
    (
      await c.estimator.patch(
        `/lines/${stringers.id}`,
        {
          action: "keep",
          assemblyCode: null,
          reasonCode: "misjudged_condition",
          reason: "Probed at 12 places, dry.",
          evidence: "measured",
        },
        stringers.version,
      )
    ).status,
  ).toBe(200);
  expect(
    (
      await c.estimator.patch(
        `/lines/${decking.id}`,
        { quantity: "236", evidence: "measured", reasonCode: "miscount", reason: "Measured." },
        decking.version,
      )
    ).status,
  ).toBe(200);
  await c.estimator.post(`/revisions/${review}/lines`, {
    zoneId: porch,
    component: "post",
    action: "repair",
    assemblyCode: "POST-BASE-NEW",
    quantity: "6",
    unit: "each",
    evidence: "counted",
    reasonCode: "missed",
    reason: "Rusted through at grade.",
  });
  // 236 sq ft cannot come off a floor drawn as 20 ft by 10.7 ft: the drawing is corrected as it was measured.
  const tooMuch = await c.estimator.post(`/revisions/${review}/issue`);
  expect([tooMuch.status, tooMuch.body.detail]).toEqual([
    409,
    expect.stringMatching(/^236 sq ft of decking .* Mend it, or let it pass with a reason, then issue\.$/),
  ]);
  expect((await c.estimator.patch(`/zones/${porch}`, { widthFt: "11.8" }, floor.version)).status).toBe(200);
  const issued = await c.estimator.post(`/revisions/${review}/issue`);
  expect(issued.status).toBe(200);
  expect(issued.body.material).toBe(true);
  expect(await stageOf(jobId)).toBe("site_review");
  const after = (await c.owner.get(`/jobs/${jobId}`)).body;
  expect(after.quotes[0].state).toBe("void");
  expect(after.holds.map((x: { hold: string }) => x.hold)).toContain("material_variance_unresolved");

  const comparison = (await c.owner.get(`/jobs/${jobId}/comparison`)).body;
  const steps = comparison.bridge.reduce(
    (sum: number, s: { delta: { cents: number } }) => sum + s.delta.cents,
    0,
  );
  expect(steps).toBe(comparison.to.price.cents - comparison.from.price.cents);
  expect(comparison.material).toBe(true);
  expect(
    comparison.rules.filter((r: { fired: boolean }) => r.fired).map((r: { rule: string }) => r.rule),
  ).toContain("structural_action");

  // Signed anew; the deposit stays within Maryland's third; a crew is booked once the right to cancel has run out.
  const quote2 = (await c.sales.post(`/jobs/${jobId}/quotes`, {})).body.id;
  const changed = (await c.sales.get(`/quotes/${quote2}`)).body;
  expect((await sign(quote2, changed.documentSha256)).status).toBe(201);
  const money = (await c.sales.get(`/jobs/${jobId}/money`)).body;
  const third = Math.floor(money.contract.cents / 3);
  const over = await c.sales.post(`/jobs/${jobId}/deposit-requests`, {
    amount: usd(third + 2),
    dueOn: "2026-03-10",
  });
  expect(over.status).toBe(422);
  expect(over.body.errors[0].message).toMatch(/8-617/);
  expect(
    (await c.sales.post(`/jobs/${jobId}/deposit-requests`, { amount: usd(third), dueOn: "2026-03-10" }))
      .status,
  ).toBe(201);

  const crew = (await c.scheduler.post("/crews", { name: "Alder", size: 3 })).body.id;
  const bookCrew = () => c.scheduler.post(`/jobs/${jobId}/bookings`, { crewId: crew, startOn: "2026-03-16" });
  expect((await bookCrew()).body.detail).toMatch(/Deposit short/);
  await c.sales.post(`/jobs/${jobId}/payments`, {
    method: "cheque",
    amount: usd(third),
    receivedOn: "2026-03-02",
    reference: "cheque 118",
  });
  expect((await bookCrew()).body.detail).toMatch(/Right to cancel runs to 5 Mar 2026/);
  h.setNow("2026-03-06T15:00:00Z");
  const booking = await bookCrew();
  expect(booking.status).toBe(201);
  expect(await stageOf(jobId)).toBe("booked");

  const hold = await c.scheduler.post(`/jobs/${jobId}/holds`, {
    hold: "permit",
    why: "County permit applied for.",
  });
  h.setNow("2026-03-16T13:00:00Z");
  expect((await c.lead_hand.post(`/bookings/${booking.body.id}/start`)).status).toBe(409);
  await c.scheduler.post(`/holds/${hold.body.id}/lift`);
  expect((await c.lead_hand.post(`/bookings/${booking.body.id}/start`)).status).toBe(200);
  expect(await stageOf(jobId)).toBe("under_way");
  expect(
    (await c.lead_hand.post(`/bookings/${booking.body.id}/finish`, { actualHours: "38.5" })).status,
  ).toBe(200);
  expect(await stageOf(jobId)).toBe("finished");

  const done = (await c.owner.get(`/jobs/${jobId}`)).body;
  expect(done.passed.map((p: { stage: string }) => p.stage)).toEqual([
    "first_pass",
    "site_review",
    "quoted",
    "accepted",
    "booked",
    "under_way",
    "finished",
  ]);
  expect((await c.owner.post(`/jobs/${jobId}/close`, { reason: "other" })).status).toBe(409);
  const timeline = (await c.owner.get(`/jobs/${jobId}/timeline`)).body.items;
  expect(timeline.length).toBeGreaterThan(20);
});

test("another company sees none of it", async () => {
  const other = await h.company({ name: "Other Carpentry" });
  expect((await other.owner.get("/jobs", { view: "all" })).body.items).toEqual([]);
  expect((await other.owner.get("/customers")).body.items).toEqual([]);
});
