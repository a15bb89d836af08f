import { workOn } from "./work.ts";

const post = workOn("post");
const footing = workOn("footing");
const ledger = workOn("ledger");

export const POST_AND_FOOTING_WORK = [
  post("POST-REPLACE", "replace", "each", "Replace a post, with shoring", {
    materials: "PT-6X6 8 5%, BASE-POST-66 1, SCREW-STRUCT 8",
    labor: "lead-carpenter 2, helper 1.5",
    disposal: 300,
    equipment: 600,
    varies: 35,
    note: "A 6x6 of 8 ft.",
  }),
  post("POST-REPLACE-44", "replace", "each", "Replace a 4x4 post, with shoring", {
    materials: "PT-4X4 8 5%, BASE-POST-44 1, SCREW-STRUCT 6",
    labor: "lead-carpenter 1.4, helper 1",
    disposal: 200,
    equipment: 400,
    varies: 35,
    note: "A 4x4 of 8 ft; check that the height and load allow one.",
  }),
  post("POST-ADD", "add", "each", "Add a post under a beam", {
    materials: "PT-6X6 8 5%, BASE-POST-66 1, CAP-POST-66 1, ANCHOR-CONCRETE 1, NAIL-HANGER 0.3",
    labor: "lead-carpenter 1.6, helper 1",
    equipment: 400,
    varies: 30,
  }),
  post("POST-BASE-REPLACE", "repair", "each", "Replace a post base, with shoring", {
    materials: "BASE-POST-66 1, BOLT-HALF 2",
    labor: "carpenter 1.2, helper 0.4",
    equipment: 200,
    varies: 35,
  }),
  post("POST-REINFORCE", "reinforce", "each", "Knee braces on a post", {
    materials: "PT-2X6 8 10%, BOLT-HALF 4",
    labor: "carpenter 1.4",
  }),
  post("POST-SISTER", "sister", "each", "Sister a post on two sides", {
    materials: "PT-2X6 12 10%, BOLT-HALF 4",
    labor: "carpenter 1.3",
    varies: 35,
  }),
  post("POST-REFASTEN", "refasten", "each", "Fasten a post to its beam with a cap", {
    materials: "CAP-POST-66 1, NAIL-HANGER 0.2, SCREW-STRUCT 4",
    labor: "carpenter 0.8",
  }),
  post("POST-TREAT", "treat", "each", "Preservative at the foot of a post", {
    materials: "PRESERVATIVE 0.05",
    labor: "helper 0.3",
  }),
  post("POST-CLEAN", "clean", "each", "Wash a post", { materials: "CLEANER 0.05", labor: "helper 0.12" }),
  post("POST-FINISH", "finish", "each", "Stain and seal a post", {
    materials: "STAIN-SEMI 0.08 5%",
    labor: "finisher 0.4",
    varies: 20,
  }),
  post("POST-REMOVE", "remove", "each", "Take out a post, with shoring, and haul it away", {
    labor: "carpenter 0.8, helper 0.8",
    disposal: 300,
    equipment: 400,
  }),
  post("POST-OPEN", "open_up", "each", "Dig or unwrap the foot of a post to look", {
    labor: "helper 0.7",
    varies: 50,
  }),
  footing("FOOTING-ADD", "add", "each", "Dig and pour a footing", {
    materials: "CONCRETE 8 5%, FORM-12 4, REBAR 8, GRAVEL 1",
    labor: "helper 5",
    disposal: 300,
    equipment: 400,
    varies: 40,
    note: "Eight bags, a 12 in form of 4 ft; take the depth from the local frost line.",
  }),
  footing("FOOTING-REPLACE", "replace", "each", "Replace a footing, with shoring", {
    materials: "CONCRETE 8 5%, FORM-12 4, REBAR 8, GRAVEL 1, ANCHOR-CONCRETE 1",
    labor: "lead-carpenter 1 +1, helper 6",
    disposal: 1200,
    equipment: 900,
    varies: 40,
  }),
  footing("FOOTING-REPAIR", "repair", "each", "Level and grout the top of a footing", {
    materials: "CONCRETE 1, ANCHOR-CONCRETE 1",
    labor: "carpenter 1.2, helper 0.5",
    equipment: 200,
    varies: 40,
  }),
  footing("FOOTING-REINFORCE", "reinforce", "each", "Enlarge a footing in its place", {
    materials: "CONCRETE 5 5%, REBAR 8",
    labor: "helper 4",
    disposal: 200,
    equipment: 300,
    varies: 45,
  }),
  footing("FOOTING-REFASTEN", "refasten", "each", "Anchor a post base to its footing", {
    materials: "ANCHOR-CONCRETE 1",
    labor: "carpenter 0.6",
    equipment: 100,
  }),
  footing("FOOTING-REMOVE", "remove", "each", "Break out a footing and haul it away", {
    labor: "helper 3",
    disposal: 1500,
    equipment: 800,
    varies: 40,
  }),
  footing("FOOTING-OPEN", "open_up", "each", "Dig beside a footing to see its depth", {
    labor: "helper 1.2",
    varies: 50,
  }),
];

