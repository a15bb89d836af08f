import { workOn } from "./work.ts";

const decking = workOn("decking");
const tread = workOn("tread");
const riser = workOn("riser");
const stringer = workOn("stringer");

/** Boards a sq ft and screws a crossing: 5-1/2 in boards, 1/8 in gaps, joists 16 in apart, two screws a crossing. */
export const DECKING_WORK = [
  decking("DECK-REPLACE", "replace", "sqft", "Replace deck boards, treated lumber", {
    materials: "PT-54X6 2.1333 10%, SCREW-DECK 3.2 5%",
    labor: "carpenter 0.09",
    disposal: 35,
    note: "Boards 5-1/2 in wide, gaps 1/8 in, joists 16 in apart.",
  }),
  decking("DECK-COMPOSITE", "replace", "sqft", "Replace deck boards with composite, hidden clips", {
    materials: "COMP-54X6 2.1333 8%, CLIP-HIDDEN 1.6 5%, SCREW-DECK-SS 0.3",
    labor: "carpenter 0.11",
    disposal: 35,
    note: "One clip at each crossing, joists 16 in apart; check the spacing the board is listed for.",
  }),
  decking("DECK-ADD", "add", "sqft", "Lay deck boards on new framing, treated lumber", {
    materials: "PT-54X6 2.1333 8%, SCREW-DECK 3.2 5%",
    labor: "carpenter 0.065",
    varies: 20,
  }),
  decking("DECK-BORDER", "add", "lf", "Picture-frame border with blocking", {
    materials: "PT-54X6 1 10%, PT-2X6 1 10%, SCREW-DECK 4 5%",
    labor: "carpenter 0.22",
  }),
  decking("DECK-REPAIR", "repair", "lf", "Replace single deck boards", {
    materials: "PT-54X6 1 10%, SCREW-DECK 1.5 5%, PT-2X4 0.25",
    labor: "carpenter 0.15",
    disposal: 20,
    varies: 35,
  }),
  decking("DECK-REFASTEN", "refasten", "sqft", "Draw down loose boards with screws", {
    materials: "SCREW-DECK 3.2 5%",
    labor: "helper 0.025",
    varies: 30,
  }),
  decking("DECK-REINFORCE", "reinforce", "lf", "Block under soft or bouncing boards", {
    materials: "PT-2X6 1 10%, SCREW-STRUCT 3, SCREW-DECK 2",
    labor: "carpenter 0.2",
    varies: 35,
  }),
  decking("DECK-TREAT", "treat", "sqft", "Brush preservative on cut and weathered boards", {
    materials: "PRESERVATIVE 0.006 5%",
    labor: "helper 0.015",
  }),
  decking("DECK-CLEAN", "clean", "sqft", "Wash deck boards", {
    materials: "CLEANER 0.0067",
    labor: "helper 0.012",
  }),
  decking("DECK-SAND", "clean", "sqft", "Wash, brighten and sand deck boards before a finish", {
    materials: "CLEANER 0.0067, BRIGHTENER 0.005, SANDING 0.02",
    labor: "helper 0.012, finisher 0.02",
    equipment: 6,
  }),
  decking("DECK-FINISH", "finish", "sqft", "Stain and seal deck boards, one coat", {
    materials: "STAIN-SEMI 0.0067 5%",
    labor: "finisher 0.018",
    varies: 20,
    note: "A gallon covers 150 sq ft in the first coat.",
  }),
  decking("DECK-FINISH-2", "finish", "sqft", "Stain and seal deck boards, two coats", {
    materials: "STAIN-SEMI 0.0107 5%",
    labor: "finisher 0.03",
    varies: 20,
    note: "A gallon covers 150 sq ft in the first coat and 250 in the second.",
  }),
  decking("DECK-FINISH-SOLID", "finish", "sqft", "Solid stain on deck boards, two coats", {
    materials: "STAIN-SOLID 0.01 5%",
    labor: "finisher 0.034",
    varies: 20,
  }),
  decking("DECK-REMOVE", "remove", "sqft", "Take up deck boards and haul away", {
    labor: "helper 0.04",
    disposal: 45,
  }),
  decking("DECK-OPEN", "open_up", "sqft", "Lift boards to look underneath and lay them again", {
    materials: "SCREW-DECK 1.6 5%",
    labor: "carpenter 0.05",
    varies: 50,
  }),
];

