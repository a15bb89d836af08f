import type { assessment, Output } from "@ledgerboard/contracts";
import { Decimal } from "decimal.js";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { DECK_SHAPE, taken, usd } from "../support/fixtures.ts";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { addLumber, addWork } from "./book.fixture.ts";
import { add, companyWithBook, jobWithZones, readRevision, start, work } from "./estimating.fixture.ts";

type Choices = Output<typeof assessment.getChoices>;

let h: Harness;
let c: TestCompany;
let job: Awaited<ReturnType<typeof jobWithZones>>;
let zoneId: string;
let id: string;
beforeAll(async () => {
  h = await startHarness();
  h.setNow("2026-11-25T15:00:00Z");
  c = await companyWithBook(h);
});
afterAll(() => h.close());
beforeEach(async () => {
  job = await jobWithZones(h, c);
  // 12 ft by 10 ft.
  const zone = { name: "Back deck", kind: "deck", geometry: DECK_SHAPE };
  zoneId = taken(await c.sales.post(`/jobs/${job.jobId}/zones`, zone)).id;
  id = await start(c.sales, job.jobId, "first_pass");
});

const read = async (query: Record<string, string> = {}): Promise<Choices> =>
  taken(await c.scheduler.get(`/revisions/${id}/choices`, query)) as unknown as Choices;
const zoneOf = ({ zones }: Choices, of: string) => zones.find((z) => z.zoneId === of);
const sum = (prices: { cents: number }[]): number => prices.reduce((all, p) => all + p.cents, 0);

describe("the repair beside the same zones built new", () => {
  it("is shown for a measured zone, line by line, with the share of the one in the other", async () => {
    const deck = await add(c.sales, id, work("DECK-REPLACE", zoneId, "60"));
    await add(c.sales, id, { ...work("TREAD-REPLACE", zoneId, "6"), alternate: "Treads" });
    await add(c.sales, id, work("DECK-REPAIR", job.deckId, "12"));
    const choices = await read();
    const zone = zoneOf(choices, zoneId);
    expect(zone?.repair).toEqual(deck.price.price);
    expect(zone?.rebuild?.cents).toBe(sum(zone?.lines.map((l) => l.price) ?? []));
    const share = new Decimal(deck.price.price.cents).times(10_000).div(zone?.rebuild?.cents ?? 1);
    expect(zone?.shareBp).toBe(share.toDecimalPlaces(0, Decimal.ROUND_HALF_UP).toNumber());
    // The whole floor, 120 sq ft, is what the same line would cost for all of it.
    const whole = zone?.lines.find((l) => l.words.startsWith("replace decking"));
    const other = await start(c.sales, (await jobWithZones(h, c)).jobId, "first_pass");
    expect(whole?.words).toBe("replace decking, 120 sq ft");
    const { zones } = (await c.owner.get(`/jobs/${(await readRevision(c.sales, other)).jobId}`)).body;
    const all = await add(c.sales, other, work("DECK-REPLACE", zones[0].id, "120"));
    expect(whole?.price).toEqual(all.price.price);
    expect(choices.repair).toEqual((await readRevision(c.sales, id)).totals.price);
    expect(choices.rebuild).toEqual(zone?.rebuild);
  });

  it("names what the price book cannot build, and what nobody measured", async () => {
    const choices = await read();
    const zone = zoneOf(choices, zoneId);
    // The small book has no beam; it has decking, joists and treads.
    expect(zone?.missing.filter((m) => /beam/.test(m))).toHaveLength(1);
    expect(zone?.missing.filter((m) => /decking|tread|hanger|add joist by/.test(m))).toEqual([]);
    expect(zone?.repair).toEqual(usd(0));
    expect(zoneOf(choices, job.stairId)).toEqual({
      zoneId: job.stairId,
      zone: "Main stair",
      repair: usd(0),
      rebuild: null,
      shareBp: null,
      lines: [],
      missing: ["Nobody has measured this zone; measure it to price it new."],
    });
  });

  it("takes the charges of the whole job on both sides", async () => {
    await add(c.sales, id, work("DECK-REPLACE", zoneId, "60"));
    const before = await read();
    const { version } = await readRevision(c.sales, id);
    const permit = { kind: "permit", words: "Permit", cost: usd(8500), atCost: true };
    taken(await c.sales.patch(`/revisions/${id}`, { charges: [permit] }, version));
    const after = await read();
    expect([after.repair.cents - before.repair.cents, after.zones]).toEqual([8500, before.zones]);
    expect((after.rebuild?.cents ?? 0) - (before.rebuild?.cents ?? 0)).toBe(8500);
  });

  it("has no rebuild at all where no zone is measured", async () => {
    await c.sales.patch(`/zones/${zoneId}`, { geometry: null, lengthFt: null, widthFt: null }, 1);
    const choices = await read();
    expect([choices.rebuild, choices.choices, choices.deckSqft]).toEqual([null, [], "0"]);
    expect(choices.notes.length).toBeGreaterThan(0);
  });
});

