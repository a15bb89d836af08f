import {
  ALLOWANCE,
  BOARD,
  type Case,
  deck,
  job,
  line,
  material,
  newBoards,
  rates,
  SCREWS,
  SOUND,
} from "../job.fixture.ts";

const boards = (wasteBp: number) => [newBoards({ rates: rates([{ ...BOARD, wasteBp }, SCREWS]) })];
const free = rates([], { labor: [], disposalUnitCents: "0" });
const hauledNot = { rates: rates([BOARD, SCREWS], { disposalUnitCents: "0" }) };
const assumed = (quantity: string) => [
  newBoards(),
  line("joist", "sister", quantity, "each", { evidence: "assumed" }),
];
const past = (change: {
  jobs?: number;
  sdHours?: string;
  meanHours?: string;
  p10Cents?: number;
  p90Cents?: number;
}) => ({
  past: {
    hoursPerUnit: [
      {
        component: "decking" as const,
        action: "replace" as const,
        unit: "sqft" as const,
        jobs: change.jobs ?? 14,
        meanHours: change.meanHours ?? "0.12",
        sdHours: change.sdHours ?? "0.03",
      },
    ],
    pricePerSqft: [
      {
        zoneKind: "deck" as const,
        jobs: change.jobs ?? 14,
        p10Cents: change.p10Cents ?? 100,
        p90Cents: change.p90Cents ?? 100_000,
      },
    ],
  },
});
const hours = (hoursPerUnit: string, setupHours = "0") => [
  newBoards({
    rates: rates([BOARD, SCREWS], {
      labor: [{ code: "carpenter", hoursPerUnit, setupHours, hourlyCents: 3400, burdenBp: 3200 }],
    }),
  }),
];
const carried = (change: object) => [
  line("joist", "replace", "3", "each", { allowance: { ...ALLOWANCE, ...change } }),
];

