import code from "../../../../shared/deck-code.json" with { type: "json" };
import data from "../../../../shared/deck-sizes.json" with { type: "json" };

const v = data.values;
const nominal: Record<string, number> = v.nominal_widths_in.value;

/** Thickness of two-by lumber, in. */
export const TWO_BY_IN = v.two_by_thickness_in.value;
/** Face of a guard post, in. */
export const GUARD_POST_IN = v.four_by_thickness_in.value;
export const DECKING_THICKNESS_IN = v.decking_thickness_in.value;
export const JOIST_DEPTH_IN = v.joist_depth_in.value;
/** Screws or nails where a board crosses a joist. */
export const FASTENERS_PER_CROSSING = v.fasteners_per_crossing.value;
/** Used only to choose the number of rises where nobody counted them. */
export const MAX_RISER_IN = code.values.max_riser.value;
const [lowRiser = 0, highRiser = 0] = v.likely_riser_in.value;
export const LIKELY_RISER_IN = { low: lowRiser, high: highRiser };
export const LONGEST_PIECE_IN = v.longest_piece_in.value;
export const LONGEST_JOIST_IN = v.longest_joist_in.value;
export const GUARD_POST_BELOW_DECK_IN = v.guard_post_below_deck_in.value;
export const BALUSTER_SHORTER_IN = v.baluster_shorter_than_guard_in.value;
export const NARROWEST_BOARD_IN = v.narrowest_board_in.value;
export const CLOSEST_JOISTS_IN = v.closest_joists_in.value;
export const MOST_BEARINGS = v.most_bearings.value;
/** What these are usually cut from, where the drawing does not say. */
export const SECTIONS = v.assumed_sections.value;

/** "5/4x6", "2x6" or, for widths no mill names, "5/4x3.25 in"; composite boards have no nominal size. */
export function deckBoardSection(thickness: keyof typeof DECKING_THICKNESS_IN, widthIn: number): string {
  if (thickness === "composite") return "composite board";
  const name = nominal[String(widthIn)] ?? `${widthIn} in`;
  return `${thickness === "two_by" ? "2" : "5/4"}x${name}`;
}
