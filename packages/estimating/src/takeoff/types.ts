import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import type { Component, Unit, ZoneKind } from "@ledgerboard/contracts/vocabulary";
import type { InputFinding } from "../input-error.ts";

/** What is known of a zone: a drawing, or only its rough size in feet as decimal text. */
export interface TakeoffZone {
  kind: ZoneKind;
  geometry: ZoneGeometry | null;
  lengthFt: string | null;
  widthFt: string | null;
  heightFt: string | null;
}

/** Pieces of one length to cut: `section` such as "2x8", `lengthIn` in inches (a multiple of 1/16). */
export interface Piece {
  component: Component;
  section: string;
  lengthIn: number;
  count: number;
}

/**
 * One run of deck boards from edge to edge. `supportsIn` are the places a board may end, in inches from the start of
 * the row: 0, every joist it crosses, and `lengthIn`.
 */
export interface BoardRow {
  /**
   * Where the row begins, so that `startIn` and a support together are one number for one joist in every row: along the
   * boards for straight ones, along the joists' spacing times √2 for diagonal ones.
   */
  startIn: number;
  lengthIn: number;
  supportsIn: number[];
}

/** How much of a component is there: `quantity` as decimal text, `how` the arithmetic in plain words. */
export interface Existing {
  component: Component;
  unit: Unit;
  quantity: string;
  how: string;
}

/** Lengths ending in Lf are in feet, rounded to four places; null where the drawing does not tell. */
export interface Counts {
  /** Rows of field boards across the surface; a row broken by a cut-out is one row. */
  boardRows: number | null;
  boardLf: number | null;
  borderLf: number | null;
  /** Joists, the two outside ones among them; a joist too long for one length counts as two. */
  joists: number | null;
  joistLf: number | null;
  /** Headers across the joists at cut-outs. */
  headers: number | null;
  headerLf: number | null;
  /** Board across the joist ends wherever no ledger carries them. */
  rimLf: number | null;
  /** Places where a deck board bears on a joist, rim or ledger. */
  crossings: number | null;
  deckFasteners: number | null;
  hangers: number | null;
  ledgerLf: number | null;
  /** Length of the beam lines; the plies of a built-up beam are not counted. */
  beamLf: number | null;
  posts: number | null;
  footings: number | null;
  /** Length of railing measured along its run, gates left out. */
  guardLf: number | null;
  guardSections: number | null;
  guardPosts: number | null;
  /** Length of the rails themselves, between post faces. */
  railLf: number | null;
  capLf: number | null;
  balusters: number | null;
  latticeSqft: number | null;
  gates: number | null;
  risers: number | null;
  treads: number | null;
  treadBoards: number | null;
  stringers: number | null;
  /** Board needed for the longest stringer, in inches. */
  stringerLengthIn: number | null;
  /** Height of the highest rise, in inches. */
  stairRiserHeightIn: number | null;
}

/** One stair of the zone as counted. Lengths in inches. */
export interface StairCount {
  risers: number;
  riserHeightIn: number;
  treads: number;
  treadBoards: number;
  stringers: number;
  stringerLengthIn: number;
}

/** One guard run as counted. Lengths in inches. */
export interface GuardCount {
  sections: number;
  posts: number;
  gates: number;
  /** Between post faces, in each section. */
  clearWidthIn: number;
  balustersPerSection: number;
  /** Clear opening between balusters when they are spread evenly; null without balusters. */
  balusterGapIn: number | null;
}

export interface Takeoff {
  /** What is wrong with the input; what can still be counted is counted. */
  findings: InputFinding[];
  /** Walking surface less cut-outs, the surface with them, and its outline; decimal text, null when not known. */
  areaSqft: string | null;
  grossAreaSqft: string | null;
  perimeterFt: string | null;
  counts: Counts;
  stairs: StairCount[];
  guards: GuardCount[];
  existing: Existing[];
  pieces: Piece[];
  /** Field boards in order across the surface, from the house out. */
  boardRows: BoardRow[];
}
