import { DEMO_PASSWORD, demoIsThere, seedDemo } from "@ledgerboard/api/demo/seed";
import { compare } from "@ledgerboard/api/features/estimates/comparison";
import { listLines, policyInEffect, readPriced } from "@ledgerboard/api/features/estimates/queries";
import { requireReason } from "@ledgerboard/api/features/estimates/scope";
import { refreshJob } from "@ledgerboard/api/features/jobs/facts";
import { canonicalJson, sha256 } from "@ledgerboard/api/features/quotes/document";
import { depositCap } from "@ledgerboard/rules";
import { addWorkdays, crewDays } from "@ledgerboard/scheduling";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Harness } from "../support/harness.ts";
import { type Company, type Demo, invent, SLOW } from "./demo.fixture.ts";

let demo: Demo;
beforeAll(async () => {
  demo = await invent();
}, SLOW);
afterAll(() => demo.close());

const all: Demo["all"] = (text, values) => demo.all(text, values);
const signInAs: Demo["signInAs"] = (slug, role) => demo.signInAs(slug, role);

describe("who and what is there", () => {
  test("two companies with jobs in every stage", async () => {
    const rows = await all<{ slug: string; stage: string; n: number }>(
      "SELECT c.slug, j.stage, count(*)::int AS n FROM jobs j JOIN companies c USING (company_id) GROUP BY 1, 2",
    );
    const count = (slug: string, stage: string) =>
      rows.find((r) => r.slug === slug && r.stage === stage)?.n ?? 0;
    const heron = (stage: string) => count("heron-point", stage);
    const waiting = ["inquiry", "first_pass", "site_review", "quoted", "accepted"];
    expect(waiting.reduce((sum, stage) => sum + heron(stage), 0)).toBe(41);
    for (const stage of waiting) expect(heron(stage)).toBeGreaterThanOrEqual(6);
    expect(heron("booked")).toBe(14);
    expect(heron("under_way")).toBe(5);
    expect(heron("finished")).toBe(45);
    expect(heron("closed")).toBe(5);
    for (const stage of [...waiting, "booked", "under_way", "finished", "closed"]) {
      expect(count("two-ridge", stage), stage).toBeGreaterThanOrEqual(1);
    }
    expect(rows.reduce((sum, r) => sum + r.n, 0)).toBe(122);
    expect(demo.lines.join("\n")).toContain("Heron Point Carpentry: 110 jobs, 9 crews.");
  });

  test("everybody is reached at an invented address", async () => {
    const mails = await all<{ mail: string }>(
      `SELECT email AS mail FROM members UNION ALL SELECT email FROM customers UNION ALL SELECT contact_email FROM leads
       UNION ALL SELECT email FROM companies UNION ALL SELECT recipient FROM outbox_messages`,
    );
    const given = mails.flatMap(({ mail }) => (mail === null ? [] : [mail]));
    expect(given.length).toBeGreaterThan(150);
    for (const mail of given) expect(mail).toMatch(/^[A-Za-z.]+@[a-z-]+\.example$/);
    const phones = await all<{ phone: string }>(
      "SELECT phone FROM customers UNION ALL SELECT contact_phone FROM leads UNION ALL SELECT phone FROM companies",
    );
    for (const { phone } of phones) if (phone) expect(phone).toMatch(/\D555-01\d\d$/);
    const nobody = await all("SELECT id FROM customers WHERE phone IS NULL AND email IS NULL");
    expect(nobody).toEqual([]);
  });

  test("nobody and nothing belongs to both companies", async () => {
    const shared = await all(
      `SELECT mark FROM (SELECT company_id, name AS mark FROM customers
         UNION ALL SELECT company_id, phone_normalized FROM customers
         UNION ALL SELECT company_id, email_normalized FROM customers
         UNION ALL SELECT company_id, email FROM members) x
       WHERE mark IS NOT NULL GROUP BY mark HAVING count(DISTINCT company_id) > 1`,
    );
    expect(shared).toEqual([]);
    const strayed = await all(
      `SELECT j.id FROM jobs j JOIN customers c ON c.id = j.customer_id JOIN properties p ON p.id = j.property_id
       WHERE c.company_id <> j.company_id OR p.company_id <> j.company_id OR p.state <>
         (SELECT state FROM companies WHERE company_id = j.company_id)`,
    );
    expect(strayed).toEqual([]);
  });

  test("each role signs in with the printed password", async () => {
    expect(demo.logins.filter((l) => l.company === "Heron Point Carpentry")).toHaveLength(16);
    for (const company of ["Heron Point Carpentry", "Two Ridge Porchworks"]) {
      for (const role of ["owner", "sales", "estimator", "scheduler", "lead_hand"]) {
        const login = demo.logins.find((l) => l.company === company && l.role === role);
        const body = { email: login?.email ?? "", password: DEMO_PASSWORD };
        const answer = await demo.h.anonymous.post("/session", body);
        expect(answer.status, `${company} ${role}`).toBe(201);
        expect(answer.body.company.name).toBe(company);
        expect(answer.body.member.roles).toContain(role);
      }
    }
  });

  test("is not invented twice into one database", async () => {
    expect(await demoIsThere(demo.h.services)).toBe(true);
    await expect(seedDemo(demo.h.services)).rejects.toThrow("already");
  });
});

