import type { assessment as contract, Output } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { type CutPlan as Cuts, EstimateInputError, priceRevision } from "@ledgerboard/estimating";
import { Afterwards } from "../../http/implement.ts";
import type { Solver } from "../../solver/pool.ts";
import { usd } from "../money.ts";
import { zonesOf } from "./assessment.ts";
import { type Line, sayLine, sortLumber, type ToCut } from "./cut-pieces.ts";
import { type PricedRevision, readPriced } from "./queries.ts";
import { toPurchase } from "./view.ts";

type CutPlan = Output<typeof contract.getCutPlan>;
type Section = CutPlan["sections"][number];

/**
 * Width of a circular saw's cut. Boards are sold a little longer than they are named, so that squaring an end costs
 * nothing of their named length. Common practice, no source.
 */
const KERF_IN = 0.125;
const END_TRIM_IN = 0;
const SECONDS = 8;

/** Gives every cut of a length a piece it is for, in the order the lines have them. */
function labels(pieces: ToCut["pieces"]): (lengthIn: number) => string {
  const waiting = new Map<number, string[]>();
  for (const piece of pieces)
    for (let i = 0; i < piece.count; i++)
      waiting.set(piece.lengthIn, [...(waiting.get(piece.lengthIn) ?? []), piece.for]);
  return (lengthIn) => waiting.get(lengthIn)?.shift() ?? "";
}

/** Boards cut alike, for the same work, are one row with a count. */
function groupBoards(cuts: Cuts, labelOf: (lengthIn: number) => string): Section["boards"] {
  const groups = new Map<string, Section["boards"][number]>();
  for (const board of cuts.boards) {
    const pieces = board.cuts.map((lengthIn) => ({ lengthIn, for: labelOf(lengthIn) }));
    const key = JSON.stringify([board.stockIn, pieces]);
    const known = groups.get(key);
    if (known) known.count += 1;
    else groups.set(key, { stockIn: board.stockIn, count: 1, cuts: pieces, leftIn: board.offcutIn });
  }
  return [...groups.values()];
}

/** How boards of a material are sold, and what the saw takes. */
function saw({ use }: ToCut) {
  return {
    stock: use.packs.map(({ size, cents }) => ({
      lengthIn: Math.round(Number(size) * 192) / 16,
      costCents: cents,
    })),
    kerfIn: KERF_IN,
    endTrimIn: END_TRIM_IN,
  };
}

const NOTHING_CUT: Pick<
  Section,
  "boards" | "buy" | "cost" | "bound" | "gapBp" | "proved" | "layoutBound" | "wasteBp"
> = {
  boards: [],
  buy: [],
  cost: usd(0),
  bound: usd(0),
  gapBp: 0,
  proved: false,
  layoutBound: null,
  wasteBp: 0,
};

/** Time for one piece of work, and what is given to the whole plan: as much again gets the same answer again. */
interface Time {
  limitMs: number;
  effortMs: number;
}

interface LaidOut {
  pieces: ToCut["pieces"];
  rows: Section["rows"];
  /** What no other split of the rows could cost less than; null without rows. */
  layoutBoundCents: number | null;
}

/** Rows of decking split into pieces that meet over joists, and those pieces among the others. */
async function layRows(toCut: ToCut, solver: Solver, time: Time): Promise<LaidOut> {
  if (toCut.rows.length === 0) return { pieces: toCut.pieces, rows: [], layoutBoundCents: null };
  const laid = await solver.layBoards({ rows: toCut.rows, ...saw(toCut) }, time);
  const rows = laid.rows.map(({ piecesIn }, i) => ({
    row: i + 1,
    zone: toCut.rows[i]?.zone ?? "",
    piecesIn,
  }));
  const counts = new Map<string, ToCut["pieces"][number]>();
  for (const { zone, piecesIn } of rows) {
    for (const lengthIn of piecesIn) {
      const key = `${zone} ${lengthIn}`;
      const known = counts.get(key) ?? { lengthIn, count: 0, for: `${zone}: decking` };
      counts.set(key, { ...known, count: known.count + 1 });
    }
  }
  return {
    pieces: [...counts.values(), ...toCut.pieces],
    rows,
    // Border boards and the like come on top of what the rows alone may cost.
    layoutBoundCents: toCut.pieces.length === 0 ? laid.layoutBoundCents : null,
  };
}

