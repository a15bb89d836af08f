import { ACTIONS, COMPONENTS } from "@ledgerboard/contracts/vocabulary";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { jobWithZones, start } from "./estimating.fixture.ts";
import {
  assemblyOf,
  BOOK_FROM,
  companyWithStarter,
  materialOf,
  readBook,
  unitPriceByHand,
  usd,
} from "./price-book.fixture.ts";

let h: Harness;
let c: TestCompany;
beforeAll(async () => {
  h = await startHarness();
  h.setNow("2026-11-25T15:00:00Z");
});
afterAll(() => h.close());

describe("the starting price book", () => {
  beforeAll(async () => {
    c = await companyWithStarter(h);
  });

  it("covers every component and every action but to keep, and says that its figures are placeholders", async () => {
    const book = await readBook(c.owner);
    expect(book).toMatchObject({
      effectiveFrom: BOOK_FROM,
      standing: "in_effect",
      overheadBp: 1500,
      marginBp: 3000,
      materialTaxBp: 600,
      minimumCharge: usd(0),
      roundUpTo: usd(0),
      laborCorrelationBp: 3000,
    });
    expect(book.name).toContain("placeholders");
    expect(book.laborRates.map((r) => r.code)).toEqual(["carpenter", "finisher", "helper", "lead-carpenter"]);
    expect(book.assemblies.length).toBeGreaterThanOrEqual(110);
    expect(book.materials.length).toBeGreaterThanOrEqual(60);
    const covered = new Set(
      book.assemblies.flatMap((a) => [a.component, a.action, `${a.component} ${a.action}`]),
    );
    expect([...COMPONENTS, ...ACTIONS].filter((word) => !covered.has(word))).toEqual(["keep"]);
    // What can be worn can be replaced or renewed, cleared away, and looked into or cleaned.
    const without = (action: string) =>
      COMPONENTS.filter((component) => !covered.has(`${component} ${action}`));
    expect(without("replace")).toEqual([]);
    expect(without("add")).toEqual(["band"]);
    expect(without("remove")).toEqual(["band"]);
    expect(book.assemblies.filter((a) => !a.note.includes("Placeholder")).map((a) => a.code)).toEqual([]);
  });

  it("prices one unit of each assembly at the book's terms", async () => {
    const book = await readBook(c.owner);
    const byHand = book.assemblies.map((a) => [a.code, unitPriceByHand(book, a)]);
    expect(book.assemblies.map((a) => [a.code, a.unitPrice.cents])).toEqual(byHand);
    expect(book.assemblies.filter((a) => a.unitPrice.cents <= 0)).toEqual([]);
  });

  it("has a stainless twin for every fastener, hanger and connector, and takes it near salt", async () => {
    const book = await readBook(c.owner);
    const metal =
      /^(SCREW|NAIL|BOLT|HANGER|ANGLE|BRACKET|CONNECTOR|BASE|CAP-POST|ANCHOR|TIE|STRAP|HINGE|LATCH)/;
    const uses = book.assemblies.flatMap((a) => a.recipe.materials);
    const plain = uses.filter((m) => metal.test(m.code) && !m.code.endsWith("-SS"));
    expect(plain.length).toBeGreaterThan(80);
    for (const { code, inSalt } of plain) {
      expect([code, inSalt]).toEqual([code, `${code}-SS`]);
      const [cheap, dear] = [materialOf(book, code), materialOf(book, `${code}-SS`)];
      expect(dear.name).toContain("stainless");
      expect([code, dear.unit, dear.packs.map((p) => p.size)]).toEqual([
        code,
        cheap.unit,
        cheap.packs.map((p) => p.size),
      ]);
    }
    const used = new Set(uses.flatMap((m) => [m.code, m.inSalt]));
    expect(book.materials.filter((m) => !used.has(m.code)).map((m) => m.code)).toEqual([]);
  });

  it("lays boards and drives screws as published guidance counts them", async () => {
    const { recipe } = assemblyOf(await readBook(c.owner), "DECK-REPLACE");
    const [boards, screws] = recipe.materials;
    // Boards 5-1/2 in wide (PS 20), gaps 1/8 in (trade practice): 12 / (width + gap) ft of board for a sq ft, before waste.
    expect([boards?.code, Number(boards?.perUnit)]).toEqual([
      "PT-54X6",
      expect.closeTo(12 / (5.5 + 0.125), 3),
    ]);
    // Two screws at each bearing (IRC 2018 R507.7, from memory), joists 16 in apart as R507.7 allows 5/4 boards at most:
    // 100 x 12/(width + gap) x 12/spacing x 2 = 320 for 100 sq ft.
    const hundred = ((100 * 12) / (5.5 + 0.125)) * (12 / 16) * 2;
    expect(hundred).toBeCloseTo(320, 6);
    expect([screws?.code, Number(screws?.perUnit) * 100]).toEqual(["SCREW-DECK", expect.closeTo(hundred, 6)]);
    // Waste of straight boards, 5 to 10 per cent: trade practice, no source.
    expect(boards?.wasteBp).toBeGreaterThanOrEqual(500);
    expect(boards?.wasteBp).toBeLessThanOrEqual(1000);
    // Counted board by board, 16 ft boards over 12 ft take 26 x 13 crossings of two screws. An even rate knows nothing
    // of the one more joist line than bays, and must fall short of it, though by no more than waste and edge come to.
    const counted = 2 * Math.ceil((144 + 0.125) / 5.625) * (Math.floor(192 / 16) + 1);
    const ours = 192 * Number(screws?.perUnit) * (1 + (screws?.wasteBp ?? 0) / 10_000);
    expect(counted).toBe(676);
    expect(ours / counted).toBeGreaterThan(0.9);
    expect(ours / counted).toBeLessThanOrEqual(1);
  });

  it("sells longer boards dearer by the foot, and more in a box cheaper apiece", async () => {
    const book = await readBook(c.owner);
    const boards = book.materials.filter((m) => m.section !== null);
    expect(boards.length).toBeGreaterThanOrEqual(12);
    for (const { code, packs } of boards) {
      expect([code, packs.map((p) => p.size)]).toEqual([code, ["8", "10", "12", "14", "16", "20"]]);
      const foot = packs.map((p) => p.price.cents / Number(p.size));
      expect([code, [...foot].sort((a, b) => a - b)]).toEqual([code, foot]);
    }
    for (const { code, packs, section } of book.materials) {
      if (section !== null) continue;
      const apiece = packs.map((p) => p.price.cents / Number(p.size));
      expect([code, [...apiece].sort((a, b) => b - a)]).toEqual([code, apiece]);
    }
  });

  it("answers 404 to a company without a book, and to one whose only book is still to come", async () => {
    const other = await h.company();
    expect((await other.owner.get("/price-book")).status).toBe(404);
    await h.admin.query(
      `INSERT INTO price_books (company_id, name, effective_from, overhead_bp, margin_bp) VALUES ($1, 'Next year', '2027-01-01', 0, 0)`,
      [other.companyId],
    );
    expect((await other.owner.get("/price-book")).body).toMatchObject({
      status: 404,
      detail: "No price book is in effect today.",
    });
  });
});

