import type { PriceBook, PriceBookItem } from "@ledgerboard/contracts/price-book";
import { COMPONENTS } from "@ledgerboard/contracts/vocabulary";
import type { Response } from "supertest";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { BOOK_FROM, companyWithBook, priceByHand } from "./estimating.fixture.ts";

let h: Harness;
let c: TestCompany;
beforeAll(async () => {
  h = await startHarness();
  h.setNow("2026-11-25T15:00:00Z");
});
afterAll(() => h.close());

const read = async (who = c.owner): Promise<PriceBook> => (await who.get("/price-book")).body as PriceBook;
const find = (book: PriceBook, code: string): PriceBookItem => {
  const item = book.items.find((i) => i.code === code);
  if (!item) throw new Error(`no item ${code}`);
  return item;
};
const gate = {
  code: "GATE-REPAIR",
  component: "gate",
  action: "repair",
  description: "Rehang a gate",
  unit: "each",
  materialUnitCents: "1250.5",
  wasteBp: 250,
  hoursPerUnit: "0.75",
  laborRateCode: "carpenter",
};

describe("the starting price book", () => {
  beforeAll(async () => {
    c = await companyWithBook(h);
  });

  it("covers every component but those priced with another, and says that its figures are placeholders", async () => {
    const book = await read();
    expect(book).toMatchObject({
      effectiveFrom: BOOK_FROM,
      overheadBp: 1500,
      marginBp: 3000,
      materialTaxBp: 600,
    });
    expect(book.name).toContain("placeholders");
    expect(book.laborRates.map((r) => r.code)).toEqual(["carpenter", "finisher", "helper", "lead-carpenter"]);
    expect(book.items.length).toBeGreaterThanOrEqual(35);
    // Stain is an action on decking and rails here, not work on a finish that is there already.
    const covered = new Set<string>(book.items.map((i) => i.component));
    expect(COMPONENTS.filter((component) => !covered.has(component))).toEqual(["finish"]);
    expect(book.items.filter((i) => i.action === "keep")).toEqual([]);
  });

  it("prices one unit of each item at the book's terms", async () => {
    const book = await read();
    for (const item of book.items) {
      const rate = book.laborRates.find((r) => r.code === item.laborRateCode);
      const rates = {
        ...item,
        laborHourlyCents: rate?.hourly.cents ?? 0,
        laborBurdenBp: rate?.burdenBp ?? 0,
      };
      const line = { quantity: "1", by: "us", rates } as unknown as Parameters<typeof priceByHand>[0];
      expect([item.code, item.unitPrice.cents]).toEqual([item.code, priceByHand(line, book)]);
      expect(item.unitPrice.cents).toBeGreaterThan(0);
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

  it("is the newest book that has begun", async () => {
    const other = await companyWithBook(h);
    await h.admin.query(
      `INSERT INTO price_books (company_id, name, effective_from, overhead_bp, margin_bp)
       VALUES ($1, 'Tomorrow', '2026-11-26', 0, 0), ($1, 'Today', '2026-11-25', 0, 0)`,
      [other.companyId],
    );
    expect(await read(other.owner)).toMatchObject({ name: "Today", items: [], laborRates: [] });
  });
});

describe("changing it", () => {
  beforeAll(async () => {
    c = await companyWithBook(h);
  });

  it("changes terms for whoever saw the newest version, and tells the other what is there now", async () => {
    const book = await read();
    const changed = await c.estimator.patch("/price-book", { marginBp: 3500 }, book.version);
    expect(changed.status).toBe(200);
    expect(changed.body).toMatchObject({ marginBp: 3500, overheadBp: 1500 });
    expect(changed.headers.etag).toBe(`"${changed.body.version}"`);
    expect(find(changed.body, "JOIST-SISTER").unitPrice.cents).toBeGreaterThan(
      find(book, "JOIST-SISTER").unitPrice.cents,
    );
    const stale = await c.owner.patch("/price-book", { marginBp: 2000 }, book.version);
    expect(stale.status).toBe(412);
    expect(stale.body.current).toMatchObject({ marginBp: 3500, version: changed.body.version });
    expect((await read()).marginBp).toBe(3500);
  });

  it("adds an item once however often it is sent, prices it, and refuses its code a second time", async () => {
    const key = "add-gate-repair-0001";
    const first = await c.owner.post("/price-book/items", gate, { key });
    const again = await c.owner.post("/price-book/items", gate, { key });
    expect(first.status).toBe(201);
    expect(first.body).toMatchObject({ ...gate, retired: false, version: 1 });
    expect(again.body).toEqual(first.body);
    expect(again.headers["idempotent-replayed"]).toBe("true");
    expect(find(await read(), "GATE-REPAIR")).toEqual(first.body);
    const clash = await c.owner.post("/price-book/items", gate);
    expect([clash.status, clash.body.detail]).toEqual([409, "An item with this code exists."]);
  });

  it("changes, retires and brings back an item", async () => {
    const item = find(await read(), "TREAD-REPLACE");
    const path = `/price-book/items/${item.id}`;
    const dearer = await c.owner.patch(
      path,
      { materialUnitCents: "2400", laborRateCode: "helper" },
      item.version,
    );
    expect(dearer.body).toMatchObject({ materialUnitCents: "2400", laborRateCode: "helper" });
    const stale = await c.owner.patch(path, { retired: true }, item.version);
    expect([stale.status, stale.body.current]).toEqual([412, dearer.body]);
    const retired = await c.owner.patch(path, { retired: true }, dearer.body.version);
    expect(retired.body.retired).toBe(true);
    const back = await c.owner.patch(path, { retired: false }, retired.body.version);
    expect(back.body.retired).toBe(false);
    const { rows } = await h.admin.query(
      "SELECT words FROM audit_entries WHERE company_id = $1 AND entity_id = $2 ORDER BY id",
      [c.companyId, item.id],
    );
    expect(rows.map((r) => r.words)).toEqual([
      "Price book: TREAD-REPLACE changed.",
      "Price book: TREAD-REPLACE retired.",
      "Price book: TREAD-REPLACE brought back.",
    ]);
  });

  it("adds and changes labor rates; the items that use one follow", async () => {
    const added = await c.owner.post("/price-book/labor-rates", {
      code: "mason",
      name: "Mason",
      hourly: { cents: 3900, currency: "USD" },
      burdenBp: 3100,
    });
    expect(added.body).toMatchObject({ code: "mason", hourly: { cents: 3900 }, burdenBp: 3100, version: 1 });
    const book = await read();
    const helper = book.laborRates.find((r) => r.code === "helper");
    const dearer = { hourly: { cents: 4400, currency: "USD" } };
    const path = `/price-book/labor-rates/${helper?.id}`;
    expect((await c.owner.patch(path, dearer, 1)).body).toMatchObject({
      hourly: { cents: 4400 },
      version: 2,
    });
    expect((await c.owner.patch(path, dearer, 1)).status).toBe(412);
    const after = await read();
    expect(find(after, "LATTICE-REPLACE").unitPrice.cents).toBeGreaterThan(
      find(book, "LATTICE-REPLACE").unitPrice.cents,
    );
    expect(find(after, "JOIST-SISTER").unitPrice).toEqual(find(book, "JOIST-SISTER").unitPrice);
  });

  it.each([
    ["a negative cost", { materialUnitCents: "-1" }, "body.materialUnitCents"],
    ["a cost beyond reason", { materialUnitCents: "5000001" }, "body.materialUnitCents"],
    ["five decimals", { hoursPerUnit: "0.12345" }, "body.hoursPerUnit"],
    ["an unknown component", { component: "roof" }, "body.component"],
    ["a lower-case code", { code: "gate" }, "body.code"],
    ["a control character", { description: "Rehang\u0000 a gate" }, "body.description"],
    ["no such labor rate", { laborRateCode: "plumber" }, "body.laborRateCode"],
  ])("refuses an item with %s", async (_name, change, path) => {
    const answer = await c.owner.post("/price-book/items", { ...gate, code: "GATE-OTHER", ...change });
    expect([answer.status, answer.body.errors?.[0]?.path]).toEqual([422, path]);
    expect((await read()).items.some((i) => i.code === "GATE-OTHER")).toBe(false);
  });

  it("refuses figures, each fair alone, that together price a unit beyond all reason", async () => {
    const terms = { marginBp: 9000, overheadBp: 20_000 };
    const specialist = {
      code: "specialist",
      name: "Specialist",
      hourly: { cents: 1, currency: "USD" },
      burdenBp: 20_000,
    };
    const dear = { ...gate, code: "GATE-DEAR", hoursPerUnit: "1000", laborRateCode: "specialist" };
    const thousand = { hourly: { cents: 100_000, currency: "USD" } };
    const arrange = async () => {
      const who = (await companyWithBook(h)).owner;
      const rate = (await who.post("/price-book/labor-rates", specialist)).body;
      return { who, rate: (body: object) => who.patch(`/price-book/labor-rates/${rate.id}`, body, 1) };
    };
    const faulty = ({ status, body }: Response) => [status, body.errors?.[0]?.path];

    // Terms last.
    let { who, rate } = await arrange();
    expect((await rate(thousand)).status).toBe(200);
    expect((await who.post("/price-book/items", dear)).status).toBe(201);
    const book = await read(who);
    expect(faulty(await who.patch("/price-book", terms, book.version))).toEqual([422, "body.marginBp"]);
    expect(await read(who)).toEqual(book);
    // The item last.
    ({ who, rate } = await arrange());
    await who.patch("/price-book", terms, 1);
    expect((await rate(thousand)).status).toBe(200);
    expect(faulty(await who.post("/price-book/items", dear))).toEqual([422, "body.materialUnitCents"]);
    // The labor rate last.
    ({ who, rate } = await arrange());
    await who.patch("/price-book", terms, 1);
    expect((await who.post("/price-book/items", dear)).status).toBe(201);
    expect(faulty(await rate(thousand))).toEqual([422, "body.hourly"]);
    expect((await who.get("/price-book")).status).toBe(200);
  });

  it("refuses a change that changes nothing", async () => {
    const book = await read();
    expect((await c.owner.patch("/price-book", {}, book.version)).status).toBe(422);
    const item = find(book, "JOIST-SISTER");
    expect((await c.owner.patch(`/price-book/items/${item.id}`, {}, item.version)).status).toBe(422);
  });

  it("keeps its items from other companies and its figures from those who may not change them", async () => {
    const other = await companyWithBook(h);
    const item = find(await read(), "JOIST-SISTER");
    const foreign = await other.owner.patch(`/price-book/items/${item.id}`, { wasteBp: 0 }, item.version);
    expect(foreign.status).toBe(404);
    const book = await read();
    const rate = book.laborRates[0];
    expect((await other.owner.patch(`/price-book/labor-rates/${rate?.id}`, { burdenBp: 0 }, 1)).status).toBe(
      404,
    );
    expect((await c.sales.patch("/price-book", { marginBp: 0 }, book.version)).status).toBe(403);
    expect((await c.lead_hand.get("/price-book")).status).toBe(403);
    expect(await read()).toEqual(book);
  });
});
