import { BOARD, type Case, deck, job, line, material, newBoards, rates, SCREWS } from "../job.fixture.ts";

const SALT = { property: { saltExposure: true, yearBuilt: 2010 } };
const year = (yearBuilt: number | null) => ({ property: { saltExposure: false, yearBuilt } });
const hung = (...names: string[]) =>
  line("joist_hanger", "replace", "3", "each", { rates: rates(names.map((name) => material(name))) });
const flashed = (name: string) => line("flashing", "add", "16", "lf", { rates: rates([material(name)]) });
const stained = (name: string) => line("decking", "finish", "96", "sqft", { rates: rates([material(name)]) });
const finishIn = (days: number | null) =>
  job([newBoards(), stained("Semitransparent stain")], { newLumberDaysDry: days });
const high = { zones: [deck({ heightIn: 108 })] };

export const MATERIAL_CASES: Case[] = [
  {
    rule: "salt_hardware",
    fires: job([hung("Joist hanger, G185", "Joist hanger nails")], SALT),
    says: /Within 300 ft of salt water.*By its name this is not: Joist hanger nails, Joist hanger, G185/,
    field: "assemblyCode",
    silent: job([hung("Joist hanger, stainless", "Nails, type 316")], SALT),
  },
  {
    rule: "salt_hardware",
    fires: job([newBoards()], SALT),
    says: /Deck screws, hot-dip galvanized/,
    field: "assemblyCode",
    silent: job([newBoards(), newBoards({ by: "owner", quantity: "20" })]),
  },
  {
    rule: "plain_fasteners",
    fires: job([newBoards({ rates: rates([BOARD, material("Deck screws, electroplated")]) })]),
    says: /hot-dip galvanized or better.*This rusts out: Deck screws, electroplated/,
    field: "assemblyCode",
    silent: job([newBoards({ rates: rates([BOARD, material("Deck screws, coated")]) })]),
  },
  {
    rule: "mixed_metals",
    fires: job([hung("Joist hanger, stainless", "Hanger nails, hot-dip")]),
    says: /do not go into one connection.*Hanger nails, hot-dip, Joist hanger, stainless/,
    field: "assemblyCode",
    silent: job([hung("Joist hanger, G185", "Hanger nails, hot-dip")]),
  },
  {
    rule: "aluminum_flashing",
    fires: job([flashed("Aluminum ledger flashing")]),
    says: /eats aluminum: Aluminum ledger flashing/,
    field: "assemblyCode",
    silent: job([flashed("Vinyl ledger flashing")]),
  },
  {
    rule: "finish_too_soon",
    fires: finishIn(3),
    says: /3 days is too soon: come back 7 to 60 days after building/,
    field: "action",
    silent: finishIn(7),
  },
  {
    rule: "finish_too_soon",
    fires: finishIn(61),
    says: /After 61 days the bare wood has weathered/,
    severity: "note",
    field: "action",
    silent: finishIn(60),
  },
  {
    rule: "finish_too_soon",
    fires: finishIn(null),
    says: /Plan it 7 to 60 days after building/,
    severity: "note",
    field: "action",
    silent: job([newBoards(), stained("Stain")], { zones: [deck({ decking: { thickness: "composite" } })] }),
  },
  {
    rule: "film_finish_underfoot",
    fires: job([stained("Solid stain, gray")]),
    says: /peel on walking surfaces.*penetrating stain is the better choice than Solid stain, gray/,
    field: "assemblyCode",
    silent: job([stained("Semitransparent stain")]),
  },
  {
    rule: "lead_paint",
    fires: job([line("rail", "replace", "20", "lf")], year(1977)),
    says: /The house was built in 1977\. Painted surfaces may hold lead/,
    field: null,
    silent: job([line("rail", "replace", "20", "lf")], year(1978)),
  },
  {
    rule: "lead_paint",
    fires: job([line("band", "repair", "4", "lf")], year(null)),
    says: /Nobody has put down when the house was built/,
    severity: "note",
    field: null,
    silent: job([newBoards()], year(null)),
  },
  {
    rule: "old_treated_wood",
    fires: job([newBoards()], year(2004)),
    says: /The house was built in 2004\. Treated wood from 2004 or before may hold arsenic/,
    field: null,
    silent: job([newBoards()], year(2005)),
  },
  {
    rule: "height_without_equipment",
    fires: job([newBoards()], high),
    says: /Rear deck is 9 ft up and nothing in the price stands there/,
    field: "assemblyCode",
    silent: job([newBoards({ rates: rates([BOARD, SCREWS], { equipmentUnitCents: "20" }) })], high),
  },
  {
    rule: "height_without_equipment",
    fires: job([newBoards()], { zones: [deck({ heightIn: 72 })] }),
    says: /6 ft up/,
    field: "assemblyCode",
    silent: job([newBoards()], { ...high, charges: [{ kind: "equipment" }] }),
  },
  {
    // Equipment of an optional extra is not there unless the customer takes it.
    rule: "height_without_equipment",
    fires: job(
      [
        newBoards(),
        line("rail", "add", "10", "lf", {
          alternate: "New rail",
          rates: rates([SCREWS], { equipmentUnitCents: "20" }),
        }),
      ],
      high,
    ),
    says: /9 ft up/,
    field: "assemblyCode",
    silent: job(
      [
        newBoards(),
        line("rail", "add", "10", "lf", { rates: rates([SCREWS], { equipmentUnitCents: "20" }) }),
      ],
      high,
    ),
  },
];