describe("books by their day", () => {
  beforeAll(async () => {
    c = await companyWithStarter(h);
  });

  it("lists them newest first and tells past, in effect and to come apart", async () => {
    const other = await companyWithStarter(h);
    await h.admin.query(
      `INSERT INTO price_books (company_id, name, effective_from, overhead_bp, margin_bp)
       VALUES ($1, 'Tomorrow', '2026-11-26', 0, 0), ($1, 'Today', '2026-11-25', 0, 0)`,
      [other.companyId],
    );
    const { books } = (await other.estimator.get("/price-books")).body;
    expect(books.map((b: { name: string; standing: string }) => [b.name, b.standing])).toEqual([
      ["Tomorrow", "to_come"],
      ["Today", "in_effect"],
      [expect.stringContaining("placeholders"), "past"],
    ]);
    expect(await readBook(other.owner)).toMatchObject({ name: "Today", assemblies: [], materials: [] });
    expect(await readBook(other.sales, books[2].id)).toMatchObject({
      standing: "past",
      effectiveFrom: BOOK_FROM,
    });
    expect((await other.lead_hand.get("/price-books")).status).toBe(403);
    expect((await c.owner.get("/price-book", { bookId: books[0].id })).status).toBe(404);
  });

  it("starts one from the newest with all that is in it, once however often it is sent", async () => {
    const source = await readBook(c.owner);
    const body = { name: "Prices of 2027", effectiveFrom: "2027-01-04" };
    const key = "start-book-2027-0001";
    const started = await c.owner.post("/price-books", body, { key });
    expect(started.status).toBe(201);
    expect((await c.owner.post("/price-books", body, { key })).body).toEqual(started.body);
    const copy = await readBook(c.owner, started.body.id);
    expect(copy).toMatchObject({ ...body, standing: "to_come", overheadBp: source.overheadBp, version: 1 });
    const bare = (rows: { id: string; version: number }[]) =>
      rows.map(({ id: _id, version: _v, ...row }) => row);
    for (const list of ["materials", "laborRates", "assemblies"] as const) {
      expect(bare(copy[list])).toEqual(bare(source[list]));
      const ids = new Set(source[list].map((row) => row.id));
      expect(copy[list].filter((row) => ids.has(row.id))).toEqual([]);
    }
    // Today's prices are what they were.
    expect(await readBook(c.owner)).toEqual(source);
    // A change of the copy changes nothing else, and the next copy begins from it.
    const terms = { minimumCharge: usd(35_000), roundUpTo: usd(500), laborCorrelationBp: 2500 };
    expect((await c.owner.patch(`/price-books/${copy.id}`, terms, 1)).body).toMatchObject(terms);
    const next = await c.owner.post("/price-books", { name: "Prices of 2028", effectiveFrom: "2028-01-03" });
    expect(await readBook(c.owner, next.body.id)).toMatchObject(terms);
    expect(await readBook(c.owner)).toEqual(source);
  });

  it.each([
    ["today", "2026-11-25", "Choose a day after today; today's prices are already in use."],
    ["a day gone by", "2026-01-01", "Choose a day after today; today's prices are already in use."],
    [
      "a day that is taken",
      "2027-01-04",
      "Prices of 2027 takes effect on that day; choose another or change it.",
    ],
    ["no day", "2026-02-30", "A day is written like 2026-11-30."],
  ])("starts none on %s", async (_what, effectiveFrom, message) => {
    const before = (await c.owner.get("/price-books")).body;
    const answer = await c.owner.post("/price-books", { name: "Twice", effectiveFrom });
    expect([answer.status, answer.body.errors]).toEqual([422, [{ path: "body.effectiveFrom", message }]]);
    expect((await c.owner.get("/price-books")).body).toEqual(before);
  });

  it("gives a day to one of two who start a book on it at once", async () => {
    const body = { name: "Race", effectiveFrom: "2029-01-08" };
    const answers = await Promise.all([1, 2, 3].map(() => c.owner.post("/price-books", body)));
    expect(answers.map((a) => a.status).sort()).toEqual([201, 422, 422]);
  });

  it("throws away only what has not taken effect, with all that is in it", async () => {
    const { body } = await c.owner.post("/price-books", { name: "A slip", effectiveFrom: "2030-01-07" });
    expect((await c.sales.delete(`/price-books/${body.id}`)).status).toBe(403);
    const gone = await c.estimator.delete(`/price-books/${body.id}`);
    expect([gone.status, gone.body]).toEqual([200, { done: true }]);
    expect((await c.owner.get("/price-book", { bookId: body.id })).status).toBe(404);
    expect((await c.owner.delete(`/price-books/${body.id}`)).status).toBe(404);
    for (const table of ["materials", "labor_rates", "assemblies"]) {
      const { rows } = await h.admin.query(`SELECT 1 FROM ${table} WHERE price_book_id = $1`, [body.id]);
      expect([table, rows]).toEqual([table, []]);
    }
    const now = await readBook(c.owner);
    const kept = await c.owner.delete(`/price-books/${now.id}`);
    expect([kept.status, kept.body.detail]).toEqual([
      409,
      "Only a price book that has not taken effect can be thrown away; this one has been priced with.",
    ]);
    expect(await readBook(c.owner)).toEqual(now);
  });

  it("keeps a book to come that a revision was priced with", async () => {
    const other = await companyWithStarter(h);
    h.setNow("2027-03-01T15:00:00Z");
    await h.admin.query("UPDATE price_books SET effective_from = '2027-02-01' WHERE company_id = $1", [
      other.companyId,
    ]);
    const { rows } = await h.admin.query("SELECT id FROM price_books WHERE company_id = $1", [
      other.companyId,
    ]);
    const { jobId } = await jobWithZones(h, other);
    await start(other.sales, jobId, "first_pass");
    h.setNow("2026-11-25T15:00:00Z");
    const refused = await other.owner.delete(`/price-books/${rows[0].id}`);
    expect([refused.status, refused.body.detail]).toEqual([
      409,
      "An estimate was priced with this price book, so it has to stay.",
    ]);
  });

  it("leaves a past book as it is, in all its parts", async () => {
    const other = await companyWithStarter(h);
    const past = await readBook(other.owner);
    await other.owner.post("/price-books", { name: "Winter prices", effectiveFrom: "2026-12-01" });
    h.setNow("2026-12-02T15:00:00Z");
    const { code: _code, ...work } = { ...past.assemblies[0], code: "" };
    const why =
      "This price book is past: Winter prices took its place on 1 Dec 2026. Change that one, or start a new one.";
    const tries = [
      other.owner.patch(`/price-books/${past.id}`, { marginBp: 1000 }, past.version),
      other.owner.post(`/price-books/${past.id}/materials`, {
        code: "NEW",
        name: "New",
        unit: "each",
        section: null,
        packs: [],
        wholePacks: false,
      }),
      other.owner.patch(`/materials/${past.materials[0]?.id}`, { name: "Renamed" }, 1),
      other.owner.patch(`/assemblies/${work.id}`, { retired: true }, 1),
      other.owner.patch(`/labor-rates/${past.laborRates[0]?.id}`, { burdenBp: 0 }, 1),
      other.owner.post(`/price-books/${past.id}/import`, {
        list: "materials",
        csv: "code\r\n",
        dryRun: true,
      }),
    ];
    for (const answer of await Promise.all(tries))
      expect([answer.status, answer.body.detail]).toEqual([409, why]);
    expect(await readBook(other.owner, past.id)).toEqual({ ...past, standing: "past" });
    h.setNow("2026-11-25T15:00:00Z");
  });
});

