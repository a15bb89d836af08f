import type { Revision, ScopeLine } from "@ledgerboard/contracts/estimates";
import type { PriceBook } from "@ledgerboard/contracts/price-book";
import {
  type AgreedPrice,
  type Charge,
  type LinePrice,
  type LineRates,
  type PricedRevision,
  priceRevision,
  type Standing,
} from "@ledgerboard/estimating";
import { allowanceFaults, wholeAllowance } from "./allowance.ts";
import { ratesOf } from "./book.ts";
import type { Draft } from "./desk.ts";
import { allowanceOf, type Edit, isOtherWork, toEdit } from "./edit.ts";

/** A scope line as it will be once saved: the stored one with what is typed, at the rates it will have. */
export interface TypedLine
  extends Pick<
    ScopeLine,
    | "id"
    | "lineageId"
    | "zoneId"
    | "component"
    | "action"
    | "assemblyCode"
    | "description"
    | "quantity"
    | "unit"
    | "evidence"
    | "by"
    | "alternate"
    | "allowance"
  > {
  rates: LineRates | null;
}

export interface Priced {
  line: TypedLine;
  price: LinePrice;
  standing: Standing;
  agreed: AgreedPrice | null;
}

export interface Row {
  line: ScopeLine;
  draft: Draft | undefined;
}

/** Everything typed, priced as a whole. A line without a quantity, or beyond reason, is left out until it has one. */
export interface Sheet {
  whole: PricedRevision<TypedLine, Charge>;
  /** By the id of the line. */
  priced: ReadonlyMap<string, Priced>;
}

interface From {
  book: PriceBook | undefined;
  terms: Revision["terms"];
  /** Near salt water, where some materials are exchanged for others. */
  salt: boolean;
}

/** The same rule the service has: a line keeps its rates until its work changes or the price is said to have moved. */
function ratesFor({ book, salt }: From, line: ScopeLine, edit: Edit): LineRates | null {
  if (edit.assemblyCode === null) return null;
  const moved = edit.reasonCode === "price_moved" && line.reasonCode !== "price_moved";
  if (!moved && !isOtherWork(edit, line)) return line.rates;
  return ratesOf(book, edit.assemblyCode, salt);
}

type Identity = Pick<ScopeLine, "id" | "lineageId">;

/** What is typed as a line; null while it has no quantity, or its allowance is incomplete or contradicts itself. */
export function typedLine(
  { id, lineageId }: Identity,
  edit: Edit,
  rates: LineRates | null,
): TypedLine | null {
  if (edit.quantity === null) return null;
  const begun = allowanceOf(edit);
  if (begun && Object.keys(allowanceFaults(begun, edit.quantity)).length > 0) return null;
  const { zoneId, component, action, assemblyCode, description, quantity, unit, evidence, by } = edit;
  return {
    id,
    lineageId,
    zoneId,
    component,
    action,
    assemblyCode,
    description,
    quantity,
    unit,
    evidence,
    by,
    alternate: edit.alternate.trim() || null,
    allowance: wholeAllowance(begun),
    rates,
  };
}

/** Prices lines and charges as one; lines that are beyond reason are left out. */
export function priceAll(
  lines: readonly TypedLine[],
  charges: readonly Charge[],
  terms: Revision["terms"],
): PricedRevision<TypedLine, Charge> {
  const all = { lines, charges };
  try {
    return priceRevision(all, terms);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return priceRevision({ lines: lines.filter((line) => isSound(line, terms)), charges }, terms);
  }
}

function isSound(line: TypedLine, terms: Revision["terms"]): boolean {
  try {
    priceRevision({ lines: [line] }, terms);
    return true;
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}

export const chargesOf = (revision: Pick<Revision, "charges">): Charge[] =>
  revision.charges.map(({ kind, words, cost, atCost }) => ({ kind, words, costCents: cost.cents, atCost }));

/**
 * Prices of a draft as it is being typed. What did not change keeps its identity from one call to the next, for as
 * long as book and terms stay the same, so that a row whose line nobody touches is not drawn again.
 */
export function pricer(from: From) {
  const typed = new WeakMap<ScopeLine | Draft, { line: TypedLine | null }>();
  const known = new WeakMap<TypedLine, Priced>();
  const typedOf = ({ line, draft }: Row): TypedLine | null => {
    const key = draft ?? line;
    let found = typed.get(key);
    if (!found) {
      const edit = draft?.edit ?? toEdit(line);
      found = { line: typedLine(line, edit, draft ? ratesFor(from, line, edit) : line.rates) };
      typed.set(key, found);
    }
    return found.line;
  };
  return (rows: readonly Row[], charges: readonly Charge[]): Sheet => {
    const lines = rows.flatMap((row) => typedOf(row) ?? []);
    const whole = priceAll(lines, charges, from.terms);
    const byId = new Map(lines.map((line) => [line.id, line]));
    const priced = new Map<string, Priced>();
    for (const { id, price, standing, agreed } of whole.lines) {
      const line = byId.get(id);
      if (!line) continue;
      const one = known.get(line) ?? { line, price, standing, agreed };
      known.set(line, one);
      priced.set(id, one);
    }
    return { whole, priced };
  };
}