describe("nothing is there that the service would not have written", () => {
  test("stage and facts are what the facts say", async () => {
    for (const company of demo.companies) {
      await demo.h.database.withCompany(company.id, {}, async (db) => {
        const stored = await db.sql<{ id: string; stage: string; facts: unknown }>`
          SELECT id, stage, facts FROM jobs WHERE company_id = ${db.companyId}`;
        for (const job of stored) {
          const fresh = await refreshJob(db, job.id, demo.today(company));
          expect({ stage: fresh.state.stage, facts: fresh.facts }).toEqual({
            stage: job.stage,
            facts: job.facts,
          });
        }
      });
    }
  });

  test("prices, reasons and comparisons follow from the lines", async () => {
    const byOurRules = await all<{
      company_id: string;
      id: string;
      based_on_id: string | null;
      price_cents: number;
      hours: string;
      issued: boolean;
    }>(
      "SELECT company_id, id, based_on_id, price_cents, hours, issued_at IS NOT NULL AS issued FROM revisions ORDER BY id",
    );
    const prices: number[] = [];
    for (const company of demo.companies) {
      await demo.h.database.withCompany(company.id, {}, async (db) => {
        const policy = await policyInEffect(db, demo.today(company));
        for (const stored of byOurRules.filter((r) => r.company_id === company.id)) {
          const priced = await readPriced(db, stored.id);
          expect(priced.totals.priceCents).toBe(stored.price_cents);
          expect(Number(priced.totals.hours)).toBe(Number(stored.hours));
          if (stored.issued) prices.push(stored.price_cents);
          if (!stored.based_on_id) continue;
          const base = await listLines(db, stored.based_on_id);
          for (const line of priced.lines) {
            if (!line.reviewed) continue;
            const before = base.find((l) => l.lineageId === line.lineageId) ?? null;
            expect(() => requireReason(line, line.rates, before)).not.toThrow();
          }
          if (!stored.issued) continue;
          expect(priced.lines.every((line) => line.reviewed)).toBe(true);
          const { bridge, verdict, hours } = compare(
            await readPriced(db, stored.based_on_id),
            priced,
            policy,
          );
          const [variance] = await db.sql<object>`
            SELECT bridge, rules, material, trim_scale(delta_hours)::text AS hours FROM variances
            WHERE company_id = ${db.companyId} AND to_revision_id = ${stored.id}`;
          expect(variance).toEqual({
            bridge,
            rules: verdict.rules,
            material: verdict.material,
            hours: hours.delta,
          });
        }
      });
    }
    expect(Math.min(...prices)).toBeGreaterThanOrEqual(45_000);
    for (const price of prices) expect(price % 500).toBe(0);
    expect(Math.max(...prices)).toBeGreaterThan(2_000_000);
    expect(Math.max(...prices)).toBeLessThan(2_800_000);
  });

  test("quotes are what was signed, and signatures and deposits keep the rules", async () => {
    const quotes = await all<{
      document: object;
      document_text: string;
      document_sha256: string;
      price_cents: number;
      revision_cents: number;
      expires_on: string;
    }>(
      `SELECT q.document, q.document_text, q.document_sha256, q.price_cents, q.expires_on::text, r.price_cents AS revision_cents
       FROM quotes q JOIN revisions r ON r.id = q.revision_id`,
    );
    expect(quotes.length).toBeGreaterThan(75);
    for (const q of quotes) {
      expect(q.price_cents).toBe(q.revision_cents);
      expect(canonicalJson(q.document)).toBe(q.document_text);
      expect(sha256(q.document_text)).toBe(q.document_sha256);
      const { lines, wholeJob, price, expiresOn } = q.document as {
        lines: { price: { cents: number } }[];
        wholeJob: { price: { cents: number } }[];
        price: { cents: number };
        expiresOn: string;
      };
      const parts = [...lines, ...wholeJob];
      expect(parts.reduce((sum, part) => sum + part.price.cents, 0)).toBe(price.cents);
      expect(expiresOn).toBe(q.expires_on);
    }
    const wrong = await all(
      `SELECT a.id FROM acceptances a JOIN quotes q ON q.id = a.quote_id
       WHERE a.signed_on NOT BETWEEN q.issued_on AND q.expires_on OR a.document_sha256 <> q.document_sha256`,
    );
    expect(wrong).toEqual([]);
    const deposits = await all<{ state: string; price: number; amount: number }>(
      `SELECT p.state, q.price_cents AS price, d.amount_cents AS amount FROM deposit_requests d
       JOIN quotes q ON q.id = d.quote_id JOIN jobs j ON j.id = d.job_id JOIN properties p ON p.id = j.property_id`,
    );
    for (const { state, price, amount } of deposits) {
      const { capCents } = depositCap({ state, contractCents: price });
      expect(amount).toBeLessThanOrEqual(capCents ?? 0);
    }
    expect(new Set(deposits.map((d) => d.state))).toEqual(new Set(["MD", "CA"]));
  });

  test("crews work on workdays, after the right to cancel has lapsed, and for as long as the hours take", async () => {
    const closed = await all<{ on: string; company_id: string }>(
      "SELECT on_day::text AS on, company_id FROM calendar_closures",
    );
    const bookings = await all<{
      company_id: string;
      start_on: string;
      end_on: string;
      crew_days: number;
      size: number;
      hours: string;
      actual: string | null;
      booked_on: string;
      cancel_until: string | null;
      finished_on: string | null;
    }>(
      `SELECT b.company_id, b.start_on::text, b.end_on::text, b.crew_days, w.size, r.hours, b.actual_hours AS actual, b.finished_on::text,
              (b.created_at AT TIME ZONE c.timezone)::date::text AS booked_on, a.cancel_until::text
       FROM bookings b JOIN companies c USING (company_id) JOIN crews w ON w.id = b.crew_id
       JOIN LATERAL (SELECT * FROM acceptances a WHERE a.job_id = b.job_id ORDER BY a.id LIMIT 1) a ON true
       JOIN quotes q ON q.id = a.quote_id JOIN revisions r ON r.id = q.revision_id`,
    );
    expect(bookings).toHaveLength(70);
    for (const b of bookings) {
      const closures = closed.filter((c) => c.company_id === b.company_id).map(({ on }) => ({ on, why: "" }));
      const calendar = { weekdays: [1, 2, 3, 4, 5], closures };
      expect(addWorkdays(b.start_on, 1, calendar)).toBe(b.start_on);
      expect(addWorkdays(b.start_on, b.crew_days, calendar)).toBe(b.end_on);
      const needed = crewDays(b.hours, b.size);
      const taken = b.actual === null ? needed : crewDays(b.actual, b.size);
      expect(b.crew_days).toBe(Math.min(needed, taken));
      expect(b.booked_on > (b.cancel_until ?? "")).toBe(true);
      expect(b.start_on > b.booked_on).toBe(true);
      if (b.finished_on) expect(addWorkdays(b.start_on, taken, calendar)).toBe(b.finished_on);
    }
  });

  test("what is on record lies in the past, in order", async () => {
    const tables = await all<{ name: string }>(
      "SELECT table_name AS name FROM information_schema.columns WHERE table_schema = 'public' AND column_name = 'company_id' AND table_name IN ('jobs', 'leads', 'revisions', 'quotes', 'acceptances', 'payments', 'bookings', 'holds', 'observations', 'promises', 'variances', 'advisories')",
    );
    expect(tables).toHaveLength(12);
    for (const { name } of tables) {
      const ahead = await all(
        `SELECT t.id FROM ${name} t JOIN companies c USING (company_id)
         WHERE (t.created_at AT TIME ZONE c.timezone)::date >= ($1::timestamptz AT TIME ZONE c.timezone)::date`,
        [demo.h.services.now()],
      );
      expect(ahead, name).toEqual([]);
    }
    // A timeline is read in the order of its ids.
    const muddled = await all(
      `SELECT id FROM (SELECT id, at, lag(at) OVER (PARTITION BY company_id, job_id ORDER BY id) AS before
       FROM audit_entries WHERE job_id IS NOT NULL) x WHERE at < before`,
    );
    expect(muddled).toEqual([]);
    const [audited] = await all<{ n: number }>(
      "SELECT count(*)::int AS n FROM audit_entries WHERE job_id IS NOT NULL",
    );
    expect(audited?.n).toBeGreaterThan(1_000);
  });
});

