import { workOn } from "./work.ts";

const post = workOn("guard_post");
const cap = workOn("rail_cap");
const rail = workOn("rail");
const baluster = workOn("baluster");
const gate = workOn("gate");

export const GUARD_POST_AND_CAP_WORK = [
  post("GUARD-POST-REPLACE", "replace", "each", "Replace a guard post with tension hardware", {
    materials: "PT-4X4 4.5 5%, ANCHOR-TENSION 1, BOLT-HALF 3",
    labor: "carpenter 1.8",
    disposal: 120,
    varies: 30,
  }),
  post("GUARD-POST-ADD", "add", "each", "Add a guard post with tension hardware", {
    materials: "PT-4X4 4.5 5%, ANCHOR-TENSION 1, BOLT-HALF 3, PT-2X8 2",
    labor: "carpenter 1.5",
  }),
  post("GUARD-POST-REINFORCE", "reinforce", "each", "Add tension hardware to a guard post", {
    materials: "ANCHOR-TENSION 1, BOLT-HALF 1, SCREW-STRUCT 4",
    labor: "carpenter 0.9",
  }),
  post("GUARD-POST-REPAIR", "repair", "each", "Fill and patch a guard post", {
    materials: "EPOXY 0.5",
    labor: "carpenter 0.7",
    varies: 35,
    note: "For the surface only; a post that is soft at its fastening is replaced.",
  }),
  post("GUARD-POST-REFASTEN", "refasten", "each", "Tighten and bolt a guard post", {
    materials: "BOLT-HALF 2",
    labor: "carpenter 0.5",
  }),
  post("GUARD-POST-TREAT", "treat", "each", "Preservative at the foot of a guard post", {
    materials: "PRESERVATIVE 0.02",
    labor: "helper 0.15",
  }),
  post("GUARD-POST-CLEAN", "clean", "each", "Wash a guard post", {
    materials: "CLEANER 0.02",
    labor: "helper 0.06",
  }),
  post("GUARD-POST-FINISH", "finish", "each", "Stain and seal a guard post", {
    materials: "STAIN-SEMI 0.03 5%",
    labor: "finisher 0.18",
    varies: 20,
  }),
  post("GUARD-POST-REMOVE", "remove", "each", "Take out a guard post", {
    labor: "helper 0.4",
    disposal: 100,
  }),
  post("GUARD-POST-OPEN", "open_up", "each", "Uncover the fastening of a guard post to look", {
    materials: "SCREW-DECK 4",
    labor: "carpenter 0.35",
    varies: 50,
  }),
  cap("RAIL-CAP-REPLACE", "replace", "lf", "Replace rail cap", {
    materials: "CAP-2X6 1 10%, SCREW-TRIM 2",
    labor: "carpenter 0.14",
    disposal: 10,
  }),
  cap("RAIL-CAP-COMPOSITE", "replace", "lf", "Replace rail cap with composite board", {
    materials: "COMP-54X6 1 10%, SCREW-TRIM-SS 2",
    labor: "carpenter 0.16",
    disposal: 10,
  }),
  cap("RAIL-CAP-ADD", "add", "lf", "Add a rail cap", {
    materials: "CAP-2X6 1 10%, SCREW-TRIM 2",
    labor: "carpenter 0.12",
  }),
  cap("RAIL-CAP-REPAIR", "repair", "lf", "Scarf in a length of rail cap", {
    materials: "CAP-2X6 1.2 10%, SCREW-TRIM 3",
    labor: "carpenter 0.25",
    varies: 35,
  }),
  cap("RAIL-CAP-REFASTEN", "refasten", "lf", "Refasten rail cap", {
    materials: "SCREW-TRIM 1.5",
    labor: "carpenter 0.05",
  }),
  cap("RAIL-CAP-TREAT", "treat", "lf", "Preservative on cuts and joints of rail cap", {
    materials: "PRESERVATIVE 0.003",
    labor: "helper 0.02",
  }),
  cap("RAIL-CAP-CLEAN", "clean", "lf", "Wash rail cap", {
    materials: "CLEANER 0.004",
    labor: "helper 0.012",
  }),
  cap("RAIL-CAP-FINISH", "finish", "lf", "Stain and seal rail cap, one coat", {
    materials: "STAIN-SEMI 0.006 5%",
    labor: "finisher 0.035",
    varies: 20,
  }),
  cap("RAIL-CAP-FINISH-2", "finish", "lf", "Stain and seal rail cap, two coats", {
    materials: "STAIN-SEMI 0.0095 5%",
    labor: "finisher 0.06",
    varies: 20,
  }),
  cap("RAIL-CAP-REMOVE", "remove", "lf", "Take off rail cap", { labor: "helper 0.05", disposal: 15 }),
];

