import { EstimateInputError, type InputFinding } from "../input-error.ts";
import type { DeckLayout } from "./lay-boards.ts";
import { cheapestSplit, type RowKind } from "./splits.ts";

export interface Rows {
  /** Each row with every joint allowed, and with as many supports to a piece as it allows. */
  rows: RowKind[];
  /** For each row and support, its place among all support positions along the deck, in order. */
  places: number[][];
  /** Every length that a piece can have. */
  lengths: Set<number>;
}

const MOST_ROWS = 500;
const MOST_SUPPORTS = 200;
const isLength = (inches: number): boolean => Number.isInteger(inches * 64);

/** @throws EstimateInputError naming every field that cannot be used. */
export function readRows(deck: DeckLayout): Rows {
  const { rows, stock, endTrimIn, minSupports = 3 } = deck;
  const findings: InputFinding[] = [];
  const fault = (field: string, words: string) => findings.push({ field, words });
  if (!Number.isSafeInteger(minSupports) || minSupports < 2)
    fault("minSupports", `Give a whole number of supports, 2 or more, not ${minSupports}.`);
  if (rows.length > MOST_ROWS) fault("rows", `At most ${MOST_ROWS} rows can be planned at once.`);
  rows.forEach(({ lengthIn, supportsIn, offsetIn = 0 }, r) => {
    if (!(lengthIn > 0) || !isLength(lengthIn))
      fault(`rows[${r}].lengthIn`, `Give a length above zero to the nearest 1/64 in, not ${lengthIn}.`);
    if (!Number.isFinite(offsetIn) || !isLength(offsetIn))
      fault(`rows[${r}].offsetIn`, `Give the start of the row to the nearest 1/64 in, not ${offsetIn}.`);
    const rising = supportsIn.every((s, i) => isLength(s) && (i === 0 || s > (supportsIn[i - 1] ?? 0)));
    if (!rising)
      fault(`rows[${r}].supportsIn`, "Give the supports in rising order, each to the nearest 1/64 in.");
    else if (supportsIn[0] !== 0 || supportsIn.at(-1) !== lengthIn)
      fault(
        `rows[${r}].supportsIn`,
        `The first support must be at 0 and the last at the row's end, ${lengthIn}.`,
      );
    if (supportsIn.length > MOST_SUPPORTS)
      fault(`rows[${r}].supportsIn`, `At most ${MOST_SUPPORTS} supports can be planned in a row.`);
  });
  if (findings.length > 0) throw new EstimateInputError(findings);

  const usable = stock.filter(({ limit }) => limit !== 0).map((s) => s.lengthIn - 2 * endTrimIn);
  const longest = Math.max(0, ...usable);
  const lengths = new Set<number>();
  const kinds = rows.map(({ supportsIn }, r): RowKind => {
    for (let bears = Math.min(minSupports, supportsIn.length); bears >= 2; bears--) {
      const kind = { supportsIn, allowed: supportsIn.map(() => true), minSupports: bears, rows: 1 };
      if (!cheapestSplit(kind, (length) => (length <= longest ? 1 : Number.POSITIVE_INFINITY))) continue;
      supportsIn.forEach((end, j) => {
        for (let i = 0; i <= j - bears + 1; i++) {
          const length = end - (supportsIn[i] ?? 0);
          if (length > 0 && length <= longest) lengths.add(length);
        }
      });
      return kind;
    }
    fault(
      `rows[${r}].supportsIn`,
      `Two supports are further apart than the ${longest} in that the longest stock gives.`,
    );
    return { supportsIn, allowed: [], minSupports: 2, rows: 1 };
  });
  if (findings.length > 0) throw new EstimateInputError(findings);

  const along = rows.map(({ supportsIn, offsetIn = 0 }) => supportsIn.map((s) => s + offsetIn));
  const sorted = [...new Set(along.flat())].sort((a, b) => a - b);
  const placeOf = new Map(sorted.map((position, place) => [position, place]));
  return { rows: kinds, places: along.map((own) => own.map((p) => placeOf.get(p) ?? -1)), lengths };
}

/** Like rows taken together, where `mayJoin` says which places along the deck a row's joints may use. */
export function kindsOf(
  { rows, places }: Rows,
  mayJoin: (place: number, row: number) => boolean,
): { kinds: RowKind[]; kindOf: number[] } {
  const kinds: RowKind[] = [];
  const known = new Map<string, number>();
  const kindOf = rows.map((row, r) => {
    const allowed = row.supportsIn.map((_, i) => mayJoin(places[r]?.[i] ?? -1, r));
    const key = `${row.minSupports}|${row.supportsIn.join()}|${allowed.map(Number).join("")}`;
    const index = known.get(key);
    if (index !== undefined) {
      const kind = kinds[index] as RowKind;
      kind.rows += 1;
      return index;
    }
    known.set(key, kinds.length);
    kinds.push({ ...row, allowed });
    return kinds.length - 1;
  });
  return { kinds, kindOf };
}
