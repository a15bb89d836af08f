import type { Component } from "@ledgerboard/contracts/vocabulary";
import data from "../../../shared/work-cautions.json" with { type: "json" };

export interface WorkCaution {
  id: "lead_paint" | "falls" | "old_treated_wood" | "call_before_dig" | "salt";
  words: string;
  source: string;
  /** Who has the last word; printed with every caution. */
  defer: string;
}

/** Work on these is done from the ground; everything else may have an edge to fall from. */
const AT_GROUND: ReadonlySet<Component> = new Set(["footing", "skirting", "lattice"]);
const DIGGING: ReadonlySet<Component> = new Set(["footing", "post"]);
const NOT_WOOD: ReadonlySet<Component> = new Set(["footing", "joist_hanger", "flashing", "fastener"]);
const HAS_METAL: ReadonlySet<Component> = new Set([
  "joist_hanger",
  "fastener",
  "flashing",
  "ledger",
  "post",
  "beam",
  "guard_post",
  "decking",
  "stringer",
]);

/**
 * The cautions for a work order, in a fixed order, none when there is no work. `yearBuilt` is the year the
 * house was built, null when it is not known: an unknown year is treated as an old one. `components` are
 * those worked on. `salt` is true near salt water. Words, limits and sources are in shared/work-cautions.json.
 */
export function workCautions(work: {
  yearBuilt: number | null;
  components: readonly Component[];
  salt: boolean;
}): WorkCaution[] {
  const { yearBuilt, components, salt } = work;
  const some = (set: ReadonlySet<Component>) => components.some((c) => set.has(c));
  const beyond = (set: ReadonlySet<Component>) => components.some((c) => !set.has(c));
  const fires: Record<WorkCaution["id"], boolean> = {
    lead_paint: components.length > 0 && (yearBuilt === null || yearBuilt < data.lead_paint.built_before),
    falls: beyond(AT_GROUND),
    old_treated_wood:
      beyond(NOT_WOOD) && (yearBuilt === null || yearBuilt <= data.old_treated_wood.built_up_to),
    call_before_dig: some(DIGGING),
    salt: salt && some(HAS_METAL),
  };
  return (Object.keys(fires) as WorkCaution["id"][])
    .filter((id) => fires[id])
    .map((id) => ({ id, words: data[id].words, source: data[id].source, defer: data.defer }));
}