export const MONEY_CASES: Case[] = [
  {
    rule: "line_without_rates",
    fires: job([line("rail", "repair", "8", "lf", { rates: null })]),
    says: /8 ft of rail repaired on Rear deck, by us, and nothing is charged/,
    field: "assemblyCode",
    silent: job([
      line("rail", "keep", "8", "lf", { rates: null }),
      line("rail", "repair", "8", "lf", { rates: null, by: "owner" }),
    ]),
  },
  {
    rule: "material_without_price",
    fires: job([newBoards({ rates: rates([{ ...BOARD, packs: [] }, SCREWS]) })]),
    says: /no price for Deck board 5\/4x6/,
    field: "assemblyCode",
    silent: job([newBoards({ by: "others", rates: rates([{ ...BOARD, packs: [] }]) })]),
  },
  {
    rule: "priced_at_nothing",
    fires: job([line("rail", "refasten", "8", "lf", { rates: free })]),
    says: /8 ft of rail refastened on Rear deck comes to \$0/,
    field: "quantity",
    silent: job([line("rail", "refasten", "8", "lf")]),
  },
  {
    rule: "waste_off_practice",
    fires: job(boards(200)),
    says: /carries 2% waste; boards laid straight run 5% to 10%/,
    field: "assemblyCode",
    silent: job(boards(500)),
  },
  {
    rule: "waste_off_practice",
    fires: job(boards(800), {
      zones: [deck({ decking: { pattern: "diagonal", borderRows: 1 }, framing: { joistSpacingIn: 12 } })],
    }),
    says: /boards laid diagonal with a border run 15% to 20%/,
    field: "assemblyCode",
    // A spot repair goes by whole boards.
    silent: job([newBoards({ quantity: "10", rates: rates([{ ...BOARD, wasteBp: 4000 }, SCREWS]) })]),
  },
  {
    rule: "disposal_missing",
    fires: job([newBoards(hauledNot)]),
    says: /One line takes old work out and no hauling or tipping is priced/,
    field: "charges",
    silent: job([newBoards(hauledNot)], { charges: [{ kind: "disposal" }] }),
  },
  {
    rule: "disposal_missing",
    fires: job([
      newBoards(hauledNot),
      line("tread", "remove", "2", "each", { ...hauledNot, zoneId: "stair" }),
    ]),
    says: /2 lines take old work out/,
    field: "charges",
    silent: job([
      line("joist_hanger", "replace", "6", "each", { rates: rates([], { disposalUnitCents: "0" }) }),
    ]),
  },
  {
    rule: "permit_missing",
    fires: job(SOUND, { charges: [] }),
    says: /New joist, and no permit in the price/,
    field: "charges",
    silent: job([newBoards()], { charges: [] }),
  },
  {
    rule: "structural_assumed",
    fires: job(assumed("60"), { zones: [deck({ there: { "joist each": "60" } })] }),
    says: /^\$[\d,.]+ of \$[\d,.]+ is structural work that is only assumed/,
    field: "evidence",
    silent: job(assumed("1")),
  },
  {
    rule: "hours_outside_past",
    fires: job(hours("0.19"), past({})),
    says: /decking replaced: 0.19 h a unit here, but 0.12 h on your last 14 jobs\. Is something special/,
    field: "assemblyCode",
    silent: job(hours("0.17"), past({})),
  },
  {
    rule: "hours_outside_past",
    // Setting up for 9.6 h is 0.1 h on each of 96 sq ft.
    fires: job(hours("0.1", "9.6"), past({})),
    says: /0\.2 h a unit/,
    field: "assemblyCode",
    silent: job(hours("0.9"), past({ jobs: 4 })),
  },
  {
    rule: "price_outside_past",
    fires: job([newBoards()], past({ p10Cents: 900_00, p90Cents: 950_00 })),
    says: /Rear deck comes to \$[\d.]+ a square foot; eight in ten of your last 14 jobs like it lay between \$900 and \$950/,
    field: null,
    silent: job([newBoards()], past({})),
  },
  {
    rule: "concealed_without_allowance",
    fires: job([line("band", "repair", "6", "lf", { evidence: "concealed" })]),
    says: /6 ft of band on Rear deck cannot be seen until it is open/,
    field: "allowance",
    silent: job([line("band", "repair", "6", "lf", { evidence: "concealed", allowance: ALLOWANCE })]),
  },
  {
    rule: "open_up_without_allowance",
    fires: job([line("ledger", "open_up", "8", "lf")]),
    says: /We open 8 ft of ledger on Rear deck to look/,
    field: "allowance",
    silent: job([
      line("ledger", "open_up", "8", "lf"),
      line("band", "repair", "4", "lf", { allowance: ALLOWANCE }),
    ]),
  },
  {
    rule: "allowance_bounds",
    fires: job(carried({ lowQuantity: "4" })),
    says: /3 joists on Rear deck: The least is more than the likeliest/,
    field: "allowance.lowQuantity",
    silent: job(carried({ capQuantity: "0" })),
  },
  {
    rule: "allowance_without_cap",
    fires: job(carried({ capQuantity: "0" })),
    says: /joist found on Rear deck is charged without a cap/,
    field: "allowance.capQuantity",
    silent: job(carried({})),
  },
  {
    rule: "allowance_without_cap",
    fires: job(carried({ capQuantity: "2" })),
    says: /The cap on Rear deck, 2, is below the likeliest amount, 3/,
    severity: "note",
    field: "allowance.capQuantity",
    silent: job(carried({ capQuantity: "3" })),
  },
  {
    rule: "allowance_without_cap",
    fires: job(carried({ capQuantity: "13" })),
    says: /more than twice the most we expect, 6/,
    severity: "note",
    field: "allowance.capQuantity",
    silent: job(carried({ capQuantity: "12" })),
  },
  {
    rule: "allowance_near_certain",
    fires: job(carried({ chanceBp: 8500 })),
    says: /85% sure is not a surprise/,
    field: "allowance.chanceBp",
    silent: job(carried({ chanceBp: 8000 })),
  },
  {
    rule: "allowance_beyond_existing",
    fires: job(carried({ highQuantity: "14", capQuantity: "14" })),
    says: /goes up to 14 joists; the drawing has only 13/,
    field: "allowance.highQuantity",
    silent: job([
      line("joist", "replace", "3", "each", {
        rates: rates([material("Joist")]),
        allowance: { ...ALLOWANCE, highQuantity: "13" },
      }),
    ]),
  },
];