export const LEDGER_WORK = [
  ledger("LEDGER-REFASTEN", "refasten", "lf", "Add structural ledger fasteners", {
    materials: "SCREW-LEDGER 2",
    labor: "carpenter 0.15",
    note: "Two a foot; take spacing and edge distances from the table for the joist span.",
  }),
  ledger("LEDGER-REPLACE", "replace", "lf", "Replace ledger and its fasteners, with flashing and shoring", {
    materials: "PT-2X10 1 5%, SCREW-LEDGER 2, FLASH-LEDGER 1 5%, TAPE-FLASHING 1, SEALANT 0.1",
    labor: "lead-carpenter 0.6, carpenter 0.35",
    disposal: 60,
    equipment: 200,
    varies: 45,
  }),
  ledger("LEDGER-ADD", "add", "lf", "Add a ledger with flashing", {
    materials: "PT-2X10 1 5%, SCREW-LEDGER 2, FLASH-LEDGER 1 5%, TAPE-FLASHING 1, HOUSEWRAP 2, SEALANT 0.1",
    labor: "lead-carpenter 0.5, carpenter 0.3",
    disposal: 30,
    varies: 35,
  }),
  ledger("LEDGER-REINFORCE", "reinforce", "each", "Add a lateral-load tie at the ledger", {
    materials: "TIE-LATERAL 1, SCREW-STRUCT 6",
    labor: "lead-carpenter 1.2",
    varies: 40,
  }),
  ledger("LEDGER-SISTER", "sister", "lf", "Add a second ply to a ledger", {
    materials: "PT-2X10 1 5%, SCREW-LEDGER 2",
    labor: "carpenter 0.5",
    varies: 35,
  }),
  ledger("LEDGER-REPAIR", "repair", "lf", "Cut out and splice a ledger, with shoring", {
    materials: "PT-2X10 1.3 10%, SCREW-LEDGER 3, TAPE-FLASHING 1, PRESERVATIVE 0.01",
    labor: "lead-carpenter 0.7, helper 0.3",
    disposal: 40,
    equipment: 200,
    varies: 45,
  }),
  ledger("LEDGER-TREAT", "treat", "lf", "Preservative on a ledger", {
    materials: "PRESERVATIVE 0.012",
    labor: "helper 0.05",
  }),
  ledger("LEDGER-CLEAN", "clean", "lf", "Clear debris between ledger and boards", { labor: "helper 0.05" }),
  ledger("LEDGER-REMOVE", "remove", "lf", "Take off a ledger, with shoring, and close the wall", {
    materials: "HOUSEWRAP 2, SIDING 1 10%, SEALANT 0.1",
    labor: "carpenter 0.5",
    disposal: 60,
    equipment: 200,
    varies: 40,
  }),
  ledger("LEDGER-OPEN", "open_up", "lf", "Open siding at the ledger to look", {
    materials: "HOUSEWRAP 2, SEALANT 0.1",
    labor: "carpenter 0.5",
    varies: 50,
  }),
];