export const RAIL_WORK = [
  rail("RAIL-REPLACE", "replace", "lf", "Replace rail with balusters", {
    materials: "PT-2X4 2 10%, CAP-2X6 1 10%, BALUSTER-WOOD 2.4 5%, SCREW-TRIM 6",
    labor: "carpenter 0.65",
    disposal: 60,
    note: "Balusters 3-1/2 in apart; posts are counted for themselves.",
  }),
  rail("RAIL-ADD", "add", "lf", "Add rail with balusters", {
    materials: "PT-2X4 2 10%, CAP-2X6 1 10%, BALUSTER-WOOD 2.4 5%, SCREW-TRIM 6",
    labor: "carpenter 0.5",
  }),
  rail("RAIL-METAL", "replace", "lf", "Replace rail with metal balusters", {
    materials: "PT-2X4 2 10%, CAP-2X6 1 10%, BALUSTER-METAL 2.4 5%, SCREW-TRIM 6",
    labor: "carpenter 0.6",
    disposal: 60,
  }),
  rail("RAIL-HANDRAIL", "add", "lf", "Add a handrail that a hand can close around", {
    materials: "HANDRAIL 1 10%, BRACKET-RAIL 0.25",
    labor: "carpenter 0.25",
  }),
  rail("RAIL-REPAIR", "repair", "lf", "Refit a loose rail", {
    materials: "SCREW-STRUCT 2, BRACKET-RAIL 0.33",
    labor: "carpenter 0.25",
    varies: 35,
  }),
  rail("RAIL-REFASTEN", "refasten", "lf", "Draw down a rail with screws", {
    materials: "SCREW-STRUCT 1",
    labor: "carpenter 0.12",
  }),
  rail("RAIL-REINFORCE", "reinforce", "lf", "Brackets and blocks under a rail", {
    materials: "BRACKET-RAIL 0.35, PT-2X4 0.3, SCREW-STRUCT 1",
    labor: "carpenter 0.16",
  }),
  rail("RAIL-TREAT", "treat", "lf", "Preservative on the joints of a rail", {
    materials: "PRESERVATIVE 0.006",
    labor: "helper 0.05",
  }),
  rail("RAIL-CLEAN", "clean", "lf", "Wash rail and balusters", {
    materials: "CLEANER 0.014",
    labor: "helper 0.05",
  }),
  rail("RAIL-FINISH", "finish", "lf", "Stain and seal rail and balusters", {
    materials: "STAIN-SEMI 0.019 5%",
    labor: "finisher 0.12",
    varies: 20,
  }),
  rail("RAIL-FINISH-2", "finish", "lf", "Stain and seal rail and balusters, two coats", {
    materials: "STAIN-SEMI 0.03 5%",
    labor: "finisher 0.2",
    varies: 20,
  }),
  rail("RAIL-REMOVE", "remove", "lf", "Take down rail and balusters and haul away", {
    labor: "helper 0.15",
    disposal: 70,
  }),
];

export const BALUSTER_AND_GATE_WORK = [
  baluster("BALUSTER-REPLACE", "replace", "each", "Replace a baluster", {
    materials: "BALUSTER-WOOD 1 5%, SCREW-TRIM 2",
    labor: "carpenter 0.15",
  }),
  baluster("BALUSTER-ADD", "add", "each", "Close a gap with one more baluster", {
    materials: "BALUSTER-WOOD 1 5%, SCREW-TRIM 2",
    labor: "carpenter 0.12",
    note: "Infill where a 4 in ball would pass.",
  }),
  baluster("BALUSTER-METAL-ADD", "add", "each", "Close a gap with one more metal baluster", {
    materials: "BALUSTER-METAL 1 5%, SCREW-TRIM 2",
    labor: "carpenter 0.14",
  }),
  baluster("BALUSTER-REFASTEN", "refasten", "each", "Refasten a baluster", {
    materials: "SCREW-TRIM 2",
    labor: "carpenter 0.06",
  }),
  baluster("BALUSTER-CLEAN", "clean", "each", "Wash a baluster", {
    materials: "CLEANER 0.004",
    labor: "helper 0.015",
  }),
  baluster("BALUSTER-FINISH", "finish", "each", "Stain and seal a baluster", {
    materials: "STAIN-SEMI 0.005 5%",
    labor: "finisher 0.04",
    varies: 20,
  }),
  baluster("BALUSTER-REMOVE", "remove", "each", "Take out a baluster", { labor: "helper 0.04", disposal: 8 }),
  gate("GATE-ADD", "add", "each", "Make and hang a gate", {
    materials: "PT-2X4 18 10%, BALUSTER-WOOD 8, HINGE-GATE 1, LATCH-GATE 1, SCREW-DECK 40",
    labor: "carpenter 4",
    varies: 30,
  }),
  gate("GATE-REPLACE", "replace", "each", "Take down a gate, make and hang another", {
    materials: "PT-2X4 18 10%, BALUSTER-WOOD 8, HINGE-GATE 1, LATCH-GATE 1, SCREW-DECK 40",
    labor: "carpenter 4.3",
    disposal: 300,
    varies: 30,
  }),
  gate("GATE-REPAIR", "repair", "each", "Rehang a gate and mend its frame", {
    materials: "PT-2X4 6 10%, SCREW-DECK 16",
    labor: "carpenter 1.2",
    varies: 35,
  }),
  gate("GATE-REFASTEN", "refasten", "each", "New hinges and latch on a gate", {
    materials: "HINGE-GATE 1, LATCH-GATE 1",
    labor: "carpenter 0.8",
  }),
  gate("GATE-REINFORCE", "reinforce", "each", "Brace a sagging gate", {
    materials: "PT-2X4 5 10%, SCREW-STRUCT 6",
    labor: "carpenter 0.7",
  }),
  gate("GATE-CLEAN", "clean", "each", "Wash a gate", { materials: "CLEANER 0.05", labor: "helper 0.2" }),
  gate("GATE-FINISH", "finish", "each", "Stain and seal a gate", {
    materials: "STAIN-SEMI 0.08 5%",
    labor: "finisher 0.5",
    varies: 20,
  }),
  gate("GATE-REMOVE", "remove", "each", "Take down a gate and haul it away", {
    labor: "helper 0.4",
    disposal: 300,
  }),
];