describe("what each decking costs over the years", () => {
  beforeAll(async () => {
    await addLumber(c.owner, "COMP-6", "5/4x6 composite", { "16": 6400 });
    const of = { component: "decking", unit: "sqft", material: "COMP-6", perUnit: "2.2" };
    await addWork(c.owner, "DECK-COMPOSITE", of);
  });

  it("is worked out for the years and the rate given, and sums to what it shows", async () => {
    const choices = await read({ years: "25", discountBp: "300" });
    expect(choices).toMatchObject({ years: 25, discountBp: 300, deckSqft: "120" });
    expect(choices.choices.map((x) => x.name).sort()).toEqual(["Work DECK-COMPOSITE", "replace decking"]);
    for (const one of choices.choices) {
      expect(one.presentValue.cents).toBe(sum(one.flows.map((f) => f.present)));
      expect(one.undiscounted.cents).toBe(sum(one.flows.map((f) => f.cost)));
      expect(one.now.cents).toBe(sum(one.flows.filter((f) => f.year === 0).map((f) => f.cost)));
      for (const flow of one.flows) {
        // NIST Handbook 135 (from memory): what is paid in year n counts 1 / (1 + d)^n of it today.
        const present = new Decimal(flow.cost.cents).div(new Decimal("1.03").pow(flow.year));
        expect(Math.abs(present.minus(flow.present.cents).toNumber())).toBeLessThanOrEqual(0.5);
        expect(flow.year).toBeLessThanOrEqual(25);
      }
    }
    const treated = choices.choices.find((x) => x.name === "replace decking");
    expect(treated?.flows.some((f) => /refinish/i.test(f.words))).toBe(true);
    const values = choices.choices.map((x) => x.presentValue.cents);
    expect(values).toEqual([...values].sort((a, b) => a - b));
  });

  it("counts later dollars in full at no discount, and takes the book's own years where none are given", async () => {
    const even = await read({ discountBp: "0" });
    for (const one of even.choices) expect(one.presentValue).toEqual(one.undiscounted);
    expect(even.years).toBeGreaterThan(0);
    expect((await read()).years).toBe(even.years);
  });

  it("is for the boards that are replaced, where some are", async () => {
    await add(c.sales, id, work("DECK-REPLACE", zoneId, "45.5"));
    await add(c.sales, id, { ...work("DECK-REPLACE", job.deckId, "10"), alternate: "Lower deck too" });
    expect((await read()).deckSqft).toBe("45.5");
  });

  it.each([
    ["years", "0"],
    ["years", "61"],
    ["years", "ten"],
    ["discountBp", "2001"],
    ["discountBp", "-1"],
    ["discountBp", "1.5"],
  ])("refuses %s=%s", async (name, value) => {
    const answer = await c.sales.get(`/revisions/${id}/choices`, { [name]: value });
    expect([answer.status, answer.body.errors[0].path]).toEqual([422, `query.${name}`]);
  });

  it("is for those who read estimates, of their own company", async () => {
    const other = await companyWithBook(h);
    expect((await c.lead_hand.get(`/revisions/${id}/choices`)).status).toBe(403);
    expect((await other.owner.get(`/revisions/${id}/choices`)).status).toBe(404);
  });
});
