import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { lengthWords } from "@ledgerboard/contracts/measure";
import type { InputFinding } from "../input-error.ts";
import { upToSixteenth } from "./lengths.ts";
import { LIKELY_RISER_IN, MAX_RISER_IN } from "./sizes.ts";
import type { StairCount } from "./types.ts";

type Stair = ZoneGeometry["stairs"][number];

/** A stair with what it was counted from, in inches. */
export interface CountedStair extends StairCount {
  widthIn: number;
  treadDepthIn: number;
  closedRisers: boolean;
}

/**
 * Counts one stair; null, with findings, when its rise is not known. Rises: as counted on site, or the fewest that
 * keep each within 7 3/4 in (IRC R311.7.5.1, from memory). Treads: one fewer, as the walking surface is the last step.
 * A cut stringer needs one slope length for each rise: n x √(rise² + going²), common practice, no source.
 */
export function countStair(stair: Stair, field: string, findings: InputFinding[]): CountedStair | null {
  const add = (name: string, words: string) => findings.push({ field: `${field}.${name}`, words });
  if (stair.widthIn === 0) add("widthIn", "Is zero; a stair needs a width for its treads to be measured.");
  if (stair.totalRiseIn === 0) {
    add("totalRiseIn", "Is zero; a stair that rises nothing has no steps to count.");
    return null;
  }
  const risers = stair.risers ?? Math.ceil(stair.totalRiseIn / MAX_RISER_IN);
  const riserHeightIn = stair.totalRiseIn / risers;
  const { low, high } = LIKELY_RISER_IN;
  if (stair.risers !== null && (riserHeightIn < low || riserHeightIn > high))
    add(
      "risers",
      `${risers} rises over ${lengthWords(stair.totalRiseIn)} are ${lengthWords(riserHeightIn)} each, which nobody builds; count them again.`,
    );
  const treads = risers - 1;
  if (stair.treadDepthIn === 0 && treads > 0)
    add("treadDepthIn", "Is zero; the stringers and treads need the depth of a step to be measured.");
  if (stair.stringers === 0 && treads > 0) add("stringers", "Treads, but no stringer to carry them.");
  return {
    risers,
    riserHeightIn,
    treads,
    treadBoards: treads * stair.boardsPerTread,
    stringers: stair.stringers,
    stringerLengthIn: upToSixteenth(risers * Math.hypot(riserHeightIn, stair.treadDepthIn)),
    widthIn: stair.widthIn,
    treadDepthIn: stair.treadDepthIn,
    closedRisers: stair.closedRisers,
  };
}
