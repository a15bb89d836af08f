import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { lengthWords } from "@ledgerboard/contracts/measure";
import type { InputFinding } from "../input-error.ts";
import { splitLength, toSixteenth, upToSixteenth } from "./lengths.ts";
import { GUARD_POST_IN, LONGEST_PIECE_IN } from "./sizes.ts";
import type { GuardCount } from "./types.ts";

type Guard = ZoneGeometry["guards"][number];

/** A guard run with what it was counted from. Lengths in inches. */
export interface CountedGuard extends GuardCount {
  /** Along the run, gates left out. */
  runIn: number;
  heightIn: number;
  infill: Guard["infill"];
  balusterWidthIn: number;
  railsIn: number[];
  capsIn: number[];
}

/** The fewest balusters that keep every opening within `gapIn` when spread evenly over the clear width. */
const fewestBalusters = (clearIn: number, widthIn: number, gapIn: number) =>
  Math.max(0, Math.ceil((clearIn - gapIn) / (widthIn + gapIn) - 1e-9));

function checkGuard(
  guard: Guard,
  field: string,
  findings: InputFinding[],
): { gates: number; runIn: number } | null {
  const add = (name: string, words: string) => findings.push({ field: `${field}.${name}`, words });
  if (guard.lengthIn === 0) add("lengthIn", "Is zero; a guard run needs a length to be counted.");
  if (guard.heightIn === 0)
    add("heightIn", "Is zero; posts and infill need the guard's height to be measured.");
  if (guard.lengthIn === 0) return null;
  let { gates } = guard;
  const openings = gates * guard.gateWidthIn;
  if (gates > 0 && guard.gateWidthIn === 0) {
    add("gateWidthIn", "Is zero; a gate needs a width. The run is counted without an opening for it.");
  } else if (gates > 0 && openings > guard.lengthIn) {
    add(
      "gateWidthIn",
      `${gates === 1 ? "The gate is" : "The gates are together"} ${lengthWords(openings)} wide, more than the run of ${lengthWords(guard.lengthIn)}; counted without.`,
    );
    gates = 0;
  }
  return { gates, runIn: guard.lengthIn - gates * guard.gateWidthIn };
}

/**
 * Counts one guard run, measured between the centers of its end posts; null, with findings, when it has no length. The run
 * less its gates is divided into the fewest equal sections within the post spacing; a gate hangs between two posts, so
 * sections and gates together have one post more, less those another run already counts. Rails and balusters stand
 * between post faces. On a stair the run is measured along the slope.
 */
export function countGuard(guard: Guard, field: string, findings: InputFinding[]): CountedGuard | null {
  const checked = checkGuard(guard, field, findings);
  if (!checked) return null;
  const { gates, runIn } = checked;
  const add = (name: string, words: string) => findings.push({ field: `${field}.${name}`, words });

  let sections = runIn === 0 ? 0 : 1;
  if (runIn > 0 && guard.postSpacingIn <= GUARD_POST_IN)
    add(
      "postSpacingIn",
      `Must be more than the ${lengthWords(GUARD_POST_IN)} of a post; posts are counted at the ends only.`,
    );
  else if (runIn > 0) sections = Math.ceil(runIn / guard.postSpacingIn);
  const clearWidthIn = sections === 0 ? 0 : Math.max(0, runIn / sections - GUARD_POST_IN);

  const withBalusters = guard.infill === "balusters" && sections > 0;
  const spaced = guard.balusterWidthIn > 0 && guard.clearGapIn > 0;
  if (withBalusters && guard.balusterWidthIn === 0)
    add("balusterWidthIn", "Is zero; balusters cannot be counted.");
  if (withBalusters && guard.clearGapIn === 0)
    add("clearGapIn", "Is zero; balusters cannot be counted without a gap.");
  if (withBalusters && guard.rails === 0) add("rails", "Balusters, but no rail to hold them.");
  if (guard.infill === "rails_only" && guard.rails === 0)
    add("rails", "Filled with rails only, but there is none.");
  const balustersPerSection =
    withBalusters && spaced ? fewestBalusters(clearWidthIn, guard.balusterWidthIn, guard.clearGapIn) : 0;

  const railsIn = Array.from({ length: sections * guard.rails }, () => upToSixteenth(clearWidthIn));
  return {
    sections,
    posts: Math.max(0, sections + gates + 1 - (guard.sharedPosts ?? 0)),
    gates,
    clearWidthIn,
    balustersPerSection,
    balusterGapIn:
      withBalusters && spaced
        ? Math.max(0, clearWidthIn - balustersPerSection * guard.balusterWidthIn) / (balustersPerSection + 1)
        : null,
    runIn,
    heightIn: guard.heightIn,
    infill: guard.infill,
    balusterWidthIn: guard.balusterWidthIn,
    railsIn,
    capsIn: guard.cap ? splitLength(toSixteenth(runIn), LONGEST_PIECE_IN) : [],
  };
}
