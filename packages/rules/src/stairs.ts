import { lengthWords } from "@ledgerboard/contracts/measure";
import { CODE_VALUES, type CodeCheck, codeCheck, inchWords } from "./code-values.ts";

const V = CODE_VALUES;

/** Height of one riser, inches. Source: IRC R311.7.5.1, from memory. */
export const riserCheck = (riserIn: number): CodeCheck =>
  codeCheck("riser_height", "max_riser", {
    ok: riserIn <= V.max_riser.value,
    measured: riserIn,
    limit: V.max_riser.value,
    words: `Risers come to ${inchWords(riserIn)}; ${inchWords(V.max_riser.value)} is the most.`,
  });

/** Depth of one tread, nosing to nosing, inches. Source: IRC R311.7.5.2, from memory. */
export const treadCheck = (treadDepthIn: number): CodeCheck =>
  codeCheck("tread_depth", "min_tread_depth", {
    ok: treadDepthIn >= V.min_tread_depth.value,
    measured: treadDepthIn,
    limit: V.min_tread_depth.value,
    words: `Treads are ${inchWords(treadDepthIn)} deep; ${inchWords(V.min_tread_depth.value)} is the least.`,
  });

/**
 * The largest less the smallest of one flight's risers or treads, measured in inches; null for fewer than two.
 * Source: IRC R311.7.5.1 and R311.7.5.2, from memory.
 */
export function variationCheck(what: "risers" | "treads", measuredIn: readonly number[]): CodeCheck | null {
  if (measuredIn.length < 2) return null;
  const id = what === "risers" ? "riser_uniformity" : "tread_uniformity";
  const limit = V[id].value;
  const measured = Math.max(...measuredIn) - Math.min(...measuredIn);
  return codeCheck(id, id, {
    ok: measured <= limit,
    measured,
    limit,
    words: `The ${what} of the flight differ by ${inchWords(measured)}; ${inchWords(limit)} is the most.`,
  });
}

/** The opening between treads of a stair with open risers: no 4 in sphere above 30 in. Source: IRC R311.7.5.1, from memory. */
export const openRiserCheck = (openingIn: number): CodeCheck =>
  codeCheck("open_riser", "open_riser_sphere", {
    ok: openingIn < V.open_riser_sphere.value,
    measured: openingIn,
    limit: V.open_riser_sphere.value,
    words: `Open risers leave ${inchWords(openingIn)}; a ${V.open_riser_sphere.value} in sphere must not pass more than 30 in above the ground.`,
  });

/** Clear width of a stair, inches. Source: IRC R311.7.1, from memory. */
export const stairWidthCheck = (widthIn: number): CodeCheck =>
  codeCheck("stair_width", "stair_min_width", {
    ok: widthIn >= V.stair_min_width.value,
    measured: widthIn,
    limit: V.stair_min_width.value,
    words: `The stair is ${inchWords(widthIn)} wide; ${inchWords(V.stair_min_width.value)} is the least.`,
  });

/** Whether a flight with this many risers needs a handrail. Source: IRC R311.7.8, from memory. */
export const handrailNeeded = (risers: number): CodeCheck =>
  codeCheck("handrail_needed", "handrail_required_from_risers", {
    ok: risers < V.handrail_required_from_risers.value,
    measured: risers,
    limit: V.handrail_required_from_risers.value,
    words: `The flight has ${risers} risers; from ${V.handrail_required_from_risers.value} on it needs a handrail.`,
  });

/** Height of a handrail above the nosings, inches: 34 to 38. Source: IRC R311.7.8.1, from memory. */
export function handrailHeightCheck(heightIn: number): CodeCheck {
  const [least = 0, most = 0] = V.handrail_height.value;
  const limit = heightIn < least ? least : most;
  return codeCheck("handrail_height", "handrail_height", {
    ok: heightIn >= least && heightIn <= most,
    measured: heightIn,
    limit,
    words: `The handrail is ${inchWords(heightIn)} high; it should be ${least} to ${most} in.`,
  });
}

/**
 * Spacing of stringers, inches on center, from the stair's width: they stand at both edges and evenly between; null
 * for fewer than two. Source: DCA 6 stair requirements, from memory.
 */
export function stringerSpacingCheck(stair: { widthIn: number; stringers: number }): CodeCheck | null {
  if (stair.stringers < 2) return null;
  const limit = V.stringer_spacing.value.dca6_max_in;
  const measured = stair.widthIn / (stair.stringers - 1);
  return codeCheck("stringer_spacing", "stringer_spacing", {
    ok: measured <= limit,
    measured,
    limit,
    words: `${stair.stringers} stringers under ${inchWords(stair.widthIn)} stand ${inchWords(measured)} apart; ${limit} in is the most.`,
  });
}

/** Span of a 2x12 stringer along the level, inches. Source: DCA 6 stair figures, Southern Pine, from memory: low confidence. */
export function stringerSpanCheck(stringer: { runIn: number; cut: boolean }): CodeCheck {
  const { cut_2x12_in, solid_2x12_in } = V.stringer_spans.value;
  const limit = stringer.cut ? cut_2x12_in : solid_2x12_in;
  return codeCheck("stringer_span", "stringer_spans", {
    ok: stringer.runIn <= limit,
    measured: stringer.runIn,
    limit,
    words: `The stringers run ${lengthWords(stringer.runIn)}; ${lengthWords(limit)} is the most for a ${stringer.cut ? "cut" : "solid"} 2x12 without a post under it.`,
  });
}
