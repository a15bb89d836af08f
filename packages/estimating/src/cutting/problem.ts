import { lengthWords } from "@ledgerboard/contracts/measure";
import { EstimateInputError, type InputFinding } from "../input-error.ts";

/** Pieces to be cut; the same length may be given on several lines. */
export interface CuttingPiece {
  /** Inches, above zero, a multiple of 1/64 in. */
  lengthIn: number;
  /** Whole, zero or more. */
  count: number;
}

/** A stock length that can be had. Offcuts on hand are stock at 0 cents with a limit. */
export interface CuttingStock {
  /** Inches, above zero, a multiple of 1/64 in. */
  lengthIn: number;
  /** Whole cents a board, zero or more. */
  costCents: number;
  /** How many there are; without it, as many as are wanted. */
  limit?: number;
}

export interface CuttingOrder {
  pieces: readonly CuttingPiece[];
  stock: readonly CuttingStock[];
  /** The width of the saw cut between two pieces, inches, a multiple of 1/64 in, at most 1. */
  kerfIn: number;
  /** Cut off each of the two ends of every board, saw cut included; inches, a multiple of 1/64 in, at most 24. */
  endTrimIn: number;
}

/** A stock as the solver sees it: whole units of length, with one kerf added. */
export interface Bin {
  capacity: number;
  cost: number;
  limit: number;
  /** Which line of the order's stock it is. */
  stockIndex: number;
}

/**
 * The order in whole numbers. A kerf is added to every piece and to the usable length of every stock, because the last
 * cut of a board that is used up costs no kerf: pieces then fit exactly when their widths add up to the capacity or less.
 */
export interface Problem {
  /** Piece lengths, longest first, each once. */
  lengthsIn: number[];
  widths: number[];
  demand: number[];
  /** Every stock that can be worth using, shortest first. */
  bins: Bin[];
}

const PER_INCH = 64;
/** Limits of an order; above them is a slip of the keyboard. */
const MOST = { pieces: 20_000, lengths: 500, stocks: 100, inches: 12_000, kerfIn: 1, trimIn: 24 };
const MOST_CENTS = 100_000_000;

const isLength = (inches: number): boolean => Number.isInteger(inches * PER_INCH);

export function divisor(a: number, b: number): number {
  return b === 0 ? a : divisor(b, a % b);
}

/** Every fault of an order, each with the field it is in. */
function faults(order: CuttingOrder): InputFinding[] {
  const findings: InputFinding[] = [];
  const fault = (field: string, words: string) => findings.push({ field, words });
  const length = (field: string, inches: number) => {
    if (!(inches > 0) || !(inches <= MOST.inches))
      fault(field, `Give a length above zero and at most ${MOST.inches} in, not ${inches}.`);
    else if (!isLength(inches)) fault(field, `Give the length to the nearest 1/64 in, not ${inches}.`);
  };
  const loss = (field: string, what: string, inches: number, most: number) => {
    if (!(inches >= 0) || !(inches <= most))
      fault(field, `Give ${what} from 0 to ${most} in, not ${inches}.`);
    else if (!isLength(inches)) fault(field, `Give ${what} to the nearest 1/64 in, not ${inches}.`);
  };
  loss("kerfIn", "a saw kerf", order.kerfIn, MOST.kerfIn);
  loss("endTrimIn", "an end trim", order.endTrimIn, MOST.trimIn);
  order.pieces.forEach(({ lengthIn, count }, i) => {
    length(`pieces[${i}].lengthIn`, lengthIn);
    if (!Number.isSafeInteger(count) || count < 0)
      fault(`pieces[${i}].count`, `Give a whole number of pieces, zero or more, not ${count}.`);
  });
  order.stock.forEach(({ lengthIn, costCents, limit }, i) => {
    length(`stock[${i}].lengthIn`, lengthIn);
    if (!Number.isSafeInteger(costCents) || costCents < 0 || costCents > MOST_CENTS)
      fault(
        `stock[${i}].costCents`,
        `Give the price as whole cents from 0 to ${MOST_CENTS}, not ${costCents}.`,
      );
    if (limit !== undefined && (!Number.isSafeInteger(limit) || limit < 0))
      fault(`stock[${i}].limit`, `Give the limit as a whole number of boards, zero or more, not ${limit}.`);
  });
  if (findings.length > 0) return findings;

  const wanted = order.pieces.filter(({ count }) => count > 0);
  if (wanted.length === 0) return [];
  if (wanted.reduce((sum, { count }) => sum + count, 0) > MOST.pieces)
    fault("pieces", `At most ${MOST.pieces} pieces can be planned at once.`);
  if (new Set(wanted.map(({ lengthIn }) => lengthIn)).size > MOST.lengths)
    fault("pieces", `At most ${MOST.lengths} different lengths can be planned at once.`);
  if (order.stock.length > MOST.stocks)
    fault("stock", `At most ${MOST.stocks} stock lengths can be compared at once.`);
  const usable = order.stock.filter(({ limit }) => limit !== 0).map((s) => s.lengthIn - 2 * order.endTrimIn);
  const longest = Math.max(0, ...usable);
  if (longest <= 0) fault("stock", "Give at least one stock length with some use left after the end trim.");
  else
    order.pieces.forEach(({ lengthIn, count }, i) => {
      if (count > 0 && lengthIn > longest)
        fault(
          `pieces[${i}].lengthIn`,
          `A piece of ${lengthWords(lengthIn)} is longer than the ${lengthWords(longest)} that the longest board gives: splice it, or add a longer board to the price book.`,
        );
    });
  return findings;
}

