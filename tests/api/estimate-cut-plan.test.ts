import type { assessment, Output } from "@ledgerboard/contracts";
import { zoneGeometry } from "@ledgerboard/contracts/geometry";
import { takeoff } from "@ledgerboard/estimating";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { DECK_SHAPE, taken, usd } from "../support/fixtures.ts";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { addLumber, addWork } from "./book.fixture.ts";
import { add, companyWithBook, jobWithZones, start, work } from "./estimating.fixture.ts";

type CutPlan = Output<typeof assessment.getCutPlan>;
type Section = CutPlan["sections"][number];

let h: Harness;
let c: TestCompany;
let job: Awaited<ReturnType<typeof jobWithZones>>;
let zoneId: string;
let id: string;
beforeAll(async () => {
  h = await startHarness();
  h.setNow("2026-11-25T15:00:00Z");
  c = await companyWithBook(h);
  await addLumber(c.owner, "LUMBER-8", "2x8", { "8": 900, "10": 1200, "16": 2000 });
  await addLumber(c.owner, "BOARD-6", "5/4x6", { "8": 1000, "12": 1600, "16": 2000 });
  await addLumber(c.owner, "SHORT-8", "2x8", { "6": 700, "8": 900 });
  const joist = { component: "joist", unit: "each", perUnit: "10" };
  await addWork(c.owner, "JOIST-NEW", { ...joist, material: "LUMBER-8" });
  await addWork(c.owner, "JOIST-SHORT", { ...joist, action: "sister", material: "SHORT-8" });
  await addWork(c.owner, "BOARD-NEW", {
    component: "decking",
    unit: "sqft",
    material: "BOARD-6",
    perUnit: "2.2",
  });
  await addWork(c.owner, "TREAD-NEW", {
    component: "tread",
    unit: "each",
    material: "BOARD-6",
    perUnit: "8",
  });
});
afterAll(() => h.close());
beforeEach(async () => {
  job = await jobWithZones(h, c);
  const zone = { name: "Back deck", kind: "deck", geometry: DECK_SHAPE };
  zoneId = taken(await c.sales.post(`/jobs/${job.jobId}/zones`, zone)).id;
  id = await start(c.sales, job.jobId, "first_pass");
});

const LINES = {
  "JOIST-NEW": { component: "joist", action: "replace", unit: "each" },
  "JOIST-SHORT": { component: "joist", action: "sister", unit: "each" },
  "TREAD-NEW": { component: "tread", action: "replace", unit: "each" },
};
const DECKING = { component: "decking", action: "replace", unit: "sqft", assemblyCode: "BOARD-NEW" };
const line = (assemblyCode: keyof typeof LINES, quantity: string, at = zoneId, more: object = {}) =>
  add(c.sales, id, { ...LINES[assemblyCode], assemblyCode, zoneId: at, quantity, ...more });
const plan = async (query: Record<string, string> = {}): Promise<CutPlan> =>
  taken(await c.scheduler.get(`/revisions/${id}/cut-plan`, query)) as unknown as CutPlan;
const section = ({ sections }: CutPlan, code: string): Section => {
  const found = sections.find((s) => s.code === code);
  if (!found) throw new Error(`Nothing of ${code} is cut.`);
  return found;
};
const sum = (numbers: number[]): number => numbers.reduce((a, b) => a + b, 0);

/** How often each length is there for each purpose. */
function tally(pieces: { lengthIn: number; count: number; for: string }[]): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const p of pieces) {
    const key = `${p.lengthIn} in for ${p.for}`;
    counts[key] = (counts[key] ?? 0) + p.count;
  }
  return counts;
}