export const STAIR_WORK = [
  stringer("STRINGER-REPLACE", "replace", "each", "Replace a stair stringer", {
    materials: "PT-2X12 12 10%, CONNECTOR-STRINGER 1, NAIL-HANGER 0.1, SCREW-DECK 12",
    labor: "lead-carpenter 2, carpenter 0.6",
    disposal: 200,
  }),
  stringer("STRINGER-ADD", "add", "each", "Add a stringer between those there", {
    materials: "PT-2X12 12 10%, CONNECTOR-STRINGER 1, NAIL-HANGER 0.1, SCREW-DECK 24",
    labor: "lead-carpenter 1.6, carpenter 0.5",
  }),
  stringer("STRINGER-REPAIR", "repair", "each", "Rebuild the foot of a stringer", {
    materials: "PT-2X12 4 10%, CONCRETE 1, PRESERVATIVE 0.02, SCREW-STRUCT 8",
    labor: "carpenter 1.6",
    varies: 40,
  }),
  stringer("STRINGER-SISTER", "sister", "each", "Sister a stringer along its length", {
    materials: "PT-2X6 10 10%, SCREW-STRUCT 18",
    labor: "carpenter 1.4",
    varies: 35,
  }),
  stringer("STRINGER-REINFORCE", "reinforce", "each", "Connect a stringer to the rim with hardware", {
    materials: "CONNECTOR-STRINGER 1, NAIL-HANGER 0.15, PT-2X6 2",
    labor: "carpenter 0.6",
  }),
  stringer("STRINGER-REFASTEN", "refasten", "each", "Refasten a loose stringer", {
    materials: "SCREW-STRUCT 6",
    labor: "carpenter 0.4",
    varies: 35,
  }),
  stringer("STRINGER-TREAT", "treat", "each", "Preservative on the cuts of a stringer", {
    materials: "PRESERVATIVE 0.04",
    labor: "helper 0.3",
  }),
  stringer("STRINGER-FINISH", "finish", "each", "Stain and seal a stringer", {
    materials: "STAIN-SEMI 0.08 5%",
    labor: "finisher 0.4",
  }),
  stringer("STRINGER-CLEAN", "clean", "each", "Wash a stringer", {
    materials: "CLEANER 0.06",
    labor: "helper 0.15",
  }),
  stringer("STRINGER-REMOVE", "remove", "each", "Take out a stringer and haul it away", {
    labor: "helper 0.8",
    disposal: 250,
  }),
  stringer("STRINGER-OPEN", "open_up", "each", "Lift treads to look at a stringer", {
    materials: "SCREW-DECK 8",
    labor: "carpenter 0.6",
    varies: 50,
  }),
  tread("TREAD-REPLACE", "replace", "each", "Replace a stair tread", {
    materials: "PT-2X6 7.5 10%, SCREW-DECK 12, ANGLE-TREAD 2",
    labor: "carpenter 0.55",
    disposal: 80,
  }),
  tread("TREAD-COMPOSITE", "replace", "each", "Replace a stair tread with composite", {
    materials: "COMP-54X6 8 10%, SCREW-DECK-SS 16, ANGLE-TREAD 2",
    labor: "carpenter 0.65",
    disposal: 80,
  }),
  tread("TREAD-ADD", "add", "each", "Lay a tread on a new stair", {
    materials: "PT-2X6 7.5 10%, SCREW-DECK 12",
    labor: "carpenter 0.4",
  }),
  tread("TREAD-REPAIR", "repair", "each", "Replace one board of a tread", {
    materials: "PT-2X6 3.75 10%, SCREW-DECK 6",
    labor: "carpenter 0.35",
    disposal: 40,
  }),
  tread("TREAD-REFASTEN", "refasten", "each", "Refasten a loose tread", {
    materials: "SCREW-DECK 8 5%",
    labor: "carpenter 0.2",
  }),
  tread("TREAD-REINFORCE", "reinforce", "each", "Brackets under a tread", {
    materials: "ANGLE-TREAD 2, SCREW-DECK 8",
    labor: "carpenter 0.3",
  }),
  tread("TREAD-TREAT", "treat", "each", "Preservative on the ends of a tread", {
    materials: "PRESERVATIVE 0.01",
    labor: "helper 0.08",
  }),
  tread("TREAD-CLEAN", "clean", "each", "Wash a tread", { materials: "CLEANER 0.025", labor: "helper 0.05" }),
  tread("TREAD-FINISH", "finish", "each", "Stain and seal a tread, one coat", {
    materials: "STAIN-SEMI 0.025 5%",
    labor: "finisher 0.1",
    varies: 20,
  }),
  tread("TREAD-FINISH-2", "finish", "each", "Stain and seal a tread, two coats", {
    materials: "STAIN-SEMI 0.04 5%",
    labor: "finisher 0.17",
    varies: 20,
  }),
  tread("TREAD-REMOVE", "remove", "each", "Take off a tread", { labor: "helper 0.2", disposal: 60 }),
  tread("TREAD-OPEN", "open_up", "each", "Lift a tread to look underneath and lay it again", {
    materials: "SCREW-DECK 6",
    labor: "carpenter 0.25",
    varies: 50,
  }),
  riser("RISER-REPLACE", "replace", "each", "Replace a riser board", {
    materials: "PT-1X8 4 10%, SCREW-DECK 6",
    labor: "carpenter 0.4",
    disposal: 40,
  }),
  riser("RISER-ADD", "add", "each", "Close an open riser", {
    materials: "PT-1X8 4 10%, SCREW-DECK 6",
    labor: "carpenter 0.35",
  }),
  riser("RISER-REPAIR", "repair", "each", "Fill and patch a riser board", {
    materials: "EPOXY 0.25",
    labor: "carpenter 0.35",
    varies: 35,
  }),
  riser("RISER-REFASTEN", "refasten", "each", "Refasten a riser board", {
    materials: "SCREW-DECK 6",
    labor: "carpenter 0.15",
  }),
  riser("RISER-CLEAN", "clean", "each", "Wash a riser board", {
    materials: "CLEANER 0.015",
    labor: "helper 0.04",
  }),
  riser("RISER-FINISH", "finish", "each", "Stain and seal a riser board", {
    materials: "STAIN-SEMI 0.018 5%",
    labor: "finisher 0.08",
    varies: 20,
  }),
  riser("RISER-REMOVE", "remove", "each", "Take off a riser board", { labor: "helper 0.12", disposal: 40 }),
];
