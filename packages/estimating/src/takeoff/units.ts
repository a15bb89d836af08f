import type { Component, Unit } from "@ledgerboard/contracts/vocabulary";

/** The unit each component is scoped in when nothing else is said. Common practice, no source. */
export const USUAL_UNIT: Record<Component, Unit> = {
  decking: "sqft",
  joist: "each",
  rim_joist: "lf",
  band: "lf",
  beam: "lf",
  post: "each",
  footing: "each",
  ledger: "lf",
  joist_hanger: "each",
  guard_post: "each",
  rail_cap: "lf",
  rail: "lf",
  baluster: "each",
  gate: "each",
  stringer: "each",
  tread: "each",
  riser: "each",
  skirting: "sqft",
  lattice: "sqft",
  flashing: "lf",
  fastener: "each",
  finish: "sqft",
};
