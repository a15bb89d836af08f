import { workOn } from "./work.ts";

const hanger = workOn("joist_hanger");
const flashing = workOn("flashing");
const fastener = workOn("fastener");

const CORROSION =
  "For places near salt water or road salt; do not mix stainless and galvanized in one joint.";

export const HANGER_WORK = [
  hanger("HANGER-ADD", "add", "each", "Add a joist hanger", {
    materials: "HANGER-2X8 1, NAIL-HANGER 0.15",
    labor: "carpenter 0.25",
    note: "For a 2x8; fill every hole its listing counts.",
  }),
  hanger("HANGER-REPLACE", "replace", "each", "Replace a joist hanger", {
    materials: "HANGER-2X8 1, NAIL-HANGER 0.15, PRESERVATIVE 0.005",
    labor: "carpenter 0.4",
    note: "For a 2x8.",
  }),
  hanger("HANGER-REPLACE-6", "replace", "each", "Replace a joist hanger of a 2x6", {
    materials: "HANGER-2X6 1, NAIL-HANGER 0.12, PRESERVATIVE 0.005",
    labor: "carpenter 0.38",
  }),
  hanger("HANGER-REPLACE-10", "replace", "each", "Replace a joist hanger of a 2x10", {
    materials: "HANGER-2X10 1, NAIL-HANGER 0.18, PRESERVATIVE 0.005",
    labor: "carpenter 0.42",
  }),
  hanger("HANGER-UPGRADE", "replace", "each", "Replace a joist hanger with stainless steel", {
    materials: "HANGER-2X8-SS 1, NAIL-HANGER-SS 0.15, PRESERVATIVE 0.005",
    labor: "carpenter 0.45",
    note: CORROSION,
  }),
  hanger("HANGER-SUPPLEMENT", "reinforce", "each", "Supplement a joist hanger with a framing angle", {
    materials: "ANGLE-FRAMING 1, SCREW-STRUCT 4",
    labor: "carpenter 0.3",
  }),
  hanger("HANGER-REFASTEN", "refasten", "each", "Fill the empty holes of a joist hanger", {
    materials: "NAIL-HANGER 0.1",
    labor: "carpenter 0.15",
  }),
  hanger("HANGER-TREAT", "treat", "each", "Brush and coat a joist hanger with zinc", {
    materials: "COLD-ZINC 0.006",
    labor: "helper 0.15",
    note: "For surface rust only; a hanger that has lost metal is replaced.",
  }),
  hanger("HANGER-REMOVE", "remove", "each", "Take off a joist hanger", { labor: "carpenter 0.15" }),
  hanger("HANGER-OPEN", "open_up", "each", "Uncover a joist hanger to look", {
    materials: "SCREW-DECK 2",
    labor: "carpenter 0.15",
    varies: 50,
  }),
];

export const FLASHING_WORK = [
  flashing("FLASHING-ADD", "add", "lf", "Flash the ledger", {
    materials: "FLASH-LEDGER 1 10%, TAPE-FLASHING 1 10%, SEALANT 0.05",
    labor: "carpenter 0.2",
    varies: 35,
  }),
  flashing("FLASHING-REPLACE", "replace", "lf", "Replace ledger flashing", {
    materials: "FLASH-LEDGER 1 10%, TAPE-FLASHING 1 10%, SEALANT 0.05",
    labor: "carpenter 0.3",
    disposal: 10,
    varies: 40,
  }),
  flashing("FLASHING-UPGRADE", "replace", "lf", "Replace ledger flashing with stainless steel", {
    materials: "FLASH-LEDGER-SS 1 10%, TAPE-FLASHING 1 10%, SEALANT 0.05",
    labor: "carpenter 0.34",
    disposal: 10,
    varies: 40,
    note: CORROSION,
  }),
  flashing("FLASHING-REPAIR", "repair", "lf", "Patch and seal ledger flashing", {
    materials: "TAPE-FLASHING 1 10%, SEALANT 0.15",
    labor: "carpenter 0.18",
    varies: 40,
  }),
  flashing("FLASHING-REFASTEN", "refasten", "lf", "Refasten and seal loose flashing", {
    materials: "SCREW-TRIM 1, SEALANT 0.1",
    labor: "carpenter 0.1",
  }),
  flashing("FLASHING-CLEAN", "clean", "lf", "Clear debris from flashing", { labor: "helper 0.04" }),
  flashing("FLASHING-REMOVE", "remove", "lf", "Take off flashing", { labor: "carpenter 0.08", disposal: 10 }),
  flashing("FLASHING-OPEN", "open_up", "lf", "Lift siding to look at flashing", {
    materials: "SEALANT 0.1",
    labor: "carpenter 0.3",
    varies: 50,
  }),
];

export const FASTENER_WORK = [
  fastener("FASTENER-REPLACE", "replace", "each", "Replace corroded structural fasteners", {
    materials: "SCREW-LEDGER 1, PRESERVATIVE 0.005",
    labor: "carpenter 0.1",
  }),
  fastener("FASTENER-UPGRADE", "replace", "each", "Replace a structural fastener with stainless steel", {
    materials: "SCREW-LEDGER-SS 1, PRESERVATIVE 0.005",
    labor: "carpenter 0.12",
    note: CORROSION,
  }),
  fastener("FASTENER-ADD", "add", "each", "Add a structural screw", {
    materials: "SCREW-STRUCT 1",
    labor: "carpenter 0.06",
  }),
  fastener("FASTENER-BOLT", "add", "each", "Add a through-bolt", {
    materials: "BOLT-HALF 1",
    labor: "carpenter 0.2",
  }),
  fastener("FASTENER-REINFORCE", "reinforce", "each", "Strap a joint", {
    materials: "STRAP-TWIST 1, NAIL-HANGER 0.1",
    labor: "carpenter 0.2",
  }),
  fastener("FASTENER-REFASTEN", "refasten", "each", "Tighten a bolt or drive a popped screw", {
    materials: "SCREW-DECK 1",
    labor: "helper 0.05",
  }),
  fastener("FASTENER-TREAT", "treat", "each", "Brush and coat a fastener with zinc", {
    materials: "COLD-ZINC 0.002",
    labor: "helper 0.06",
  }),
  fastener("FASTENER-REMOVE", "remove", "each", "Draw a fastener", { labor: "carpenter 0.06" }),
  fastener("FASTENER-OPEN", "open_up", "each", "Draw one fastener to see its shank", {
    materials: "SCREW-LEDGER 1",
    labor: "carpenter 0.15",
    varies: 50,
  }),
];
