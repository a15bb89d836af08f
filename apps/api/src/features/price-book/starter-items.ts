import type { Action, Component, Unit } from "@ledgerboard/contracts";

/**
 * A starting price book. Every cost, hour, rate and share below is a placeholder of a likely size, set down so that a
 * new company can try the service at once and then replace it with its own. Common practice, no source.
 */
export const STARTER_TERMS = {
  name: "Starting price book: placeholders, replace every figure with your own",
  overheadBp: 1500,
  marginBp: 3000,
  materialTaxBp: 600,
};

export const STARTER_RATES = [
  { code: "lead-carpenter", name: "Lead carpenter", hourlyCents: 4200, burdenBp: 3200 },
  { code: "carpenter", name: "Carpenter", hourlyCents: 3400, burdenBp: 3200 },
  { code: "helper", name: "Helper", hourlyCents: 2200, burdenBp: 3000 },
  { code: "finisher", name: "Finisher", hourlyCents: 3000, burdenBp: 3000 },
];

export interface StarterItem {
  code: string;
  component: Component;
  action: Action;
  description: string;
  unit: Unit;
  /** Decimal cents a unit. */
  materialUnitCents: string;
  wasteBp: number;
  hoursPerUnit: string;
  laborRateCode: string;
}

const item = (
  code: string,
  component: Component,
  action: Action,
  description: string,
  unit: Unit,
  [materialUnitCents, wasteBp, hoursPerUnit, laborRateCode]: [string, number, string, string],
): StarterItem => ({
  code,
  component,
  action,
  description,
  unit,
  materialUnitCents,
  wasteBp,
  hoursPerUnit,
  laborRateCode,
});