/** What any plan has to keep, worked out from the answer alone. */
function check(one: Section, { kerfIn, endTrimIn }: CutPlan): void {
  const cut = one.boards.flatMap((b) => b.cuts.map((piece) => ({ ...piece, count: b.count })));
  expect(tally(cut)).toEqual(tally(one.pieces));
  for (const { stockIn, cuts, leftIn } of one.boards) {
    const used = sum(cuts.map((p) => p.lengthIn)) + (cuts.length - 1) * kerfIn + 2 * endTrimIn;
    expect(used, JSON.stringify(cuts)).toBeLessThanOrEqual(stockIn);
    expect(leftIn).toBeGreaterThanOrEqual(0);
  }
  for (const { stockIn, count } of one.buy) {
    expect(sum(one.boards.filter((b) => b.stockIn === stockIn).map((b) => b.count))).toBe(count);
  }
  expect(sum(one.boards.map((b) => b.count))).toBe(sum(one.buy.map((b) => b.count)));
  expect(one.cost.cents).toBe(sum(one.buy.map((b) => b.cost.cents)));
  expect(one.cost.cents).toBeGreaterThanOrEqual(one.bound.cents);
  const [bought, needed] = [
    sum(one.boards.map((b) => b.stockIn * b.count)),
    sum(one.pieces.map((p) => p.lengthIn * p.count)),
  ];
  expect(Math.abs(one.wasteBp - (1 - needed / bought) * 10_000)).toBeLessThanOrEqual(1);
  expect(one.fault).toBeNull();
}

describe("a measured deck", () => {
  it("becomes a list of what to buy and how to cut it, at the least cost", async () => {
    await line("JOIST-NEW", "10");
    await line("TREAD-NEW", "6");
    const answer = await plan();
    for (const one of answer.sections) check(one, answer);
    const joists = section(answer, "LUMBER-8");
    expect(joists).toMatchObject({ material: "Boards 2x8", section: "2x8", proved: true, gapBp: 0 });
    // Ten joists of nearly 10 ft: none is cut from 8 ft and no two from 16 ft, so ten boards of 10 ft at $12.
    expect(sum(joists.pieces.map((p) => p.count))).toBe(10);
    expect(joists.buy).toEqual([{ stockIn: 120, count: 10, cost: usd(12_000) }]);
    expect(joists.pieces.map((p) => p.for)).toEqual(["Back deck: joist"]);
    // The estimate takes 10 ft of 2x8 a joist and 5% waste at the cheapest foot, $9 for 8 ft: $118.13.
    expect(joists.estimated).toEqual(usd(11_813));
    // Six treads of two boards, 48 in each: three from 16 ft at $20 come cheaper than two from 12 ft or one from 8 ft.
    const treads = section(answer, "BOARD-6");
    expect(treads.pieces).toEqual([{ lengthIn: 48, count: 12, for: "Back deck: tread" }]);
    expect([treads.buy, treads.proved]).toEqual([[{ stockIn: 192, count: 4, cost: usd(8000) }], true]);
    expect(answer).toMatchObject({ kerfIn: 0.125, endTrimIn: 0, unmeasured: [], packs: [] });
    expect(answer.cost).toEqual(usd(20_000));
  });

  it("has rows of decking laid with their joints over joists, no two neighbors at the same one", async () => {
    // 20 ft along the house on boards of 16 ft at most: every row needs a joint.
    const geometry = { ...DECK_SHAPE, outline: { shape: "rectangle", lengthIn: 240, widthIn: 120 } } as const;
    const wide = { name: "Wide deck", kind: "deck", geometry };
    const at = taken(await c.sales.post(`/jobs/${job.jobId}/zones`, wide)).id;
    await add(c.sales, id, { ...DECKING, zoneId: at, quantity: "200" });
    const answer = await plan();
    const boards = section(answer, "BOARD-6");
    check(boards, answer);
    const measured = takeoff({
      kind: "deck",
      geometry: zoneGeometry.parse(geometry),
      lengthFt: null,
      widthFt: null,
      heightFt: null,
    });
    expect(boards.rows.map((row) => sum(row.piecesIn))).toEqual(
      measured.boardRows.map((row) => row.lengthIn),
    );
    expect(boards.rows.length).toBeGreaterThan(15);
    let before: number[] = [];
    for (const [i, { piecesIn }] of boards.rows.entries()) {
      const joints = piecesIn.slice(0, -1).map((_, k) => sum(piecesIn.slice(0, k + 1)));
      expect(joints.length).toBeGreaterThan(0);
      for (const joint of joints) {
        expect(measured.boardRows[i]?.supportsIn).toContain(joint);
        expect(before).not.toContain(joint);
      }
      before = joints;
    }
    expect(boards.layoutBound?.cents).toBeLessThanOrEqual(boards.cost.cents);
  });

  it("keeps joints of neighbors apart where the rows begin at another place", async () => {
    const corners = [
      [0, 0],
      [240, 0],
      [240, 120],
      [32, 120],
      [32, 60],
      [0, 60],
    ].map(([x, y]) => ({ x, y }));
    const geometry = { ...DECK_SHAPE, outline: { shape: "polygon", points: corners } };
    const stepped = { name: "Stepped deck", kind: "deck", geometry };
    const at = taken(await c.sales.post(`/jobs/${job.jobId}/zones`, stepped)).id;
    await add(c.sales, id, { ...DECKING, zoneId: at, quantity: "184" });
    const { rows } = section(await plan(), "BOARD-6");
    // Rows from 60 in out begin 32 in along the house.
    const places = rows.map(({ piecesIn }) => {
      const start = 240 - sum(piecesIn);
      return piecesIn.slice(0, -1).map((_, k) => start + sum(piecesIn.slice(0, k + 1)));
    });
    expect(new Set(rows.map((row) => sum(row.piecesIn)))).toEqual(new Set([240, 208]));
    for (const [i, own] of places.entries())
      for (const place of own) expect(places[i - 1] ?? []).not.toContain(place);
  });

  it("is cut for part of what is there, and for the base scope alone", async () => {
    await line("JOIST-NEW", "3");
    await line("TREAD-NEW", "4", zoneId, { alternate: "New treads" });
    await line("TREAD-NEW", "2", zoneId, { by: "owner" });
    const answer = await plan();
    expect(answer.sections.map((s) => s.code)).toEqual(["LUMBER-8"]);
    check(section(answer, "LUMBER-8"), answer);
    expect(sum(section(answer, "LUMBER-8").pieces.map((p) => p.count))).toBe(3);
  });

  it("answers within a second where no more time is given, with a plan that holds", async () => {
    await line("JOIST-NEW", "10");
    await line("TREAD-NEW", "6");
    const answer = await plan({ seconds: "1" });
    for (const one of answer.sections) check(one, answer);
    expect(answer.sections).toHaveLength(2);
  });

  it("says so where a piece is longer than every board, and still plans the rest", async () => {
    await line("JOIST-SHORT", "2");
    await line("TREAD-NEW", "6");
    const answer = await plan();
    expect(section(answer, "SHORT-8")).toMatchObject({ boards: [], buy: [], cost: usd(0), proved: false });
    expect(section(answer, "SHORT-8").fault).toMatch(/long/);
    check(section(answer, "BOARD-6"), answer);
    expect(answer.cost).toEqual(usd(8000));
  });
});

