import { workOn } from "./work.ts";

const joist = workOn("joist");
const rim = workOn("rim_joist");
const band = workOn("band");
const beam = workOn("beam");

export const JOIST_WORK = [
  joist("JOIST-SISTER", "sister", "each", "Sister a joist with treated lumber", {
    materials: "PT-2X8 12 5%, SCREW-STRUCT 20, PRESERVATIVE 0.03",
    labor: "carpenter 1.5",
    varies: 35,
    note: "A 2x8 of 12 ft, full length of the joist.",
  }),
  joist("JOIST-SISTER-10", "sister", "each", "Sister a 2x10 joist with treated lumber", {
    materials: "PT-2X10 14 5%, SCREW-STRUCT 26, PRESERVATIVE 0.04",
    labor: "carpenter 1.8",
    varies: 35,
    note: "A 2x10 of 14 ft.",
  }),
  joist("JOIST-REPLACE", "replace", "each", "Replace a joist", {
    materials: "PT-2X8 12 5%, HANGER-2X8 2, NAIL-HANGER 0.3, SCREW-DECK 24",
    labor: "carpenter 2.2",
    disposal: 150,
    varies: 35,
    note: "A 2x8 of 12 ft with a hanger at either end; the boards above are drawn down again.",
  }),
  joist("JOIST-ADD", "add", "each", "Add a joist between those there", {
    materials: "PT-2X8 12 5%, HANGER-2X8 2, NAIL-HANGER 0.3, SCREW-DECK 24",
    labor: "carpenter 1.6",
    varies: 30,
  }),
  joist("JOIST-REPAIR", "repair", "each", "Cut out and scab the end of a joist", {
    materials: "PT-2X8 6 5%, SCREW-STRUCT 14, HANGER-DOUBLE 1, NAIL-HANGER 0.25, PRESERVATIVE 0.02",
    labor: "carpenter 1.3",
    varies: 40,
  }),
  joist("JOIST-REINFORCE", "reinforce", "each", "Block between joists", {
    materials: "PT-2X8 1.3 10%, SCREW-STRUCT 4",
    labor: "carpenter 0.5",
  }),
  joist("JOIST-REFASTEN", "refasten", "each", "Refasten the end of a joist with structural screws", {
    materials: "SCREW-STRUCT 4",
    labor: "carpenter 0.35",
  }),
  joist("JOIST-TREAT", "treat", "lf", "Preservative and tape on joist tops", {
    materials: "TAPE-JOIST 1 5%, PRESERVATIVE 0.008",
    labor: "helper 0.03",
  }),
  joist("JOIST-CLEAN", "clean", "lf", "Scrape and brush a joist top", { labor: "helper 0.02" }),
  joist("JOIST-REMOVE", "remove", "each", "Take out a joist and haul it away", {
    labor: "helper 0.6",
    disposal: 180,
  }),
  joist("JOIST-OPEN", "open_up", "each", "Probe a joist from above and below", {
    labor: "carpenter 0.25",
    varies: 50,
  }),
];

