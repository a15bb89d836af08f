import type { LumberGroup, ZoneGeometry } from "@ledgerboard/contracts/geometry";
import type { Charge } from "@ledgerboard/estimating";
import type { Random } from "./random.ts";
import { drawDeck, drawRailing, lShape, polygon, rectangle } from "./shapes.ts";
import { allOf, lineOn, type Template, zone } from "./work.ts";

/** What the building office asks for work on the frame; invented. */
export const PERMIT: Charge = {
  kind: "permit",
  words: "Building permit, passed on at cost",
  costCents: 18_500,
  atCost: true,
};

/** Fastener lines that are not about the screws of the boards. */
export const STRUCTURAL = "structural screws and bolts";

/** Most decks are rectangles; some have a corner missing, some one cut off. */
function outlineOf(r: Random, length: number, width: number): NonNullable<ZoneGeometry["outline"]> {
  const lot = r.next();
  if (lot < 0.68) return rectangle(length, width);
  if (lot < 0.88) return lShape(length, width, [r.pick([4, 5, 6]), r.pick([3, 4])]);
  return polygon([0, 0], [length, 0], [length, width - 3], [length - 3, width], [0, width]);
}

interface Sized {
  name: string;
  length: number;
  width: number;
  height: number;
  lumber: LumberGroup;
}

const deckOf = (r: Random, { name, length, width, height, lumber }: Sized, railed = false) => {
  const outline = outlineOf(r, length, width);
  const beams = outline.shape === "l_shape" ? 2 : 1;
  const drawn = drawDeck({ outline, height, lumber, beams, ...(railed && { guard: {} }) });
  return zone(name, "deck", drawn);
};

export const ledgerDeck: Template = (r, lumber) => {
  const [length, width] = [r.pick([14, 16, 18, 20]), r.pick([10, 12, 14])];
  const name = r.pick(["Rear deck", "Lower deck", "Kitchen deck"]);
  const deck = deckOf(r, { name, length, width, height: r.whole(3, 9), lumber }, true);
  const line = lineOn(name);
  return {
    title: `${name}, ledger and flashing`,
    zones: [deck],
    lines: [
      line("LEDGER-REPLACE", allOf(deck, "ledger", "lf")),
      line("FLASHING-ADD", allOf(deck, "ledger", "lf")),
      line("HANGER-REPLACE", allOf(deck, "joist_hanger", "each")),
      line("DECK-REPLACE", Math.round(allOf(deck, "decking", "sqft") * 0.4)),
      line("JOIST-SISTER", r.whole(2, 4)),
    ],
    words: r.pick([
      "The deck has pulled about an inch away from the house and the boards next to the wall are black.",
      "Water comes into the basement under the deck whenever it rains from the north.",
      "Our home inspector says there is no flashing over the deck ledger and it is soft.",
    ]),
  };
};

export const newBoards: Template = (r, lumber) => {
  const [length, width] = [r.pick([12, 14, 16, 18]), r.pick([12, 14, 16])];
  const name = r.pick(["Rear deck", "Upper deck", "Side deck"]);
  const deck = deckOf(r, { name, length, width, height: r.whole(2, 10), lumber }, true);
  const line = lineOn(name);
  const boards = allOf(deck, "decking", "sqft");
  const stain = line("DECK-FINISH", boards, { alternate: "Stain and seal the deck once it is dry" });
  return {
    title: `${name}, new boards`,
    zones: [deck],
    lines: [
      line("DECK-REPLACE", boards),
      line("JOIST-SISTER", Math.round(allOf(deck, "joist", "each") / 4)),
      line("JOIST-TREAT", allOf(deck, "joist", "lf")),
      line("RAIL-CAP-REPLACE", allOf(deck, "rail_cap", "lf")),
      ...(r.chance(0.4) ? [stain] : []),
    ],
    words: r.pick([
      "Boards are cupped and splintering, the grandchildren cannot go barefoot.",
      "Two boards have rotted through by the grill and the rest look tired.",
      "The deck is in full shade under oaks and never dries. Boards are green and soft.",
    ]),
  };
};

