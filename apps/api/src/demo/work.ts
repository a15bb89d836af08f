import type { Doer, Reason, ZoneKind } from "@ledgerboard/contracts";
import type { Random } from "./random.ts";

export interface ZoneSpec {
  name: string;
  kind: ZoneKind;
  length: number | null;
  width: number | null;
  height: number | null;
}

/** What the first pass writes down: a price book item and how much of it. */
export interface Line {
  zone: string;
  item: string;
  quantity: number;
}

/** A job as sales sees it: where, and what to do there. Quantities follow from the zones' measures. */
export interface Work {
  title: string;
  zones: ZoneSpec[];
  lines: Line[];
  /** The customer's words. */
  words: string;
}

/** What the senior found instead of a line, or beside the lines. */
export interface Finding {
  /** Null: it stays, without a price. */
  item: string | null;
  quantity: number;
  by?: Doer;
  concealed?: boolean;
  code: Reason;
  reason: string;
}

export const zone = (
  name: string,
  kind: ZoneKind,
  length: number | null,
  width: number | null,
  height: number | null = null,
): ZoneSpec => ({ name, kind, length, width, height });

/** Joists 16 in apart across a length in feet, both ends counted. */
export const joistsAcross = (feet: number): number => Math.floor((feet * 12) / 16) + 1;
/** Guard posts at most 6 ft apart along a run in feet, both ends counted. */
export const postsAlong = (feet: number): number => Math.ceil(feet / 6) + 1;
/** Treads of a stair of that height in feet, 7½ in a step; the last step is the landing itself. */
export const treadsUp = (height: number): number => Math.round((height * 12) / 7.5) - 1;

export type Template = (random: Random) => Work;
