import type { estimates, Output } from "@ledgerboard/contracts";
import type { PriceBook } from "@ledgerboard/contracts/price-book";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { checksums, taken, usd } from "../support/fixtures.ts";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { timelineOf } from "../support/priced-job.ts";
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

type Refresh = Output<typeof estimates.refreshPrices>;

/** A draft first pass brought to the prices of the day, only when somebody asks for it. */
let h: Harness;
let c: TestCompany;
let job: Awaited<ReturnType<typeof jobWithZones>>;
let id: string;
let book: PriceBook;
beforeAll(async () => {
  h = await startHarness();
});
afterAll(() => h.close());
beforeEach(async () => {
  h.setNow("2026-11-25T15:00:00Z");
  c = await companyWithBook(h);
  job = await jobWithZones(h, c);
  id = await start(c.sales, job.jobId, "first_pass");
  await add(c.sales, id, work("DECK-REPLACE", job.deckId, "200"));
  await add(c.sales, id, work("JOIST-SISTER", job.deckId, "4"));
  book = (await c.owner.get("/price-book")).body;
});

const ask = async (dryRun: boolean, key?: null): Promise<Refresh> =>
  taken(await c.sales.post(`/revisions/${id}/prices`, { dryRun }, key === null ? { key } : {}));
const reprice = async (code: string, cents: number): Promise<void> => {
  const material = book.materials.find((m) => m.code === code);
  const body = { packs: [{ size: "1", price: usd(cents) }] };
  taken(await c.owner.patch(`/materials/${material?.id}`, body, material?.version ?? 0));
};
const retire = async (code: string): Promise<void> => {
  const assembly = book.assemblies.find((a) => a.code === code);
  taken(await c.owner.patch(`/assemblies/${assembly?.id}`, { retired: true }, assembly?.version ?? 0));
};
const sum = ({ bridge }: Refresh): number => bridge.reduce((all, s) => all + s.delta.cents, 0);
const newer = async () => (await readRevision(c.sales, id)).newerPrices;

describe("prices that have moved", () => {
  it("are told, and gone once the draft is brought to them", async () => {
    expect(await newer()).toBeNull();
    await reprice("M-DECK-REPLACE", 500);
    const { id: bookId, name, effectiveFrom } = book;
    expect(await newer()).toEqual({ bookId, name, effectiveFrom });
    await reprice2("M-DECK-REPLACE", 420);
    expect(await newer()).toBeNull();
    await reprice2("M-DECK-REPLACE", 500);
    await ask(false);
    expect(await newer()).toBeNull();
  });

  it("are shown by a dry run that changes nothing at all", async () => {
    await reprice("M-DECK-REPLACE", 500);
    const before = [await checksums(h, c.companyId), await readRevision(c.sales, id)];
    const shown = await ask(true, null);
    // On paper: 200 sq ft at $5.00 with 10% waste are $1,100, tax $66, labor $807.84 as before, 15% over $296.08,
    // at a 30% margin $3,242.74. The joists stay at $650.83.
    expect(shown).toMatchObject({
      applied: false,
      book: { id: book.id },
      from: usd(293_624 + 65_083),
      to: usd(324_274 + 65_083),
      kept: [],
    });
    const [deck] = (await readRevision(c.sales, id)).lines;
    expect(shown.lines).toEqual([
      {
        lineId: deck?.id,
        words: "Lower deck: decking, replace, 200 sq ft",
        assemblyCode: "DECK-REPLACE",
        before: usd(293_624),
        after: usd(324_274),
      },
    ]);
    expect(sum(shown)).toBe(324_274 - 293_624);
    expect(shown.bridge.filter((s) => s.delta.cents !== 0).map((s) => s.step)).toEqual(["rate"]);
    expect([await checksums(h, c.companyId), await readRevision(c.sales, id)]).toEqual(before);
  });

  it("are taken on request, once for one key, and said in the timeline; other lines keep their version", async () => {
    await reprice("M-DECK-REPLACE", 500);
    const shown = await ask(true);
    const joists = (await readRevision(c.sales, id)).lines[1];
    expect((await c.sales.post(`/revisions/${id}/prices`, { dryRun: false }, { key: null })).status).toBe(
      400,
    );
    const key = "refresh-once-for-this-key";
    const send = () => c.sales.post(`/revisions/${id}/prices`, { dryRun: false }, { key });
    const [first, again] = [await send(), await send()];
    expect(first.body).toEqual({ ...shown, applied: true });
    expect(again.body).toEqual(first.body);
    const now = await readRevision(c.sales, id);
    expect(now.totals.price).toEqual(shown.to);
    expect(now.lines[0]?.rates?.materials[0]?.packs).toEqual([{ size: "1", cents: 500 }]);
    expect(now.lines[1]).toEqual(joists);
    for (const line of now.lines) expect(line.price.price.cents).toBe(priceByHand(line, now.terms));
    const words = (await timelineOf(h, job.jobId)).filter((w) => w.includes("brought to"));
    expect(words).toEqual([
      `First pass (revision 1) brought to the prices of ${book.name}: $3,587.07, now $3,893.57.`,
    ]);
  });
});