describe("the story it tells", () => {
  test("the head of the waiting list", async () => {
    const owner = await signInAs("heron-point", "owner");
    const { body } = await owner.get("/jobs/counts");
    expect(body).toMatchObject({ waiting: 41, late: 7, crews: 9 });
    expect(body.hazards).toBeGreaterThanOrEqual(5);
    const [company] = demo.companies;
    const weeks = (Date.parse(body.bookedTo) - Date.parse(demo.today(company as Company))) / (7 * 86_400_000);
    expect(weeks).toBeGreaterThan(2.5);
    expect(weeks).toBeLessThan(5);
    const list = (await owner.get("/jobs", { limit: 100 })).body.items;
    expect(list).toHaveLength(41);
    expect(list[0].pinnedWhy).not.toBeNull();
    const calloway = list.find((job: { customerName: string }) => job.customerName === "Ines Calloway");
    expect(calloway).toMatchObject({ stage: "accepted", hazard: "tread loose", daysLate: 26 });
    expect(calloway.next.words).toContain("place a crew");
  });

  test("a site review voided a signature, and the changed quote waits for another", async () => {
    const sales = await signInAs("heron-point", "sales");
    const [row] = (await sales.get("/jobs", { search: "Quist" })).body.items;
    const job = (await sales.get(`/jobs/${row.id}`)).body;
    expect(job).toMatchObject({ stage: "quoted", title: "Porch floor" });
    expect(job.next).toMatchObject({ act: "record_acceptance", owedBy: "customer" });
    expect(job.next.words).toContain("changed quote");
    expect(job.variance).toMatchObject({ material: true, open: true });
    expect(job.variance.delta.cents).toBeLessThan(-100_000);
    expect(job.quotes.map((q: { state: string }) => q.state)).toEqual(["open", "void"]);

    const quote = (await sales.get(`/quotes/${job.quotes[0].id}`)).body;
    const body = {
      signer: "Maribel Quist",
      signedOn: demo.today(demo.companies[0] as Company),
      signedAt: "home",
      documentSha256: quote.documentSha256,
    };
    expect((await sales.post(`/quotes/${quote.id}/acceptance`, body)).status).toBe(201);
    expect((await sales.get(`/jobs/${row.id}`)).body).toMatchObject({
      stage: "accepted",
      variance: { open: false },
    });
  });

  test("a booked job is held, another waits for its materials, and neither may start", async () => {
    const scheduler = await signInAs("heron-point", "scheduler");
    const booked = (await scheduler.get("/jobs", { view: "booked", limit: 100 })).body.items;
    const held = booked.filter((job: { holds: unknown[] }) => job.holds.length > 0);
    const holds = held.flatMap((job: { holds: { hold: string }[] }) => job.holds.map((h) => h.hold)).sort();
    expect(holds).toEqual([
      "customer_not_ready",
      "material_variance_unresolved",
      "materials_on_order",
      "unsigned",
    ]);
    for (const { id } of held) {
      const { booking } = (await scheduler.get(`/jobs/${id}`)).body;
      expect((await scheduler.post(`/bookings/${booking.id}/start`)).status).toBe(409);
    }
  });

  test("doubled customers, deposits in every state, visits ahead, and numbers that go on", async () => {
    const owner = await signInAs("heron-point", "owner");
    const pairs = (await owner.get("/customers/duplicates")).body.items;
    const shared = pairs.flatMap((pair: { shared: string[] }) => pair.shared);
    expect(pairs).toHaveLength(3);
    expect(shared).toEqual(expect.arrayContaining(["phone", "email"]));

    const deposits = (await owner.get("/deposits", { limit: 100 })).body.items;
    const states = new Set(deposits.map((d: { state: string }) => d.state));
    expect(states).toEqual(new Set(["due", "overdue", "paid", "not_asked"]));
    const refunds = await all("SELECT id FROM payments WHERE kind = 'refund'");
    expect(refunds.length).toBeGreaterThanOrEqual(1);

    const senior = await all<{ n: number }>(
      `SELECT count(*)::int AS n FROM visits v JOIN members m ON m.id = v.member_id
       WHERE m.email = 'estimator@heron-point.example' AND v.state = 'scheduled' AND v.kind = 'site_review'`,
    );
    expect(senior[0]?.n).toBeGreaterThanOrEqual(5);

    const [newest] = await all<{ number: string }>(
      "SELECT max(number) AS number FROM jobs WHERE number LIKE 'HP-%'",
    );
    const year = demo.today(demo.companies[0] as Company).slice(2, 4);
    const taken = newest?.number.startsWith(`HP-${year}-`) ? Number(newest.number.slice(6)) : 0;
    const inquiry = {
      words: "Gate does not close.",
      title: "Gate",
      customer: { name: "Somebody New", phone: "410-555-0199" },
      property: { street: "1 Slipknot Lane", city: "Arnold", state: "MD", postalCode: "21012" },
    };
    const created = await owner.post("/leads", inquiry);
    expect(created.status).toBe(201);
    expect(created.body.number).toBe(`HP-${year}-${String(taken + 1).padStart(4, "0")}`);
  });

  test("real hours lean past the estimate for the salesperson who sees what he hopes for", async () => {
    const rows = await all<{ email: string; over: number; n: number }>(
      `SELECT m.email, sum(b.actual_hours)::float8 / sum(r.hours)::float8 AS over, count(*)::int AS n
       FROM bookings b JOIN jobs j ON j.id = b.job_id JOIN members m ON m.id = j.salesperson_id
       JOIN acceptances a ON a.job_id = j.id JOIN quotes q ON q.id = a.quote_id JOIN revisions r ON r.id = q.revision_id
       WHERE b.finished_on IS NOT NULL AND j.number LIKE 'HP-%' GROUP BY m.email`,
    );
    expect(rows).toHaveLength(3);
    const over = (email: string) => rows.find((r) => r.email === `${email}@heron-point.example`)?.over ?? 0;
    for (const { n } of rows) expect(n).toBeGreaterThanOrEqual(8);
    expect(over("sales")).toBeGreaterThan(over("tomas"));
    expect(over("sales")).toBeGreaterThan(1.02);
  });

  test("every page of every job opens", async () => {
    for (const { slug } of demo.companies) {
      const owner = await signInAs(slug, "owner");
      const today = demo.today(demo.companies[0] as Company);
      expect((await owner.get("/crew-sheet", { from: today, days: 28 })).status).toBe(200);
      expect((await owner.get("/price-book")).status).toBe(200);
      const jobs = (await owner.get("/jobs", { view: "all", limit: 200 })).body.items;
      for (const { id, passed } of jobs) {
        const job = await owner.get(`/jobs/${id}`);
        expect(job.status).toBe(200);
        expect((await owner.get(`/jobs/${id}/timeline`)).status).toBe(200);
        expect((await owner.get(`/jobs/${id}/money`)).status).toBe(200);
        const on = passed.map((p: { on: string }) => p.on);
        const { inquiryOn } = job.body;
        expect(on.every((day: string) => day >= inquiryOn)).toBe(true);
        if (job.body.revisions.length > 1) {
          const comparison = (await owner.get(`/jobs/${id}/comparison`)).body;
          const sum = comparison.bridge.reduce(
            (total: number, s: { delta: { cents: number } }) => total + s.delta.cents,
            0,
          );
          expect(sum).toBe(comparison.delta.cents);
        }
      }
    }
  });
});

