/**
 * Published cutting instances (shared/cutting-instances.json, each with its source beside it) against planCuts. What is
 * checked here shares nothing with the solver: it reads the plan alone and adds up.
 */
import { type CutPlan, type CuttingOrder, planCuts } from "@ledgerboard/estimating";
import { describe, expect, it } from "vitest";
import data from "../../shared/cutting-instances.json" with { type: "json" };

interface Instance {
  id: string;
  stock: { length: number; cost: number }[];
  items?: { length: number; demand: number }[];
  item_lengths?: number[];
  optimum: number;
  lp_bound: number;
  ffd_bins?: number;
  source: string;
  basis: string;
}

const instances = data.instances as Instance[];

/** The instance with one unit of length as one inch. */
const orderOf = (instance: Instance): CuttingOrder => ({
  pieces:
    instance.items?.map(({ length, demand }) => ({ lengthIn: length, count: demand })) ??
    (instance.item_lengths ?? []).map((lengthIn) => ({ lengthIn, count: 1 })),
  stock: instance.stock.map(({ length, cost }) => ({ lengthIn: length, costCents: cost })),
  kerfIn: 0,
  endTrimIn: 0,
});

/** Everything that is wrong with a plan as a carpenter would find it: at the saw, and at the till. */
function wrongWith(order: CuttingOrder, plan: CutPlan): string[] {
  const wrong: string[] = [];
  const missing = new Map<number, number>();
  for (const { lengthIn, count } of order.pieces) missing.set(lengthIn, (missing.get(lengthIn) ?? 0) + count);
  const taken = new Map<number, number>();
  for (const [b, { stockIn, cuts }] of plan.boards.entries()) {
    taken.set(stockIn, (taken.get(stockIn) ?? 0) + 1);
    let at = order.endTrimIn;
    cuts.forEach((length, i) => {
      if (i > 0) at += order.kerfIn;
      at += length;
      missing.set(length, (missing.get(length) ?? 0) - 1);
    });
    if (cuts.length === 0) wrong.push(`board ${b} has no cut`);
    if (at > stockIn - order.endTrimIn) wrong.push(`board ${b} of ${stockIn} ends at ${at}`);
  }
  for (const [length, n] of missing) if (n !== 0) wrong.push(`${n} of ${length} missing`);
  let cost = 0;
  for (const [length, n] of taken) {
    const stock = order.stock.filter((s) => s.lengthIn === length);
    if (stock.length !== 1) wrong.push(`no such stock: ${length}`);
    if (n > (stock[0]?.limit ?? Number.POSITIVE_INFINITY)) wrong.push(`${n} of ${length} used`);
    cost += n * (stock[0]?.costCents ?? 0);
  }
  if (cost !== plan.costCents) wrong.push(`costs ${cost}, not ${plan.costCents}`);
  return wrong;
}

const cents = async (order: CuttingOrder) => (await planCuts(order)).costCents;

describe("published cutting instances", () => {
  it("are all there", () => expect(instances).toHaveLength(11));

  it.each(instances)("$id: optimum $optimum ($basis: $source)", async (instance) => {
    const order = orderOf(instance);
    const plan = await planCuts(order);
    expect(wrongWith(order, plan)).toEqual([]);
    expect(plan).toMatchObject({ costCents: instance.optimum, proved: true, gap: 0, stopped: false });
    expect(plan.boundCents).toBeLessThanOrEqual(instance.optimum);
    expect(plan.boundCents).toBeGreaterThanOrEqual(instance.lp_bound - 1e-3);
    if (instance.ffd_bins !== undefined) expect(plan.costCents).toBeLessThanOrEqual(instance.ffd_bins);
  });

  it.each(instances)(
    "$id: order of lines, unit of length and split lines change nothing",
    async (instance) => {
      const order = orderOf(instance);
      const turned = { ...order, pieces: order.pieces.toReversed(), stock: order.stock.toReversed() };
      expect(await cents(turned)).toBe(instance.optimum);
      const sixteenths = (inches: number) => inches / 16;
      const small = {
        ...order,
        pieces: order.pieces.map((p) => ({ ...p, lengthIn: sixteenths(p.lengthIn) })),
        stock: order.stock.map((s) => ({ ...s, lengthIn: sixteenths(s.lengthIn) })),
      };
      expect(await cents(small)).toBe(instance.optimum);
      const split = {
        ...order,
        pieces: order.pieces.flatMap(({ lengthIn, count }) => [
          { lengthIn, count: Math.floor(count / 2) },
          { lengthIn, count: Math.ceil(count / 2) },
        ]),
      };
      expect(await cents(split)).toBe(instance.optimum);
    },
  );

  // A saw cut of k between pieces: k more on every piece and on every stock length leaves the same plans. Exact.
  it.each(instances)("$id: with a kerf added to pieces and stock the optimum stays", async (instance) => {
    const order = orderOf(instance);
    const kerfIn = 0.125;
    const shorter = {
      ...order,
      kerfIn,
      pieces: order.pieces.map((p) => ({ ...p, lengthIn: p.lengthIn - kerfIn })),
      stock: order.stock.map((s) => ({ ...s, lengthIn: s.lengthIn - kerfIn })),
    };
    const plan = await planCuts(shorter);
    expect(wrongWith(shorter, plan)).toEqual([]);
    expect(plan).toMatchObject({ costCents: instance.optimum, proved: true });
  });

  it("gives a whole plan and a true bound even with no time at all", async () => {
    for (const instance of instances) {
      const order = orderOf(instance);
      let ticks = 0;
      const plan = await planCuts(order, { limitMs: 0, now: () => ticks++ });
      expect(wrongWith(order, plan)).toEqual([]);
      expect(plan.costCents).toBeGreaterThanOrEqual(instance.optimum);
      expect(plan.boundCents).toBeLessThanOrEqual(instance.optimum);
      expect(plan.gap).toBeCloseTo((plan.costCents - plan.boundCents) / plan.costCents, 12);
      expect(plan.stopped).toBe(!plan.proved);
    }
  });
});
