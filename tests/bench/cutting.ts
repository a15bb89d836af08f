/** The cutting budgets: seeded orders, each against the plain rule of the trade, longest piece first. */
import { type CutPlan, type CuttingOrder, planCuts } from "@ledgerboard/estimating";
import type { BenchRow } from "./world.ts";

const FEET = [8, 10, 12, 14, 16, 20];
const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8, 9];

/** Evenly spread numbers from 0 to 1, the same every time. */
function sequence(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/** A deck's cut list: lengths from 1 to 19 ft in eighths, stock priced by the foot with a premium for long boards. */
function deckOrder(seed: number, lengths: number): CuttingOrder {
  const random = sequence(seed);
  for (let i = 0; i < 8; i++) random();
  const perFoot = 60 + Math.floor(random() * 200);
  const premium = [0, 0, 0.02, 0.03, 0.05, 0.12].map((p) => 1 + p * (0.5 + random()));
  const chosen = new Set<number>();
  while (chosen.size < lengths) chosen.add(12 + Math.floor(random() * 216 * 8) / 8);
  return {
    pieces: [...chosen].map((lengthIn) => ({ lengthIn, count: 1 + Math.floor(random() * 9) })),
    stock: FEET.map((ft, i) => ({
      lengthIn: ft * 12,
      costCents: Math.round(ft * perFoot * (premium[i] ?? 1)),
    })),
    kerfIn: 0.125,
    endTrimIn: 0,
  };
}

/** First-fit decreasing for each stock alone, the cheapest of them: what is done at the saw without a plan. */
function firstFit({ pieces, stock, kerfIn }: CuttingOrder): number {
  const all = pieces.flatMap((p) => Array.from({ length: p.count }, () => p.lengthIn)).sort((a, b) => b - a);
  return Math.min(
    ...stock.map(({ lengthIn, costCents }) => {
      const rooms: number[] = [];
      for (const piece of all) {
        if (piece > lengthIn) return Number.POSITIVE_INFINITY;
        const at = rooms.findIndex((room) => room >= piece);
        if (at < 0) rooms.push(lengthIn - piece - kerfIn);
        else rooms[at] = (rooms[at] ?? 0) - piece - kerfIn;
      }
      return rooms.length * costCents;
    }),
  );
}

async function measure(lengths: number, limitMs: number) {
  const runs: { plan: CutPlan; ms: number; share: number }[] = [];
  for (const seed of SEEDS) {
    const order = deckOrder(seed, lengths);
    const start = performance.now();
    const plan = await planCuts(order, { limitMs, now: () => performance.now() });
    runs.push({ plan, ms: performance.now() - start, share: plan.costCents / firstFit(order) });
  }
  const share = runs.reduce((sum, r) => sum + r.share, 0) / runs.length;
  const saved = `costs ${(share * 100).toFixed(1)}% of first-fit decreasing with one stock length`;
  return { runs, slowest: Math.max(...runs.map((r) => r.ms)), saved };
}

/** Time to a proof for 40 lengths and 6 stocks, and the gap after five seconds for 200; each in `SEEDS.length` orders. */
export async function cuttingRows(): Promise<BenchRow[]> {
  // HiGHS is compiled once for a process, before its first plan.
  await planCuts(deckOrder(0, 5));
  const forty = await measure(40, 5_000);
  const proved = forty.runs.filter((r) => r.plan.proved).length;
  const many = await measure(200, 5_000);
  const gap = Math.max(...many.runs.map((r) => r.plan.gap));
  return [
    {
      name: "cutting: 40 lengths x 6 stocks, proved cheapest, slowest in seconds",
      measured: `${proved} of ${forty.runs.length} proved, slowest ${Math.round(forty.slowest)} ms; ${forty.saved}`,
      ratio: forty.slowest / 1000,
      bar: "≤ 1, all proved",
      holds: proved === forty.runs.length && forty.slowest <= 1000,
    },
    {
      name: "cutting: 200 lengths x 6 stocks, widest gap in percent after 5 s",
      measured:
        `${many.runs.filter((r) => r.plan.proved).length} of ${many.runs.length} proved, ` +
        `slowest ${Math.round(many.slowest)} ms; ${many.saved}`,
      ratio: gap * 100,
      bar: "≤ 1",
      holds: gap <= 0.01,
    },
  ];
}