/** Material (cents a unit, waste in basis points), hours a unit and who works them. */
export const STARTER_ITEMS: readonly StarterItem[] = [
  item("DECK-REPLACE", "decking", "replace", "Replace deck boards, treated lumber", "sqft", [
    "420",
    1000,
    "0.09",
    "carpenter",
  ]),
  item("DECK-REPAIR", "decking", "repair", "Replace single deck boards", "lf", [
    "260",
    1000,
    "0.15",
    "carpenter",
  ]),
  item("DECK-REFASTEN", "decking", "refasten", "Draw down loose boards with screws", "sqft", [
    "35",
    500,
    "0.02",
    "helper",
  ]),
  item("DECK-CLEAN", "decking", "clean", "Wash deck boards", "sqft", ["12", 0, "0.012", "helper"]),
  item("DECK-FINISH", "decking", "finish", "Stain and seal deck boards, one coat", "sqft", [
    "38",
    500,
    "0.018",
    "finisher",
  ]),
  item("DECK-REMOVE", "decking", "remove", "Take up deck boards and haul away", "sqft", [
    "45",
    0,
    "0.04",
    "helper",
  ]),
  item("DECK-OPEN", "decking", "open_up", "Lift boards to look underneath", "sqft", [
    "10",
    0,
    "0.05",
    "carpenter",
  ]),
  item("JOIST-SISTER", "joist", "sister", "Sister a joist with treated lumber", "each", [
    "2850",
    500,
    "1.5",
    "carpenter",
  ]),
  item("JOIST-REPLACE", "joist", "replace", "Replace a joist", "each", ["2700", 500, "2.2", "carpenter"]),
  item("JOIST-REINFORCE", "joist", "reinforce", "Block between joists", "each", [
    "850",
    1000,
    "0.4",
    "carpenter",
  ]),
  item("JOIST-TREAT", "joist", "treat", "Preservative and tape on joist tops", "lf", [
    "95",
    500,
    "0.03",
    "helper",
  ]),
  item("RIM-REPLACE", "rim_joist", "replace", "Replace rim joist", "lf", ["480", 1000, "0.35", "carpenter"]),
  item("RIM-REPAIR", "rim_joist", "repair", "Cut out and splice rim joist", "lf", [
    "560",
    1000,
    "0.5",
    "carpenter",
  ]),
  item("BAND-REPAIR", "band", "repair", "Repair house band behind the ledger", "lf", [
    "620",
    1000,
    "0.8",
    "lead-carpenter",
  ]),
  item("BEAM-REPLACE", "beam", "replace", "Replace built-up beam, with shoring", "lf", [
    "1450",
    500,
    "1.1",
    "lead-carpenter",
  ]),
  item("BEAM-REINFORCE", "beam", "reinforce", "Add a ply to a beam", "lf", ["640", 500, "0.6", "carpenter"]),
  item("POST-REPLACE", "post", "replace", "Replace a post, with shoring", "each", [
    "4800",
    500,
    "3",
    "lead-carpenter",
  ]),
  item("POST-BASE-REPLACE", "post", "repair", "Replace a post base", "each", ["2600", 0, "1.4", "carpenter"]),
  item("FOOTING-ADD", "footing", "add", "Dig and pour a footing", "each", ["9500", 500, "5", "helper"]),
  item("LEDGER-REFASTEN", "ledger", "refasten", "Add structural ledger fasteners", "lf", [
    "310",
    0,
    "0.15",
    "carpenter",
  ]),
  item("LEDGER-REPLACE", "ledger", "replace", "Replace ledger and its fasteners", "lf", [
    "1250",
    500,
    "0.9",
    "lead-carpenter",
  ]),
  item("LEDGER-OPEN", "ledger", "open_up", "Open siding at the ledger to look", "lf", [
    "150",
    0,
    "0.5",
    "carpenter",
  ]),
  item("HANGER-ADD", "joist_hanger", "add", "Add a joist hanger", "each", ["420", 0, "0.25", "carpenter"]),
  item("HANGER-REPLACE", "joist_hanger", "replace", "Replace a joist hanger", "each", [
    "420",
    0,
    "0.4",
    "carpenter",
  ]),
  item("GUARD-POST-REPLACE", "guard_post", "replace", "Replace a guard post with tension hardware", "each", [
    "5200",
    0,
    "1.8",
    "carpenter",
  ]),
  item("GUARD-POST-REINFORCE", "guard_post", "reinforce", "Add tension hardware to a guard post", "each", [
    "3100",
    0,
    "0.9",
    "carpenter",
  ]),
  item("RAIL-CAP-REPLACE", "rail_cap", "replace", "Replace rail cap", "lf", [
    "390",
    1000,
    "0.14",
    "carpenter",
  ]),
  item("RAIL-REPLACE", "rail", "replace", "Replace rail with balusters", "lf", [
    "2100",
    500,
    "0.55",
    "carpenter",
  ]),
  item("RAIL-REPAIR", "rail", "repair", "Refit a loose rail", "lf", ["180", 0, "0.25", "carpenter"]),
  item("RAIL-FINISH", "rail", "finish", "Stain and seal rail and balusters", "lf", [
    "110",
    500,
    "0.12",
    "finisher",
  ]),
  item("BALUSTER-REPLACE", "baluster", "replace", "Replace a baluster", "each", [
    "310",
    500,
    "0.15",
    "carpenter",
  ]),
  item("GATE-ADD", "gate", "add", "Make and hang a gate", "each", ["9800", 500, "4", "carpenter"]),
  item("STRINGER-REPLACE", "stringer", "replace", "Replace a stair stringer", "each", [
    "4600",
    500,
    "2.5",
    "lead-carpenter",
  ]),
  item("STRINGER-REPAIR", "stringer", "repair", "Rebuild the foot of a stringer", "each", [
    "2300",
    500,
    "1.6",
    "carpenter",
  ]),
  item("TREAD-REPLACE", "tread", "replace", "Replace a stair tread", "each", [
    "1900",
    1000,
    "0.5",
    "carpenter",
  ]),
  item("TREAD-REFASTEN", "tread", "refasten", "Refasten a loose tread", "each", [
    "90",
    0,
    "0.2",
    "carpenter",
  ]),
  item("RISER-REPLACE", "riser", "replace", "Replace a riser board", "each", [
    "1100",
    1000,
    "0.35",
    "carpenter",
  ]),
  item("SKIRTING-REPLACE", "skirting", "replace", "Replace skirting boards", "sqft", [
    "340",
    1000,
    "0.12",
    "carpenter",
  ]),
  item("LATTICE-REPLACE", "lattice", "replace", "Replace lattice in its frame", "sqft", [
    "280",
    1000,
    "0.09",
    "helper",
  ]),
  item("FLASHING-ADD", "flashing", "add", "Flash the ledger", "lf", ["360", 1000, "0.2", "carpenter"]),
  item("FLASHING-REPLACE", "flashing", "replace", "Replace ledger flashing", "lf", [
    "360",
    1000,
    "0.3",
    "carpenter",
  ]),
  item("FASTENER-REPLACE", "fastener", "replace", "Replace corroded structural fasteners", "each", [
    "240",
    0,
    "0.1",
    "carpenter",
  ]),
];
