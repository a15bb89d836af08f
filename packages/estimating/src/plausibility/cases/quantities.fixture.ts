import { BOARD, type Case, deck, job, line, newBoards, rates, SCREWS } from "../job.fixture.ts";

const there = (counts: Record<string, string>) => ({ zones: [deck({ there: counts })] });
const screws = (count: string, change = {}) => [
  newBoards(),
  line("fastener", "replace", count, "each", change),
];
const extra = (quantity: string) => [
  newBoards(),
  newBoards({ quantity, alternate: "All new boards", zoneId: "deck" }),
];
const post = (action: "replace" | "keep", quantity: string) => line("guard_post", action, quantity, "each");

export const QUANTITY_CASES: Case[] = [
  {
    rule: "more_replaced_than_exists",
    fires: job([line("joist", "replace", "9", "each"), line("joist", "remove", "5", "each")]),
    says: /^14 joists come out of Rear deck over 2 lines; it has only 13\./,
    field: "quantity",
    silent: job([line("joist", "replace", "9", "each"), line("joist", "remove", "4", "each")]),
  },
  {
    rule: "more_replaced_than_exists",
    fires: job([newBoards({ quantity: "196" })]),
    says: /^196 sq ft of decking come out of Rear deck; it has only 192/,
    field: "quantity",
    // Two in a hundred is how well a deck is measured.
    silent: job([newBoards({ quantity: "195.84" })]),
  },
  {
    // Half of the boards by the foot and the whole by the square foot: more than there is, whatever it is counted in.
    rule: "more_replaced_than_exists",
    fires: job(
      [newBoards({ quantity: "192" }), line("decking", "remove", "210", "lf")],
      there({ "decking lf": "420" }),
    ),
    says: /^288 sq ft of decking come out of Rear deck over 2 lines; it has only 192/,
    field: "quantity",
    silent: job(
      [newBoards({ quantity: "96" }), line("decking", "remove", "210", "lf")],
      there({ "decking lf": "420" }),
    ),
  },
  {
    rule: "more_worked_than_exists",
    fires: job([line("decking", "clean", "400", "sqft")]),
    says: /^400 sq ft of decking cleaned on Rear deck; it has only 192/,
    field: "quantity",
    silent: job([line("decking", "clean", "192", "sqft"), line("decking", "finish", "192", "sqft")]),
  },
  {
    rule: "count_disagrees",
    fires: job([post("keep", "4"), post("replace", "2")]),
    says: /Rear deck has 8 guard posts by the drawing, but 4 kept and 2 taken out make 6/,
    field: "quantity",
    silent: job([post("keep", "4"), post("replace", "2"), line("guard_post", "reinforce", "2", "each")]),
  },
  {
    rule: "fasteners_off_crossings",
    fires: job(screws("120")),
    says: /^96 sq ft of new boards take about 338 fasteners, two at each crossing; the line has 120/,
    field: "quantity",
    silent: job(screws("350")),
  },
  {
    rule: "fasteners_off_crossings",
    fires: job(screws("3500")),
    says: /the line has 3,500/,
    field: "quantity",
    silent: job(screws("60", { description: "Structural screws at the ledger" })),
  },
  {
    rule: "quantity_slip",
    fires: job([line("lattice", "add", "1200", "sqft")]),
    says: /1,200 sq ft of lattice on Rear deck: that is far more/,
    field: "quantity",
    silent: job([line("lattice", "add", "120", "sqft")]),
  },
  {
    rule: "quantity_slip",
    fires: job([line("post", "add", "40", "each")], there({ "post each": "3" })),
    says: /40 posts/,
    field: "quantity",
    silent: job([line("post", "add", "30", "each")], there({ "post each": "3" })),
  },
  {
    rule: "part_of_a_piece",
    fires: job([line("joist", "sister", "2.5", "each")]),
    says: /^2.5 joists: count whole pieces, or price joist by the foot/,
    field: "quantity",
    silent: job([line("joist", "sister", "2", "each")]),
  },
  {
    rule: "unit_not_for_component",
    fires: job([line("joist_hanger", "add", "12", "sqft")]),
    says: /joist hanger is counted each, not sq ft/,
    field: "unit",
    silent: job([line("joist_hanger", "add", "12", "each"), line("joist", "treat", "30", "sqft")]),
  },
  {
    rule: "unit_not_of_assembly",
    fires: job([newBoards({ assemblyCode: "DECK-REPLACE", assemblyUnit: "lf" })]),
    says: /DECK-REPLACE is priced by ft, the line counts sq ft/,
    field: "unit",
    silent: job([newBoards({ assemblyCode: "DECK-REPLACE", assemblyUnit: "sqft" })]),
  },
  {
    rule: "units_mixed",
    fires: job([newBoards(), newBoards({ unit: "each", quantity: "5" })]),
    says: /decking on Rear deck is replaced in each and sq ft/,
    field: "unit",
    silent: job([newBoards(), newBoards({ unit: "lot", quantity: "1" })]),
  },
  {
    rule: "duplicate_lines",
    fires: job([newBoards({ quantity: "40" }), newBoards({ quantity: "40" })]),
    says: /decking on Rear deck is replaced in 2 lines, two of them alike/,
    field: "component",
    silent: job([
      newBoards({ quantity: "40", assemblyCode: "A" }),
      newBoards({ quantity: "40", assemblyCode: "B", rates: rates([BOARD, SCREWS]) }),
    ]),
  },
  {
    rule: "duplicate_lines",
    fires: job([newBoards({ quantity: "40" }), newBoards({ quantity: "41" })]),
    says: /Put them together unless/,
    severity: "note",
    field: "component",
    silent: job([newBoards(), newBoards({ by: "owner" })]),
  },
  {
    rule: "alternate_repeats_base",
    fires: job(extra("192")),
    says: /The extra "All new boards" has 192 sq ft of decking replaced that the base scope already has 96 of, and Rear deck has 192/,
    field: "alternate",
    silent: job(extra("96")),
  },
  {
    rule: "alternate_repeats_base",
    fires: job([
      line("skirting", "replace", "60", "sqft"),
      line("skirting", "replace", "60", "sqft", { alternate: "Skirting" }),
    ]),
    says: /already has 60 of\. The customer/,
    field: "alternate",
    silent: job([
      line("skirting", "replace", "60", "sqft"),
      line("skirting", "replace", "30", "sqft", { alternate: "Skirting" }),
    ]),
  },
];