describe("a line whose boards are not what was measured", () => {
  beforeAll(async () => {
    const lumber = { material: "LUMBER-8" };
    await addWork(c.owner, "BEAM-NEW", { ...lumber, component: "beam", unit: "lf", perUnit: "2" });
    await addWork(c.owner, "BLOCK", {
      ...lumber,
      component: "joist",
      action: "reinforce",
      unit: "each",
      perUnit: "1.3",
    });
    await addWork(c.owner, "SCAB", {
      ...lumber,
      component: "joist",
      action: "repair",
      unit: "each",
      perUnit: "6",
    });
    await addWork(c.owner, "GRIP", {
      ...lumber,
      component: "rail",
      action: "add",
      unit: "lf",
      perUnit: "1",
    });
    await addWork(c.owner, "POST-NEW", {
      component: "guard_post",
      unit: "each",
      material: "BOARD-6",
      perUnit: "4.5",
      also: ["LUMBER-8", "2"],
    });
  });
  const plain = (component: string, action: string, unit: string, assemblyCode: string, quantity: string) =>
    add(c.sales, id, { component, action, unit, assemblyCode, quantity, zoneId });

  it("has every ply of a built-up beam", async () => {
    await plain("beam", "replace", "lf", "BEAM-NEW", "12");
    const answer = await plan();
    // 12 ft along the house, two plies by the assembly.
    const one = section(answer, "LUMBER-8");
    check(one, answer);
    expect(one.pieces).toEqual([{ lengthIn: 144, count: 2, for: "Back deck: beam" }]);
  });

  it.each([
    ["blocks", "reinforce", "BLOCK", "10", "13.65"],
    ["scabs", "repair", "SCAB", "2", "12.6"],
  ])("has %s by the foot, not as whole joists", async (_what, action, code, quantity, needed) => {
    await plain("joist", action, "each", code, quantity);
    const answer = await plan();
    expect([answer.sections, answer.unmeasured.length]).toEqual([[], 1]);
    expect(answer.packs.map((p) => [p.code, p.needed])).toEqual([["LUMBER-8", needed]]);
  });

  it("has one handrail for a run, not one for each rail of the guard", async () => {
    await plain("rail", "add", "lf", "GRIP", "12");
    const answer = await plan();
    expect([answer.sections, answer.packs.map((p) => p.needed)]).toEqual([[], ["12.6"]]);
  });

  it("buys what else it takes of a lumber that is cut for another line", async () => {
    await line("JOIST-NEW", "10");
    await plain("guard_post", "replace", "each", "POST-NEW", "3");
    const answer = await plan();
    expect(answer.sections.map((s) => s.code).sort()).toEqual(["BOARD-6", "LUMBER-8"]);
    // Three posts at 2 ft of 2x8 with 5% waste, beside the ten joists.
    expect(answer.packs.map((p) => [p.code, p.needed])).toEqual([["LUMBER-8", "6.3"]]);
  });

  it("has concealed work at its expected amount, by the foot", async () => {
    const allowance = { chanceBp: 5000, lowQuantity: "1", highQuantity: "3", capQuantity: "4" };
    await line("JOIST-NEW", "2", zoneId, {
      evidence: "concealed",
      allowance: { ...allowance, charge: "included" },
    });
    const answer = await plan();
    // Half a chance of two joists at 10 ft, with 5% waste.
    expect([answer.sections, answer.packs.map((p) => p.needed)]).toEqual([[], ["10.5"]]);
  });
});

