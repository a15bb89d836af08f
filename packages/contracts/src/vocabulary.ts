/**
 * The words of the trade that code, API and screens share. Every list here is the single source:
 * database checks, zod schemas and screens are derived from or tested against it.
 */

export const ROLES = ["owner", "sales", "estimator", "scheduler", "lead_hand"] as const;
export type Role = (typeof ROLES)[number];

/** In the order a job passes them; `closed` may follow any stage before `finished`. */
export const STAGES = [
  "inquiry",
  "first_pass",
  "site_review",
  "quoted",
  "accepted",
  "booked",
  "under_way",
  "finished",
  "closed",
] as const;
export type Stage = (typeof STAGES)[number];

export const ZONE_KINDS = ["deck", "porch", "stair", "landing", "railing", "other"] as const;
export type ZoneKind = (typeof ZONE_KINDS)[number];

export const COMPONENTS = [
  "decking",
  "joist",
  "rim_joist",
  "band",
  "beam",
  "post",
  "footing",
  "ledger",
  "joist_hanger",
  "guard_post",
  "rail_cap",
  "rail",
  "baluster",
  "gate",
  "stringer",
  "tread",
  "riser",
  "skirting",
  "lattice",
  "flashing",
  "fastener",
  "finish",
] as const;
export type Component = (typeof COMPONENTS)[number];

/** Components that carry load or keep people from falling: a changed action on one is always worth a second look. */
export const STRUCTURAL_COMPONENTS = [
  "joist",
  "rim_joist",
  "band",
  "beam",
  "post",
  "footing",
  "ledger",
  "joist_hanger",
  "guard_post",
  "stringer",
] as const satisfies readonly Component[];

export const ACTIONS = [
  "keep",
  "clean",
  "finish",
  "refasten",
  "treat",
  "reinforce",
  "sister",
  "repair",
  "replace",
  "add",
  "remove",
  "open_up",
] as const;
export type Action = (typeof ACTIONS)[number];

/** How a quantity is known. */
export const EVIDENCE = ["assumed", "measured", "counted", "concealed", "found"] as const;
export type Evidence = (typeof EVIDENCE)[number];

/** Why a site review departs from the first pass. */
export const REASONS = [
  "miscount",
  "misjudged_condition",
  "missed",
  "concealed",
  "customer_wish",
  "price_moved",
  "other",
] as const;
export type Reason = (typeof REASONS)[number];

/** Who carries out a scope line. */
export const DOERS = ["us", "owner", "others"] as const;
export type Doer = (typeof DOERS)[number];

export const UNITS = ["each", "lf", "sqft", "hour", "lot"] as const;
export type Unit = (typeof UNITS)[number];

/** What materials are bought by. */
export const MATERIAL_UNITS = ["each", "lf", "sqft", "gal", "lb"] as const;
export type MaterialUnit = (typeof MATERIAL_UNITS)[number];

/** Costs of a whole job rather than of a component. */
export const CHARGE_KINDS = ["permit", "travel", "equipment", "disposal", "other"] as const;
export type ChargeKind = (typeof CHARGE_KINDS)[number];

/** How a scope line stands to the price: in it, beside it, only if found, not ours to charge, or without rates. */
export const STANDINGS = ["base", "alternate", "if_found", "not_ours", "unpriced"] as const;
export type Standing = (typeof STANDINGS)[number];

/** What the customer says to an existing condition that does not meet today's code. */
export const ADVISORY_DECISIONS = ["undecided", "alternate", "in_scope", "declined"] as const;
export type AdvisoryDecision = (typeof ADVISORY_DECISIONS)[number];

/** The steps of the bridge from one price to another, in the order they are shown. */
export const BRIDGE_STEPS = [
  "removed",
  "added",
  "action",
  "quantity",
  "rate",
  "allowance",
  "overhead_and_tax",
  "whole_job",
] as const;
export type BridgeStep = (typeof BRIDGE_STEPS)[number];

export const REVISION_KINDS = ["first_pass", "site_review", "change_order"] as const;
export type RevisionKind = (typeof REVISION_KINDS)[number];

/** Named reasons a job may not start. The first four are derived from facts; the rest are placed by a person. */
export const DERIVED_HOLDS = [
  "unsigned",
  "deposit_short",
  "cancellation_window_open",
  "material_variance_unresolved",
] as const;
export type DerivedHold = (typeof DERIVED_HOLDS)[number];
export const PLACED_HOLDS = ["permit", "materials_on_order", "customer_not_ready", "weather"] as const;
export type PlacedHold = (typeof PLACED_HOLDS)[number];
export const HOLDS = [...DERIVED_HOLDS, ...PLACED_HOLDS] as const;
export type Hold = (typeof HOLDS)[number];

/** Where the customer signed; decides whether the right to cancel a sale made at home applies. */
export const SIGNING_PLACES = ["home", "office", "remote"] as const;
export type SigningPlace = (typeof SIGNING_PLACES)[number];

export const PAYMENT_METHODS = ["cheque", "card", "bank_transfer", "cash"] as const;
export type PaymentMethod = (typeof PAYMENT_METHODS)[number];
export const PAYMENT_KINDS = ["receipt", "refund", "reversal"] as const;
export type PaymentKind = (typeof PAYMENT_KINDS)[number];

export const CLOSE_REASONS = [
  "customer_declined",
  "out_of_area",
  "not_our_trade",
  "no_answer",
  "duplicate",
  "unsafe_to_repair",
  "other",
] as const;
export type CloseReason = (typeof CLOSE_REASONS)[number];

export const LEAD_SOURCES = ["phone", "web_form", "referral", "repeat_customer", "other"] as const;
export type LeadSource = (typeof LEAD_SOURCES)[number];

export const VISIT_KINDS = ["first_look", "site_review", "follow_up"] as const;
export type VisitKind = (typeof VISIT_KINDS)[number];

const WORDS: Record<string, string> = {
  lead_hand: "crew lead",
  estimator: "senior estimator",
  first_pass: "first pass",
  site_review: "site review",
  change_order: "change order",
  under_way: "under way",
  open_up: "open up",
  sqft: "sq ft",
  lf: "ft",
  rim_joist: "rim joist",
  unsigned: "not signed",
  deposit_short: "deposit short",
  cancellation_window_open: "right to cancel still open",
  material_variance_unresolved: "material change not settled",
  customer_not_ready: "customer not ready",
  materials_on_order: "materials on order",
  us: "by us",
  others: "by others",
  if_found: "only if found",
  in_scope: "taken into the work",
  gal: "gallon",
};

/** The plain words for a vocabulary value, as screens and papers print it. */
export function words(value: string): string {
  return WORDS[value] ?? value.replaceAll("_", " ");
}