describe("terms", () => {
  beforeAll(async () => {
    c = await companyWithStarter(h);
  });

  it("change for whoever saw the newest version, and the other is told what is there now", async () => {
    const book = await readBook(c.owner);
    const path = `/price-books/${book.id}`;
    const changed = await c.estimator.patch(
      path,
      { marginBp: 3500, minimumCharge: usd(40_000) },
      book.version,
    );
    expect(changed.status).toBe(200);
    expect(changed.body).toMatchObject({ marginBp: 3500, overheadBp: 1500, minimumCharge: usd(40_000) });
    expect(changed.headers.etag).toBe(`"${changed.body.version}"`);
    // A smallest charge is of the job; the price of a unit does not know it.
    const sister = assemblyOf(changed.body, "JOIST-SISTER");
    expect(sister.unitPrice.cents).toBe(unitPriceByHand(changed.body, sister));
    expect(sister.unitPrice.cents).toBeGreaterThan(assemblyOf(book, "JOIST-SISTER").unitPrice.cents);
    const stale = await c.owner.patch(path, { marginBp: 2000 }, book.version);
    expect(stale.status).toBe(412);
    expect(stale.body.current).toMatchObject({ marginBp: 3500, version: changed.body.version });
    expect((await readBook(c.owner)).marginBp).toBe(3500);
    const { rows } = await h.admin.query(
      "SELECT words FROM audit_entries WHERE company_id = $1 AND action = 'price_book.changed'",
      [c.companyId],
    );
    expect(rows).toEqual([{ words: "Price book: margin, minimum charge changed." }]);
  });

  it("are refused where they change nothing, are no terms, or come from somebody who may not", async () => {
    const book = await readBook(c.owner);
    const path = `/price-books/${book.id}`;
    for (const body of [
      {},
      { marginBp: 9001 },
      { overheadBp: -1 },
      { roundUpTo: usd(-1) },
      { laborCorrelationBp: 10_001 },
    ]) {
      expect([body, (await c.owner.patch(path, body, book.version)).status]).toEqual([body, 422]);
    }
    expect((await c.sales.patch(path, { marginBp: 0 }, book.version)).status).toBe(403);
    const other = await companyWithStarter(h);
    expect((await other.owner.patch(path, { marginBp: 0 }, book.version)).status).toBe(404);
    expect((await c.lead_hand.get("/price-book")).status).toBe(403);
    expect(await readBook(c.owner)).toEqual(book);
  });
});