describe("inventing it again", () => {
  const told = async (h: Harness) => {
    const { rows } = await h.admin.query(
      `SELECT j.number, j.title, c.name, p.street, p.city, p.latitude::text, j.stage, j.inquiry_on::text, j.promised_to::text,
              j.facts ->> 'priceCents' AS price, j.facts ->> 'hours' AS hours, j.facts -> 'passed' AS passed, b.start_on::text,
              b.actual_hours::text, q.number AS quote, q.document_sha256
       FROM jobs j JOIN customers c ON c.id = j.customer_id JOIN properties p ON p.id = j.property_id
       LEFT JOIN bookings b ON b.job_id = j.id LEFT JOIN quotes q ON q.job_id = j.id ORDER BY j.number, q.number`,
    );
    return rows;
  };

  test("gives the same jobs, prices and dates on the same day", { timeout: SLOW }, async () => {
    const [first, second] = [await invent("2027-03-10T15:00:00Z"), await invent("2027-03-10T20:30:00Z")];
    try {
      const jobs = await told(first.h);
      expect(jobs.length).toBeGreaterThan(122);
      expect(await told(second.h)).toEqual(jobs);
      expect(second.logins).toEqual(first.logins);
    } finally {
      await first.close();
      await second.close();
    }
  });

  test("works on a holiday, and on a Sunday night between two dates", {
    timeout: SLOW,
  }, async () => {
    for (const at of ["2027-01-01T15:00:00Z", "2028-05-29T03:30:00Z"]) {
      const other = await invent(at);
      try {
        const { rows } = await other.h.admin.query(
          "SELECT stage, count(*)::int AS n FROM jobs GROUP BY stage ORDER BY stage",
        );
        expect(rows.reduce((sum, r) => sum + r.n, 0)).toBe(122);
        expect(Object.fromEntries(rows.map((r) => [r.stage, r.n]))).toMatchObject({
          inquiry: 10,
          first_pass: 11,
          site_review: 8,
          quoted: 10,
          accepted: 7,
          booked: 15,
          under_way: 6,
          finished: 49,
          closed: 6,
        });
      } finally {
        await other.close();
      }
    }
  });
});
