import type { Component, Unit } from "@ledgerboard/contracts/vocabulary";
import type { Takeoff } from "./types.ts";
import { USUAL_UNIT } from "./units.ts";

/** One component of the same zone built new; quantity as decimal text, `how` the arithmetic in plain words. */
export interface NewScope {
  component: Component;
  action: "replace" | "add";
  quantity: string;
  unit: Unit;
  how: string;
}

/** From the ground up, as it is built. */
const BUILDING_ORDER: readonly Component[] = [
  "footing",
  "post",
  "flashing",
  "ledger",
  "beam",
  "joist",
  "joist_hanger",
  "rim_joist",
  "decking",
  "stringer",
  "riser",
  "tread",
  "guard_post",
  "rail",
  "baluster",
  "lattice",
  "rail_cap",
  "gate",
  "finish",
];

/**
 * The scope of building the same zone new: every component the takeoff counted, in its usual unit. What stands is
 * replaced; its first coat is added. Fasteners are left out, as they come with the parts they hold.
 */
export function scopeForNew(takeoff: Pick<Takeoff, "existing">): NewScope[] {
  return BUILDING_ORDER.flatMap((component) => {
    const known = takeoff.existing.filter((e) => e.component === component);
    const found = known.find((e) => e.unit === USUAL_UNIT[component]) ?? known[0];
    if (!found) return [];
    const { quantity, unit, how } = found;
    return [{ component, action: component === "finish" ? "add" : "replace", quantity, unit, how } as const];
  });
}
