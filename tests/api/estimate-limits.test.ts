import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { DECK_SHAPE, taken, usd } from "../support/fixtures.ts";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { add, companyWithBook, jobWithZones, readRevision, start, work } from "./estimating.fixture.ts";

/** What no house has: absurd prices and drawings are refused or reported, and never break anything. */
let h: Harness;
let c: TestCompany;
let job: Awaited<ReturnType<typeof jobWithZones>>;
let id: string;
beforeAll(async () => {
  h = await startHarness();
  h.setNow("2026-11-25T15:00:00Z");
});
afterAll(() => h.close());
beforeEach(async () => {
  c = await companyWithBook(h);
  job = await jobWithZones(h, c);
  id = await start(c.sales, job.jobId, "first_pass");
});

const zone = async (geometry: object): Promise<string> =>
  taken(await c.sales.post(`/jobs/${job.jobId}/zones`, { name: "Vast", kind: "deck", geometry })).id;
const READS = ["assessment", "choices", "cut-plan"];

/** A square foot of boards at $66,000. */
async function raisePrices(): Promise<void> {
  const book = (await c.owner.get("/price-book")).body;
  const boards = book.materials.find((m: { code: string }) => m.code === "M-DECK-REPLACE");
  const packs = [{ size: "1", price: usd(6_600_000) }];
  taken(await c.owner.patch(`/materials/${boards.id}`, { packs }, boards.version));
}

describe("prices beyond all reason", () => {
  it("are not taken into a draft, which keeps its own", async () => {
    await add(c.sales, id, work("DECK-REPLACE", job.deckId, "200"));
    const before = await readRevision(c.sales, id);
    await raisePrices();
    for (const dryRun of [true, false]) {
      const answer = await c.sales.post(`/revisions/${id}/prices`, { dryRun });
      expect([answer.status, answer.body.errors?.[0]?.path]).toEqual([422, "body"]);
    }
    expect({ ...(await readRevision(c.sales, id)), newerPrices: null }).toEqual(before);
  });

  it("leave the choices readable", async () => {
    await zone(DECK_SHAPE);
    await raisePrices();
    const answer = await c.sales.get(`/revisions/${id}/choices`);
    expect(answer.status, answer.text).toBe(200);
    const { zones, rebuild, choices, notes } = answer.body;
    const why = "A line is priced above $10,000,000; check its quantity, unit cost and hours.";
    expect([rebuild, choices, notes.at(-1)]).toEqual([null, [], why]);
    expect(zones.find((z: { zone: string }) => z.zone === "Vast")).toMatchObject({
      lines: [],
      missing: [why],
    });
  });
});

describe("a drawing beyond all reason", () => {
  const framing = { ...DECK_SHAPE.framing, joistSpacingIn: 0.0625 };
  const decking = { ...DECK_SHAPE.decking, boardWidthIn: 0.0625, gapIn: 0 };
  const side = (size: number, i: number) => ({ x: (i % 2) * 100 + (i * size) / 60, y: i % 2 ? 5000 : 0 });
  it.each<[string, object]>([
    [
      "500 ft square in slivers",
      { outline: { shape: "rectangle", lengthIn: 6000, widthIn: 6000 }, framing, decking },
    ],
    [
      "a comb of sixty corners",
      {
        outline: { shape: "polygon", points: Array.from({ length: 60 }, (_, i) => side(5760, i)) },
        framing,
        decking,
      },
    ],
    [
      "500 ft of guards",
      {
        guards: Array.from({ length: 30 }, () => ({
          ...DECK_SHAPE.guards[0],
          lengthIn: 6000,
          postSpacingIn: 0.0625,
          balusterWidthIn: 0.0625,
          clearGapIn: 0.0625,
        })),
      },
    ],
  ])(
    "is kept, and read in seconds: %s",
    async (_what, change) => {
      const at = await zone({ ...DECK_SHAPE, ...change });
      await add(c.sales, id, work("DECK-REPLACE", at, "100"));
      for (const read of READS) {
        const began = performance.now();
        const answer = await c.sales.get(`/revisions/${id}/${read}`);
        expect([read, answer.status], answer.text.slice(0, 300)).toEqual([read, 200]);
        expect(performance.now() - began).toBeLessThan(15_000);
      }
    },
    60_000,
  );
});
