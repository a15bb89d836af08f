import { workOn } from "./work.ts";

const skirting = workOn("skirting");
const lattice = workOn("lattice");
const finish = workOn("finish");

export const ENCLOSURE_WORK = [
  skirting("SKIRTING-REPLACE", "replace", "sqft", "Replace skirting boards", {
    materials: "PT-1X6 2.1333 10%, PT-2X4 0.5, SCREW-DECK 3",
    labor: "carpenter 0.12",
    disposal: 15,
  }),
  skirting("SKIRTING-ADD", "add", "sqft", "Close in below the deck with boards on a frame", {
    materials: "PT-1X6 2.1333 10%, PT-2X4 0.8, SCREW-DECK 4",
    labor: "carpenter 0.14",
  }),
  skirting("SKIRTING-REPAIR", "repair", "sqft", "Replace single skirting boards", {
    materials: "PT-1X6 2.1333 10%, SCREW-DECK 3",
    labor: "carpenter 0.17",
    disposal: 15,
    varies: 35,
  }),
  skirting("SKIRTING-REFASTEN", "refasten", "sqft", "Refasten skirting boards", {
    materials: "SCREW-DECK 2",
    labor: "helper 0.04",
  }),
  skirting("SKIRTING-REINFORCE", "reinforce", "lf", "Brace the frame behind skirting", {
    materials: "PT-2X4 1 10%, SCREW-DECK 4",
    labor: "carpenter 0.12",
  }),
  skirting("SKIRTING-TREAT", "treat", "sqft", "Preservative on skirting near the ground", {
    materials: "PRESERVATIVE 0.006",
    labor: "helper 0.02",
  }),
  skirting("SKIRTING-CLEAN", "clean", "sqft", "Wash skirting", {
    materials: "CLEANER 0.006",
    labor: "helper 0.012",
  }),
  skirting("SKIRTING-FINISH", "finish", "sqft", "Stain and seal skirting", {
    materials: "STAIN-SEMI 0.0067 5%",
    labor: "finisher 0.025",
    varies: 20,
  }),
  skirting("SKIRTING-REMOVE", "remove", "sqft", "Take off skirting and haul away", {
    labor: "helper 0.03",
    disposal: 25,
  }),
  skirting("SKIRTING-OPEN", "open_up", "sqft", "Take off skirting to look and put it back", {
    materials: "SCREW-DECK 3",
    labor: "carpenter 0.06",
    varies: 50,
  }),
  lattice("LATTICE-REPLACE", "replace", "sqft", "Replace lattice in its frame", {
    materials: "LATTICE 1 10%, PT-2X4 0.5 10%, SCREW-DECK 2",
    labor: "helper 0.12",
    disposal: 15,
  }),
  lattice("LATTICE-ADD", "add", "sqft", "Close an opening with lattice in a frame", {
    materials: "LATTICE 1 10%, PT-2X4 0.8 10%, SCREW-DECK 3",
    labor: "carpenter 0.1",
  }),
  lattice("LATTICE-REPAIR", "repair", "sqft", "Mend broken lattice", {
    materials: "LATTICE 1 25%, SCREW-DECK 2",
    labor: "helper 0.14",
    varies: 35,
  }),
  lattice("LATTICE-REFASTEN", "refasten", "sqft", "Refasten lattice", {
    materials: "SCREW-DECK 1.5",
    labor: "helper 0.03",
  }),
  lattice("LATTICE-CLEAN", "clean", "sqft", "Wash lattice", {
    materials: "CLEANER 0.008",
    labor: "helper 0.02",
  }),
  lattice("LATTICE-FINISH", "finish", "sqft", "Stain and seal lattice", {
    materials: "STAIN-SEMI 0.012 5%",
    labor: "finisher 0.05",
    varies: 20,
  }),
  lattice("LATTICE-REMOVE", "remove", "sqft", "Take off lattice and haul away", {
    labor: "helper 0.025",
    disposal: 15,
  }),
  lattice("LATTICE-OPEN", "open_up", "sqft", "Take off lattice to look and put it back", {
    materials: "SCREW-DECK 1",
    labor: "helper 0.04",
    varies: 50,
  }),
];

/** Work on a finish that is there already; staining bare boards is an action on the boards. */
export const FINISH_WORK = [
  finish("FINISH-CLEAN", "clean", "sqft", "Wash and brighten a weathered finish", {
    materials: "CLEANER 0.0067, BRIGHTENER 0.005",
    labor: "helper 0.018",
  }),
  finish("FINISH-REMOVE", "remove", "sqft", "Strip a failed finish", {
    materials: "STRIPPER 0.01, BRIGHTENER 0.005",
    labor: "helper 0.035",
    equipment: 8,
    varies: 35,
  }),
  finish("FINISH-REPLACE", "replace", "sqft", "Strip a failed finish, stain and seal in two coats", {
    materials: "STRIPPER 0.01, BRIGHTENER 0.005, STAIN-SEMI 0.0107 5%",
    labor: "helper 0.035, finisher 0.03",
    equipment: 8,
    varies: 30,
  }),
  finish("FINISH-RECOAT", "finish", "sqft", "Refresh a sound finish with one coat", {
    materials: "CLEANER 0.005, STAIN-SEMI 0.005 5%",
    labor: "helper 0.008, finisher 0.015",
    varies: 20,
  }),
  finish("FINISH-ADD", "add", "sqft", "Finish new treated lumber once it is dry, two coats", {
    materials: "STAIN-SEMI 0.0107 5%",
    labor: "finisher 0.03",
    varies: 20,
    note: "A second visit: new treated lumber has to dry first.",
  }),
  finish("FINISH-REPAIR", "repair", "sqft", "Sand and touch up worn places", {
    materials: "SANDING 0.04, STAIN-SEMI 0.008 10%",
    labor: "finisher 0.05",
    varies: 30,
  }),
];