export const RIM_AND_BAND_WORK = [
  rim("RIM-REPLACE", "replace", "lf", "Replace rim joist", {
    materials: "PT-2X8 1 10%, SCREW-STRUCT 3, TAPE-FLASHING 1",
    labor: "carpenter 0.35",
    disposal: 40,
    varies: 35,
  }),
  rim("RIM-REPAIR", "repair", "lf", "Cut out and splice rim joist", {
    materials: "PT-2X8 1.5 10%, SCREW-STRUCT 4, PRESERVATIVE 0.01",
    labor: "carpenter 0.5",
    disposal: 40,
    varies: 40,
  }),
  rim("RIM-PULL", "reinforce", "each", "Pull rim and joist together, pilot-drilled structural screws", {
    materials: "SCREW-STRUCT 3, PRESERVATIVE 0.002",
    labor: "carpenter 0.3",
    equipment: 40,
    note: "For each joist end: clamp, drill pilot holes, drive three screws.",
  }),
  rim("RIM-REFASTEN", "refasten", "lf", "Refasten rim joist with structural screws", {
    materials: "SCREW-STRUCT 2",
    labor: "carpenter 0.12",
  }),
  rim("RIM-SISTER", "sister", "lf", "Sister rim joist from the inside", {
    materials: "PT-2X8 1 10%, SCREW-STRUCT 4",
    labor: "carpenter 0.45",
    varies: 35,
  }),
  rim("RIM-ADD", "add", "lf", "Add rim joist", {
    materials: "PT-2X8 1 5%, SCREW-STRUCT 3",
    labor: "carpenter 0.25",
  }),
  rim("RIM-FASCIA", "add", "lf", "Cover rim joist with composite fascia", {
    materials: "COMP-FASCIA 1 10%, SCREW-TRIM 3",
    labor: "carpenter 0.18",
  }),
  rim("RIM-TREAT", "treat", "lf", "Preservative and tape on rim joist", {
    materials: "PRESERVATIVE 0.01, TAPE-JOIST 1 5%",
    labor: "helper 0.04",
  }),
  rim("RIM-CLEAN", "clean", "lf", "Wash rim joist", { materials: "CLEANER 0.005", labor: "helper 0.015" }),
  rim("RIM-FINISH", "finish", "lf", "Stain and seal rim joist", {
    materials: "STAIN-SEMI 0.005 5%",
    labor: "finisher 0.03",
    varies: 20,
  }),
  rim("RIM-REMOVE", "remove", "lf", "Take off rim joist and haul away", {
    labor: "helper 0.15",
    disposal: 50,
  }),
  rim("RIM-OPEN", "open_up", "lf", "Take off fascia to look at rim joist", {
    materials: "SCREW-TRIM 3",
    labor: "carpenter 0.2",
    varies: 50,
  }),
  band("BAND-REPAIR", "repair", "lf", "Repair house band behind the ledger", {
    materials: "PT-2X10 1.2 10%, SCREW-STRUCT 4, TAPE-FLASHING 1, HOUSEWRAP 1",
    labor: "lead-carpenter 0.8",
    disposal: 40,
    varies: 50,
    note: "What is behind the ledger is not known until it is open.",
  }),
  band("BAND-REPLACE", "replace", "lf", "Replace house band, with shoring", {
    materials: "PT-2X10 2 10%, SCREW-STRUCT 8, TAPE-FLASHING 1, HOUSEWRAP 2, SHEATHING 1",
    labor: "lead-carpenter 1.4, helper 0.7",
    disposal: 80,
    equipment: 300,
    varies: 50,
  }),
  band("BAND-REINFORCE", "reinforce", "lf", "Block and screw house band from inside", {
    materials: "PT-2X10 1 10%, SCREW-STRUCT 6",
    labor: "lead-carpenter 0.5",
    varies: 40,
  }),
  band("BAND-TREAT", "treat", "lf", "Preservative on house band", {
    materials: "PRESERVATIVE 0.012",
    labor: "helper 0.06",
  }),
  band("BAND-OPEN", "open_up", "lf", "Open ceiling or cladding to look at house band", {
    materials: "HOUSEWRAP 2, SIDING 1 10%",
    labor: "carpenter 0.5",
    varies: 50,
  }),
];

export const BEAM_WORK = [
  beam("BEAM-REPLACE", "replace", "lf", "Replace built-up beam, with shoring", {
    materials: "PT-2X10 2 5%, BOLT-HALF 0.75",
    labor: "lead-carpenter 0.8, helper 0.6",
    disposal: 90,
    equipment: 300,
    varies: 35,
  }),
  beam("BEAM-ADD", "add", "lf", "Add a built-up beam under joists", {
    materials: "PT-2X10 2 5%, BOLT-HALF 0.75, SCREW-STRUCT 2",
    labor: "lead-carpenter 0.6, helper 0.5",
    equipment: 150,
    varies: 30,
  }),
  beam("BEAM-REINFORCE", "reinforce", "lf", "Add a ply to a beam", {
    materials: "PT-2X10 1 5%, SCREW-STRUCT 4, BOLT-HALF 0.5",
    labor: "carpenter 0.6",
  }),
  beam("BEAM-SISTER", "sister", "lf", "Sister a beam on both sides", {
    materials: "PT-2X10 2 5%, BOLT-HALF 1",
    labor: "carpenter 0.8, helper 0.3",
    varies: 35,
  }),
  beam("BEAM-REPAIR", "repair", "each", "Repair a beam at its bearing, with shoring", {
    materials: "PT-2X10 4 10%, SCREW-STRUCT 12, PRESERVATIVE 0.03",
    labor: "lead-carpenter 2 +1, helper 1",
    equipment: 600,
    varies: 45,
  }),
  beam("BEAM-REFASTEN", "refasten", "lf", "Draw the plies of a beam together with bolts", {
    materials: "BOLT-HALF 0.75",
    labor: "carpenter 0.2",
  }),
  beam("BEAM-TREAT", "treat", "lf", "Preservative and tape on beam top", {
    materials: "PRESERVATIVE 0.014, TAPE-JOIST 1 5%",
    labor: "helper 0.05",
  }),
  beam("BEAM-CLEAN", "clean", "lf", "Wash a beam", { materials: "CLEANER 0.012", labor: "helper 0.03" }),
  beam("BEAM-FINISH", "finish", "lf", "Stain and seal a beam", {
    materials: "STAIN-SEMI 0.014 5%",
    labor: "finisher 0.06",
    varies: 20,
  }),
  beam("BEAM-REMOVE", "remove", "lf", "Take out a beam, with shoring, and haul it away", {
    labor: "carpenter 0.25, helper 0.3",
    disposal: 110,
    equipment: 200,
  }),
  beam("BEAM-OPEN", "open_up", "each", "Uncover a beam at its bearing to look", {
    labor: "carpenter 0.6",
    varies: 50,
  }),
];