/** As reprice, of a material changed before. */
async function reprice2(code: string, cents: number): Promise<void> {
  book = (await c.owner.get("/price-book")).body;
  await reprice(code, cents);
}

describe("what a line keeps", () => {
  it("is its rates where its assembly is retired, with the reason", async () => {
    await reprice("M-JOIST-SISTER", 9000);
    await retire("JOIST-SISTER");
    const shown = await ask(false);
    const joists = (await readRevision(c.sales, id)).lines[1];
    expect(shown.kept).toEqual([
      {
        lineId: joists?.id,
        words: "Lower deck: joist, sister, 4 each",
        why: "The price book in effect has no assembly JOIST-SISTER, or it is retired.",
      },
    ]);
    expect([shown.lines, sum(shown), joists?.price.price]).toEqual([[], 0, usd(65_083)]);
    expect(await newer()).toBeNull();
  });

  it("is its rates where the assembly has become other work", async () => {
    const assembly = book.assemblies.find((a) => a.code === "JOIST-SISTER");
    const body = { action: "reinforce", recipe: { ...assembly?.recipe, disposalUnitCents: "500" } };
    taken(await c.owner.patch(`/assemblies/${assembly?.id}`, body, assembly?.version ?? 0));
    const shown = await ask(false);
    expect(shown.kept.map((k) => k.why)).toEqual(["JOIST-SISTER is now for other work."]);
    expect((await readRevision(c.sales, id)).lines[1]?.price.price).toEqual(usd(65_083));
    // Asking again would change nothing, so there is nothing to tell.
    expect(await newer()).toBeNull();
  });

  it("is nothing for a line that carries no price", async () => {
    const kept = { zoneId: job.stairId, component: "stringer", action: "keep", quantity: "3", unit: "each" };
    await add(c.sales, id, kept);
    expect((await ask(false)).kept).toEqual([]);
  });
});

describe("a newer book", () => {
  const nextYear = async (terms: object): Promise<string> => {
    const { id: next } = taken(
      await c.owner.post("/price-books", { name: "Next year", effectiveFrom: "2027-01-04" }),
    );
    const { version } = taken(await c.owner.get("/price-book", { bookId: next }));
    taken(await c.owner.patch(`/price-books/${next}`, terms, version));
    return next;
  };

  it("is taken with its terms on the day it is in effect, not before", async () => {
    const next = await nextYear({ overheadBp: 2000, marginBp: 3500 });
    expect(await newer()).toBeNull();
    h.setNow("2027-01-04T15:00:00Z");
    expect(await newer()).toEqual({ bookId: next, name: "Next year", effectiveFrom: "2027-01-04" });
    const shown = await ask(false);
    const now = await readRevision(c.sales, id);
    expect(now).toMatchObject({
      priceBookId: next,
      terms: { overheadBp: 2000, marginBp: 3500 },
      newerPrices: null,
    });
    for (const line of now.lines) expect(line.price.price.cents).toBe(priceByHand(line, now.terms));
    expect(shown.bridge.filter((s) => s.delta.cents !== 0).map((s) => s.step)).toEqual(["overhead_and_tax"]);
    expect(sum(shown)).toBe(shown.to.cents - shown.from.cents);
    expect(shown.to).toEqual(now.totals.price);
  });

  it("leaves a margin that was set by hand", async () => {
    await nextYear({ overheadBp: 2000, marginBp: 3500 });
    const { version } = await readRevision(c.sales, id);
    taken(await c.estimator.patch(`/revisions/${id}`, { marginBp: 2500 }, version));
    h.setNow("2027-01-04T15:00:00Z");
    await ask(false);
    expect((await readRevision(c.sales, id)).terms).toMatchObject({ overheadBp: 2000, marginBp: 2500 });
  });
});

describe("it is refused", () => {
  it("for a site review and for what is issued, and nothing is told of them", async () => {
    await issue(c.sales, id);
    await reprice("M-DECK-REPLACE", 500);
    expect(await newer()).toBeNull();
    const late = await c.sales.post(`/revisions/${id}/prices`, { dryRun: true });
    expect([late.status, late.body.detail]).toEqual([
      409,
      "First pass (revision 1) is issued and stays as it is. Start a site review to change the scope.",
    ]);
    id = await start(c.estimator, job.jobId, "site_review");
    expect(await newer()).toBeNull();
    const review = await c.estimator.post(`/revisions/${id}/prices`, { dryRun: false });
    expect([review.status, review.body.detail]).toEqual([
      409,
      "A site review keeps the prices of what it reviews, so that a line nobody touches keeps its price.",
    ]);
  });

  it("to those who may not estimate, to another company, and without saying which", async () => {
    const other = await companyWithBook(h);
    for (const [who, status] of [
      [c.scheduler, 403],
      [c.lead_hand, 403],
      [other.owner, 404],
    ] as const) {
      expect((await who.post(`/revisions/${id}/prices`, { dryRun: true })).status).toBe(status);
    }
    expect((await c.sales.post(`/revisions/${id}/prices`, {})).status).toBe(422);
  });
});