describe("what nobody measured", () => {
  it("is listed, and bought by the foot in whole boards", async () => {
    await line("TREAD-NEW", "6");
    await line("JOIST-NEW", "4", job.deckId);
    const answer = await plan();
    expect(answer.unmeasured).toEqual([{ words: "Lower deck: replace joist, 4 each" }]);
    // Four joists at 10 ft with 5% waste are 42 ft: four of 8 ft and one of 10 ft at $48 cover them.
    expect(answer.packs.map((p) => [p.code, p.needed, p.cost.cents])).toEqual([["LUMBER-8", "42", 4800]]);
    expect(sum(answer.packs[0]?.packs.map((p) => Number(p.size) * p.count) ?? [])).toBeGreaterThanOrEqual(42);
    expect(answer.cost).toEqual(usd(8000 + 4800));
  });

  it("is bought in packs where it is not cut to length at all", async () => {
    await add(c.sales, id, work("HANGER-REPLACE", zoneId, "9"));
    const answer = await plan();
    expect([answer.sections, answer.unmeasured]).toEqual([[], []]);
    expect(answer.packs.map((p) => [p.code, p.needed, p.cost.cents])).toEqual([
      ["M-HANGER-REPLACE", "9", 3780],
    ]);
  });

  it("is nothing for a draft without lines", async () => {
    expect(await plan()).toMatchObject({ sections: [], packs: [], unmeasured: [], cost: usd(0) });
  });
});

describe("asking for it", () => {
  it.each(["0", "21", "x", "1.5", "-1"])("refuses %s seconds", async (seconds) => {
    const answer = await c.sales.get(`/revisions/${id}/cut-plan`, { seconds });
    expect([answer.status, answer.body.errors[0].path]).toEqual([422, "query.seconds"]);
  });

  it("is for those who read estimates, of their own company", async () => {
    const other = await companyWithBook(h);
    expect((await c.lead_hand.get(`/revisions/${id}/cut-plan`)).status).toBe(403);
    expect((await other.owner.get(`/revisions/${id}/cut-plan`)).status).toBe(404);
  });
});
