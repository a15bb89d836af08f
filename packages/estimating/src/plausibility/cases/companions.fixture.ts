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
  stair,
} from "../job.fixture.ts";

const OLD = { property: { saltExposure: false, yearBuilt: 1985 } };
const joists = line("joist", "replace", "3", "each");
const hangers = (count: string) => line("joist_hanger", "replace", count, "each");
const treads = (action: "add" | "replace") => line("tread", action, "7", "each", { zoneId: "stair" });
const stringers = line("stringer", "replace", "3", "each", { zoneId: "stair" });
const ledger = line("ledger", "replace", "16", "lf");
const flashing = line("flashing", "add", "16", "lf");
const posts = line("guard_post", "replace", "2", "each");
const balusters = (action: "add" | "replace" | "keep", count: string) =>
  line("baluster", action, count, "each");

export const COMPANION_CASES: Case[] = [
  {
    rule: "decking_without_fasteners",
    fires: job([newBoards({ rates: rates([BOARD]) })]),
    says: /96 sq ft of decking on Rear deck, and no screws/,
    field: "component",
    silent: job([newBoards({ rates: rates([BOARD]) }), line("fastener", "add", "340", "each")]),
  },
  {
    rule: "joists_without_hangers",
    fires: job([joists]),
    says: /3 joists new on Rear deck and no hangers/,
    field: "component",
    silent: job([{ ...joists, rates: rates([material("Joist 2x8"), material("Joist hanger")]) }]),
  },
  {
    rule: "joists_without_hangers",
    fires: job([joists, { ...hangers("3"), alternate: "New hangers" }]),
    says: /no hangers/,
    field: "component",
    silent: job([joists], {
      zones: [deck({ framing: { ledger: false, beams: 2 }, there: { "joist_hanger each": "0" } })],
    }),
  },
  {
    rule: "hangers_fewer_than_joists",
    fires: job([joists, hangers("2")]),
    says: /3 joists new on Rear deck, but only 2 joist hangers/,
    field: "quantity",
    silent: job([joists, hangers("3")]),
  },
  {
    rule: "treads_without_stringers",
    fires: job([treads("replace")], { zones: [stair({ stringers: 0 })] }),
    says: /7 treads on Main stair and no stringers under them/,
    field: "component",
    silent: job([treads("replace")]),
  },
  {
    rule: "treads_without_stringers",
    fires: job([treads("add")], { zones: [{ ...stair(), geometry: null, takeoff: null }] }),
    says: /Add the stringers/,
    field: "component",
    silent: job([treads("add"), { ...stringers, action: "add" }], {
      zones: [{ ...stair(), geometry: null, takeoff: null }],
    }),
  },
  {
    rule: "stringers_without_treads",
    fires: job([stringers, { ...treads("replace"), action: "keep" }]),
    says: /3 stringers replaced on Main stair, and the treads stay/,
    field: "component",
    silent: job([stringers, treads("replace")]),
  },
  {
    rule: "ledger_without_flashing",
    fires: job([ledger]),
    says: /16 ft of ledger new on Rear deck, without flashing/,
    field: "component",
    silent: job([ledger, flashing]),
  },
  {
    rule: "ledger_not_opened",
    fires: job([ledger, flashing], OLD),
    says: /house 41 years old: the band behind it may be rotten/,
    field: "allowance",
    silent: job([ledger, flashing, line("band", "repair", "6", "lf", { allowance: ALLOWANCE })], OLD),
  },
  {
    rule: "ledger_not_opened",
    fires: job([line("ledger", "refasten", "16", "lf")], {
      property: { saltExposure: false, yearBuilt: 1996 },
    }),
    says: /30 years/,
    field: "allowance",
    silent: job([line("ledger", "refasten", "16", "lf")], {
      property: { saltExposure: false, yearBuilt: 1997 },
    }),
  },
  {
    rule: "guard_posts_without_rails",
    fires: job([posts]),
    says: /2 guard posts replaced on Rear deck: the rails come off/,
    field: "component",
    silent: job([posts, line("rail", "repair", "12", "lf")]),
  },
  {
    rule: "balusters_short_of_run",
    fires: job([balusters("add", "40"), balusters("keep", "43")]),
    says: /The run on Rear deck takes 84 balusters by the drawing; the lines have 83/,
    field: "quantity",
    silent: job([balusters("add", "40"), balusters("keep", "44")]),
  },
  {
    rule: "balusters_short_of_run",
    fires: job([balusters("add", "42")]),
    says: /84 balusters.*have 42/,
    field: "quantity",
    silent: job([balusters("add", "41")]),
  },
  {
    rule: "balusters_short_of_run",
    fires: job([line("rail", "replace", "40", "lf"), balusters("replace", "70")]),
    says: /84 balusters.*have 70/,
    field: "quantity",
    silent: job([line("rail", "replace", "20", "lf"), balusters("replace", "40")]),
  },
  {
    rule: "support_without_shoring",
    fires: job([line("post", "replace", "2", "each")]),
    says: /2 posts replaced on Rear deck, but no jacks or shoring/,
    field: "component",
    silent: job([line("post", "replace", "2", "each", { description: "Replace a post, with shoring" })]),
  },
  {
    rule: "support_without_shoring",
    fires: job([line("beam", "replace", "16", "lf")]),
    says: /16 ft of beam replaced/,
    field: "component",
    silent: job([line("beam", "replace", "16", "lf", { rates: rates([], { equipmentUnitCents: "250" }) })]),
  },
  {
    rule: "others_work_first",
    fires: job([line("joist", "sister", "4", "each", { by: "owner", rates: null }), newBoards()]),
    says: /The owner does 4 joists on Rear deck, and our boards or rails go on it/,
    field: "by",
    silent: job([line("joist", "sister", "4", "each"), newBoards()]),
  },
  {
    rule: "finish_without_cleaning",
    fires: job([line("decking", "finish", "192", "sqft")]),
    says: /A finish on 192 sq ft of decking on Rear deck, and nobody cleans first/,
    field: "component",
    silent: job([
      line("decking", "finish", "192", "sqft"),
      line("decking", "clean", "192", "sqft", { by: "owner" }),
    ]),
  },
];