async function planSection(
  toCut: ToCut,
  estimatedCents: number,
  solver: Solver,
  { limitMs, effortMs }: Time,
): Promise<Section> {
  const { use } = toCut;
  const head = { material: use.name, code: use.code, section: use.section, estimated: usd(estimatedCents) };
  try {
    const { pieces, rows, layoutBoundCents } = await layRows(toCut, solver, {
      limitMs: limitMs * 0.7,
      effortMs,
    });
    const order = { pieces: pieces.map(({ lengthIn, count }) => ({ lengthIn, count })), ...saw(toCut) };
    const cuts = await solver.planCuts(order, {
      limitMs: rows.length > 0 ? limitMs * 0.3 : limitMs,
      effortMs,
    });
    return {
      ...head,
      pieces,
      rows,
      boards: groupBoards(cuts, labels(pieces)),
      buy: cuts.purchase.map(({ stockIn, count, costCents }) => ({ stockIn, count, cost: usd(costCents) })),
      cost: usd(cuts.costCents),
      bound: usd(cuts.boundCents),
      gapBp: Math.ceil(cuts.gap * 10_000),
      proved: cuts.proved,
      layoutBound: layoutBoundCents === null ? null : usd(Math.min(layoutBoundCents, cuts.costCents)),
      wasteBp: Math.round(cuts.wasteShare * 10_000),
      fault: null,
    };
  } catch (error) {
    if (!(error instanceof EstimateInputError)) throw error;
    const fault = error.findings.map((f) => f.words).join(" ");
    return { ...head, ...NOTHING_CUT, pieces: toCut.pieces, rows: [], fault };
  }
}

/** The lines without the lumber that is cut for them: what is left of it is bought by the foot. */
function withoutCut(lines: readonly Line[], toCut: readonly ToCut[]): Line[] {
  return lines.map((line) => {
    const cut = toCut.flatMap(({ lines: own, use }) => (own.includes(line) ? [use.code] : []));
    if (!line.rates || cut.length === 0) return line;
    const materials = line.rates.materials.filter(({ code }) => !cut.includes(code));
    return { ...line, rates: { ...line.rates, materials } };
  });
}

/** What the base scope takes beside what is cut to measured lengths, in whole packs. */
const packsBeside = (priced: PricedRevision, toCut: readonly ToCut[]): CutPlan["packs"] =>
  priceRevision({ lines: withoutCut(priced.lines, toCut) }, priced.revision).purchases.map(toPurchase);

/**
 * What to buy for the base scope and how to cut it. Read in the transaction, solved after it: proving a plan may take
 * seconds.
 */
export async function readCutPlan(
  db: TenantDb,
  solver: Solver,
  revisionId: string,
  seconds: number | undefined,
): Promise<Afterwards<CutPlan>> {
  const priced = await readPriced(db, revisionId);
  const zones = await zonesOf(db, priced.revision.jobId);
  const { toCut, unmeasured } = sortLumber(priced.lines, zones);
  const estimated = (one: ToCut) =>
    priceRevision({ lines: one.lines }, priced.revision).purchases.find((p) => p.code === one.use.code)
      ?.usedCents ?? 0;
  return new Afterwards(async () => {
    const sections: Section[] = [];
    const effortMs = (seconds ?? SECONDS) * 1000;
    const until = performance.now() + effortMs;
    for (const [i, one] of toCut.entries()) {
      // What one section does not need of its time, the next ones have.
      const left = Math.max(100, until - performance.now());
      sections.push(
        await planSection(one, estimated(one), solver, { limitMs: left / (toCut.length - i), effortMs }),
      );
    }
    const packs = packsBeside(priced, toCut);
    return {
      sections,
      packs,
      unmeasured: unmeasured.map((line) => ({ words: sayLine(line) })),
      kerfIn: KERF_IN,
      endTrimIn: END_TRIM_IN,
      cost: usd([...sections, ...packs].reduce((sum, { cost }) => sum + cost.cents, 0)),
    };
  });
}