export const boathouse: Template = (r, lumber) => {
  const [length, width, name] = [r.pick([20, 24, 28]), 16, "Boathouse deck"];
  const drawn = drawDeck({ outline: rectangle(length, width), height: 4, lumber, guard: {} });
  const deck = zone(name, "deck", drawn);
  const joists = allOf(deck, "joist", "each");
  const line = lineOn(name);
  return {
    title: name,
    zones: [deck],
    lines: [
      line("DECK-REPLACE", allOf(deck, "decking", "sqft")),
      line("JOIST-SISTER", Math.round(joists / 3)),
      line("HANGER-REPLACE", allOf(deck, "joist_hanger", "each")),
      line("FASTENER-REPLACE", joists * 6, { description: STRUCTURAL }),
      line("RIM-REPLACE", allOf(deck, "rim_joist", "lf")),
    ],
    words: r.pick([
      "Bolts under the boathouse deck crumble when you touch them. It is salt water.",
      "Boathouse deck has soft spots all along the water side.",
    ]),
  };
};

export const wholeDeck: Template = (r, lumber) => {
  const [length, width] = [r.pick([22, 24, 26, 28]), r.pick([14, 16])];
  const name = r.pick(["Rear deck", "Upper deck"]);
  const outline = rectangle(length, width);
  const border = r.chance(0.3) ? 1 : 0;
  const deck = zone(name, "deck", drawDeck({ outline, height: r.whole(6, 10), lumber, border }));
  const guard = zone("Guard", "railing", drawRailing([width, length, width]));
  const line = lineOn(name);
  const along = lineOn("Guard");
  return {
    title: `${name}, rebuild on the old footprint`,
    zones: [deck, guard],
    lines: [
      line("DECK-REPLACE", allOf(deck, "decking", "sqft")),
      line("LEDGER-REPLACE", length),
      line("FLASHING-ADD", length),
      line("JOIST-SISTER", Math.round(allOf(deck, "joist", "each") / 2)),
      line("BEAM-REPLACE", allOf(deck, "beam", "lf")),
      line("POST-REPLACE", allOf(deck, "post", "each")),
      along("GUARD-POST-REPLACE", allOf(guard, "guard_post", "each")),
      along("RAIL-REPLACE", allOf(guard, "rail", "lf")),
      along("RAIL-CAP-REPLACE", allOf(guard, "rail_cap", "lf")),
    ],
    charges: [PERMIT],
    words: r.pick([
      "Deck is from when the house was built. We are told it has to come down and be built again.",
      "Two contractors refused to patch it. How much is a new one on the same footprint?",
    ]),
  };
};

export const hangers: Template = (r, lumber) => {
  const [length, name] = [r.pick([14, 16, 18]), "Rear deck"];
  const deck = deckOf(r, { name, length, width: 12, height: r.whole(4, 9), lumber }, true);
  const line = lineOn(name);
  return {
    title: "Joist hangers and ledger fasteners",
    zones: [deck],
    lines: [
      line("HANGER-ADD", allOf(deck, "joist_hanger", "each")),
      line("LEDGER-REFASTEN", length),
      line("FASTENER-REPLACE", r.whole(40, 70), { description: STRUCTURAL }),
      line("FLASHING-ADD", length),
    ],
    words: r.pick([
      "Buyer's inspection: joists nailed without hangers, ledger nailed not bolted.",
      "Nails under the deck are rust, can the frame be saved?",
    ]),
  };
};

export const washAndStain: Template = (r, lumber) => {
  const [length, width, name] = [r.pick([16, 18, 20]), r.pick([12, 14]), "Rear deck"];
  const deck = deckOf(r, { name, length, width, height: r.whole(1, 6), lumber }, true);
  const boards = allOf(deck, "decking", "sqft");
  const line = lineOn(name);
  return {
    title: "Deck, wash and stain",
    zones: [deck],
    lines: [
      line("DECK-CLEAN", boards),
      line("DECK-REFASTEN", boards),
      line("DECK-FINISH", boards),
      line("RAIL-FINISH", allOf(deck, "rail", "lf")),
    ],
    words: r.pick([
      "Nail heads are up all over and it wants a coat of stain before a party in the yard.",
      "Last stained five years ago. It is grey and rough now.",
      "You rebuilt this one for us, now it is dry enough to be stained.",
    ]),
  };
};
