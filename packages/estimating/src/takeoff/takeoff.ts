import { latticeSquareInches, listExisting } from "./existing.ts";
import { feetNumber, sum } from "./lengths.ts";
import { type Measured, measure } from "./measured.ts";
import { zonePieces } from "./pieces.ts";
import { FASTENERS_PER_CROSSING } from "./sizes.ts";
import type { Counts, GuardCount, StairCount, Takeoff, TakeoffZone } from "./types.ts";

const feetOf = (lengthsIn: readonly number[] | null | undefined) =>
  lengthsIn ? feetNumber(sum(lengthsIn)) : null;

function surfaceCounts({ frame, deck, geometry }: Measured) {
  const posts = geometry?.framing?.posts ?? null;
  const crossings = deck?.crossings ?? null;
  return {
    boardRows: deck?.rows ?? null,
    boardLf: feetOf(deck?.boardRows.map((row) => row.lengthIn)),
    borderLf: feetOf(deck?.borderIn),
    joists: frame?.joistsIn?.length ?? null,
    joistLf: feetOf(frame?.joistsIn),
    headers: frame?.headersIn.length ?? null,
    headerLf: feetOf(frame?.headersIn),
    rimLf: feetOf(frame?.rimsIn),
    crossings,
    deckFasteners: crossings === null ? null : crossings * FASTENERS_PER_CROSSING,
    hangers: frame?.hangers ?? null,
    ledgerLf: feetOf(frame?.ledgersIn),
    beamLf: feetOf(frame?.beamsIn),
    posts,
    footings: posts,
  };
}

function guardCounts(m: Measured) {
  const { guards } = m;
  const total = (of: (guard: (typeof guards)[number]) => number) =>
    guards.length > 0 ? sum(guards.map(of)) : null;
  return {
    guardLf: guards.length > 0 ? feetNumber(sum(guards.map((g) => g.runIn))) : null,
    guardSections: total((g) => g.sections),
    guardPosts: total((g) => g.posts),
    railLf: guards.length > 0 ? feetOf(guards.flatMap((g) => g.railsIn)) : null,
    capLf: guards.length > 0 ? feetOf(guards.flatMap((g) => g.capsIn)) : null,
    balusters: total((g) => g.sections * g.balustersPerSection),
    latticeSqft: guards.length > 0 ? Math.round((latticeSquareInches(m) / 144) * 10_000) / 10_000 : null,
    gates: total((g) => g.gates),
  };
}

function stairCounts({ stairs }: Measured) {
  const total = (of: (stair: StairCount) => number) => (stairs.length > 0 ? sum(stairs.map(of)) : null);
  const most = (of: (stair: StairCount) => number) =>
    stairs.length > 0 ? Math.max(...stairs.map(of)) : null;
  return {
    risers: total((s) => s.risers),
    treads: total((s) => s.treads),
    treadBoards: total((s) => s.treadBoards),
    stringers: total((s) => s.stringers),
    stringerLengthIn: most((s) => s.stringerLengthIn),
    stairRiserHeightIn: most((s) => s.riserHeightIn),
  };
}

const stairCount = ({
  risers,
  riserHeightIn,
  treads,
  treadBoards,
  stringers,
  stringerLengthIn,
}: StairCount) => ({
  risers,
  riserHeightIn,
  treads,
  treadBoards,
  stringers,
  stringerLengthIn,
});
const guardCount = (g: GuardCount): GuardCount => ({
  sections: g.sections,
  posts: g.posts,
  gates: g.gates,
  clearWidthIn: g.clearWidthIn,
  balustersPerSection: g.balustersPerSection,
  balusterGapIn: g.balusterGapIn,
});

/**
 * Counts what is there in a zone: areas, boards, frame, stairs and guards, from its drawing, or the bare rectangle from its
 * size in feet when there is no drawing. Never throws: what is wrong with the drawing comes back as findings that name
 * the field, and what can still be counted is counted. The rules of each count stand where it is made: boards and
 * crossings in decking.ts, joists and hangers in framing.ts, stairs.ts and guards.ts. Constants, each with its
 * source: shared/deck-sizes.json.
 */
export function takeoff(zone: TakeoffZone): Takeoff {
  const m = measure(zone);
  const counts: Counts = { ...surfaceCounts(m), ...guardCounts(m), ...stairCounts(m) };
  return {
    findings: m.findings,
    areaSqft: m.areaSqft,
    grossAreaSqft: m.grossAreaSqft,
    perimeterFt: m.perimeterFt,
    counts,
    stairs: m.stairs.map(stairCount),
    guards: m.guards.map(guardCount),
    existing: listExisting(m),
    pieces: zonePieces(m),
    boardRows: m.deck?.boardRows ?? [],
  };
}