/**
 * The order checked and put into whole numbers.
 *
 * @throws EstimateInputError naming every field that cannot be used.
 */
export function readOrder(order: CuttingOrder): Problem {
  const findings = faults(order);
  if (findings.length > 0) throw new EstimateInputError(findings);

  const counts = new Map<number, number>();
  for (const { lengthIn, count } of order.pieces) {
    if (count > 0) counts.set(lengthIn, (counts.get(lengthIn) ?? 0) + count);
  }
  const lengthsIn = [...counts.keys()].sort((a, b) => b - a);
  const exact = lengthsIn.map((l) => (l + order.kerfIn) * PER_INCH);
  const unit = exact.reduce(divisor, 0) || 1;
  const widths = exact.map((w) => w / unit);
  const demand = lengthsIn.map((l) => counts.get(l) ?? 0);
  const narrowest = Math.min(...widths);
  const bins = order.stock
    .map((s, stockIndex) => ({
      capacity: Math.floor(((s.lengthIn - 2 * order.endTrimIn + order.kerfIn) * PER_INCH) / unit),
      cost: s.costCents,
      limit: s.limit ?? Number.POSITIVE_INFINITY,
      stockIndex,
    }))
    .filter(({ capacity, limit }) => capacity >= narrowest && limit > 0);
  return { lengthsIn, widths, demand, bins: withoutDominated(bins) };
}

/** Leaves out every stock beside which another one, not limited, is at least as long and costs no more. */
function withoutDominated(bins: Bin[]): Bin[] {
  bins.sort(
    (a, b) => a.capacity - b.capacity || b.cost - a.cost || a.limit - b.limit || b.stockIndex - a.stockIndex,
  );
  return bins.filter(
    (bin, i) => !bins.some((o, j) => j > i && o.limit === Number.POSITIVE_INFINITY && o.cost <= bin.cost),
  );
}

/** Whether boards hold all that is demanded, each within its stock, no stock beyond its limit. */
export function covers(
  { widths, demand, bins }: Problem,
  boards: readonly { bin: number; cuts: readonly (readonly [number, number])[] }[],
): boolean {
  const left = [...demand];
  const stock = bins.map((b) => b.limit);
  for (const { bin, cuts } of boards) {
    stock[bin] = (stock[bin] ?? 0) - 1;
    let used = 0;
    for (const [i, n] of cuts) {
      used += n * (widths[i] ?? 0);
      left[i] = (left[i] ?? 0) - n;
    }
    if (used > (bins[bin]?.capacity ?? 0)) return false;
  }
  return left.every((n) => n <= 0) && stock.every((n) => n >= 0);
}
