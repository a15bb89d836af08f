import { gather, splitLength, upToSixteenth } from "./lengths.ts";
import type { Measured } from "./measured.ts";
import {
  BALUSTER_SHORTER_IN,
  DECKING_THICKNESS_IN,
  deckBoardSection,
  GUARD_POST_BELOW_DECK_IN,
  JOIST_DEPTH_IN,
  LONGEST_PIECE_IN,
  SECTIONS,
  TWO_BY_IN,
} from "./sizes.ts";
import type { Piece } from "./types.ts";

const repeat = (count: number, lengthIn: number) =>
  Array.from({ length: count }, () => upToSixteenth(lengthIn));

function deckingSection({ geometry }: Measured): string | null {
  const decking = geometry?.decking;
  return decking ? deckBoardSection(decking.thickness, decking.boardWidthIn) : null;
}

/** A guard post reaches from the top of the guard down past the boards and the joist it is bolted to. */
function postBelowDeck({ geometry }: Measured): number {
  if (!geometry?.framing) return GUARD_POST_BELOW_DECK_IN;
  const boards = geometry.decking ? DECKING_THICKNESS_IN[geometry.decking.thickness] : 0;
  return JOIST_DEPTH_IN[geometry.framing.joistSize] + boards;
}

/** A baluster as wide as dressed two-by is a 2x2; others are named by their width. */
const balusterSection = (widthIn: number) =>
  widthIn === TWO_BY_IN ? SECTIONS.baluster : `${widthIn} in baluster`;

/**
 * The boards to cut for the whole zone, by component in trade order. A line of beam longer than the boards that yards
 * keep is made of equal pieces, one ply of it; its plies are for the assembly to say. Posts under the deck are as long
 * as it is high;
 * lattice, gates, hardware and finish are not cut from lengths and have no pieces.
 */
export function zonePieces(m: Measured): Piece[] {
  const { geometry, frame, deck, stairs, guards } = m;
  const board = deckingSection(m) ?? SECTIONS.tread;
  const pieces: Piece[] = [];
  if (deck) {
    const field = deck.boardRows.map((row) => row.lengthIn);
    pieces.push(...gather("decking", board, [...field, ...deck.borderIn]));
  }
  if (frame && geometry?.framing) {
    const { joistSize } = geometry.framing;
    pieces.push(
      ...gather("joist", joistSize, [...(frame.joistsIn ?? []), ...frame.headersIn]),
      ...gather("rim_joist", joistSize, frame.rimsIn),
      ...gather(
        "beam",
        SECTIONS.beam,
        (frame.beamsIn ?? []).flatMap((lengthIn) => splitLength(lengthIn, LONGEST_PIECE_IN)),
      ),
      ...gather("ledger", joistSize, frame.ledgersIn),
    );
  }
  pieces.push(...gather("post", SECTIONS.post, repeat(geometry?.framing?.posts ?? 0, m.heightIn ?? 0)));
  const below = postBelowDeck(m);
  const each = <T>(items: readonly T[], lengths: (item: T) => number[]) => items.flatMap(lengths);
  pieces.push(
    ...gather(
      "guard_post",
      SECTIONS.guard_post,
      each(guards, (g) => repeat(g.posts, g.heightIn + below)),
    ),
    ...gather(
      "rail_cap",
      SECTIONS.rail_cap,
      each(guards, (g) => g.capsIn),
    ),
    ...gather(
      "rail",
      SECTIONS.rail,
      each(guards, (g) => g.railsIn),
    ),
  );
  for (const width of new Set(guards.map((g) => g.balusterWidthIn))) {
    const same = guards.filter((g) => g.balusterWidthIn === width);
    const lengths = each(same, (g) =>
      repeat(g.balustersPerSection * g.sections, Math.max(0, g.heightIn - BALUSTER_SHORTER_IN)),
    );
    pieces.push(...gather("baluster", balusterSection(width), lengths));
  }
  pieces.push(
    ...gather(
      "stringer",
      SECTIONS.stringer,
      each(stairs, (s) => repeat(s.stringers, s.stringerLengthIn)),
    ),
    ...gather(
      "tread",
      board,
      each(stairs, (s) => repeat(s.treadBoards, s.widthIn)),
    ),
    ...gather(
      "riser",
      SECTIONS.riser,
      each(stairs, (s) => repeat(s.closedRisers ? s.risers : 0, s.widthIn)),
    ),
  );
  return pieces;
}
