import { joistsAcross, postsAlong, type Template, zone } from "./work.ts";

export const ledgerDeck: Template = (r) => {
  const [length, width] = [r.pick([14, 16, 18, 20]), r.pick([10, 12, 14])];
  const name = r.pick(["Rear deck", "Lower deck", "Kitchen deck"]);
  return {
    title: `${name}, ledger and flashing`,
    zones: [zone(name, "deck", length, width, r.whole(3, 9))],
    lines: [
      { zone: name, item: "LEDGER-REPLACE", quantity: length },
      { zone: name, item: "FLASHING-ADD", quantity: length },
      { zone: name, item: "HANGER-REPLACE", quantity: joistsAcross(length) },
      { zone: name, item: "DECK-REPLACE", quantity: Math.round(length * width * 0.4) },
      { zone: name, item: "JOIST-SISTER", quantity: r.whole(2, 4) },
    ],
    words: r.pick([
      "The deck has pulled about an inch away from the house and the boards next to the wall are black.",
      "Water comes into the basement under the deck whenever it rains from the north.",
      "Our home inspector says there is no flashing over the deck ledger and it is soft.",
    ]),
  };
};

export const newBoards: Template = (r) => {
  const [length, width] = [r.pick([12, 14, 16, 18]), r.pick([12, 14, 16])];
  const name = r.pick(["Rear deck", "Upper deck", "Side deck"]);
  const edge = length + 2 * width;
  return {
    title: `${name}, new boards`,
    zones: [zone(name, "deck", length, width, r.whole(2, 10))],
    lines: [
      { zone: name, item: "DECK-REPLACE", quantity: length * width },
      { zone: name, item: "JOIST-SISTER", quantity: Math.round(joistsAcross(length) / 4) },
      { zone: name, item: "JOIST-TREAT", quantity: joistsAcross(length) * width },
      { zone: name, item: "RAIL-CAP-REPLACE", quantity: edge },
    ],
    words: r.pick([
      "Boards are cupped and splintering, the grandchildren cannot go barefoot.",
      "Two boards have rotted through by the grill and the rest look tired.",
      "The deck is in full shade under oaks and never dries. Boards are green and soft.",
    ]),
  };
};

export const boathouse: Template = (r) => {
  const [length, width] = [r.pick([20, 24, 28]), 16];
  const joists = joistsAcross(length);
  return {
    title: "Boathouse deck",
    zones: [zone("Boathouse deck", "deck", length, width, 4)],
    lines: [
      { zone: "Boathouse deck", item: "DECK-REPLACE", quantity: length * width },
      { zone: "Boathouse deck", item: "JOIST-SISTER", quantity: Math.round(joists / 3) },
      { zone: "Boathouse deck", item: "HANGER-REPLACE", quantity: joists * 2 },
      { zone: "Boathouse deck", item: "FASTENER-REPLACE", quantity: joists * 6 },
      { zone: "Boathouse deck", item: "RIM-REPLACE", quantity: length },
    ],
    words: r.pick([
      "Bolts under the boathouse deck crumble when you touch them. It is salt water.",
      "Boathouse deck has soft spots all along the water side.",
    ]),
  };
};

export const wholeDeck: Template = (r) => {
  const [length, width] = [r.pick([22, 24, 26, 28]), r.pick([14, 16])];
  const name = r.pick(["Rear deck", "Upper deck"]);
  const edge = length + 2 * width;
  return {
    title: `${name}, rebuild on the old footprint`,
    zones: [zone(name, "deck", length, width, r.whole(6, 10)), zone("Guard", "railing", edge, null, 3)],
    lines: [
      { zone: name, item: "DECK-REPLACE", quantity: length * width },
      { zone: name, item: "LEDGER-REPLACE", quantity: length },
      { zone: name, item: "FLASHING-ADD", quantity: length },
      { zone: name, item: "JOIST-SISTER", quantity: Math.round(joistsAcross(length) / 2) },
      { zone: name, item: "BEAM-REPLACE", quantity: length },
      { zone: name, item: "POST-REPLACE", quantity: Math.round(length / 7) },
      { zone: "Guard", item: "GUARD-POST-REPLACE", quantity: postsAlong(edge) },
      { zone: "Guard", item: "RAIL-REPLACE", quantity: edge },
      { zone: "Guard", item: "RAIL-CAP-REPLACE", quantity: edge },
    ],
    words: r.pick([
      "Deck is from when the house was built. We are told it has to come down and be built again.",
      "Two contractors refused to patch it. How much is a new one on the same footprint?",
    ]),
  };
};

export const hangers: Template = (r) => {
  const length = r.pick([14, 16, 18]);
  return {
    title: "Joist hangers and ledger fasteners",
    zones: [zone("Rear deck", "deck", length, 12, r.whole(4, 9))],
    lines: [
      { zone: "Rear deck", item: "HANGER-ADD", quantity: joistsAcross(length) * 2 },
      { zone: "Rear deck", item: "LEDGER-REFASTEN", quantity: length },
      { zone: "Rear deck", item: "FASTENER-REPLACE", quantity: r.whole(40, 70) },
      { zone: "Rear deck", item: "FLASHING-ADD", quantity: length },
    ],
    words: r.pick([
      "Buyer's inspection: joists nailed without hangers, ledger nailed not bolted.",
      "Nails under the deck are rust, can the frame be saved?",
    ]),
  };
};

export const washAndStain: Template = (r) => {
  const [length, width] = [r.pick([16, 18, 20]), r.pick([12, 14])];
  const edge = length + 2 * width;
  return {
    title: "Deck, wash and stain",
    zones: [zone("Rear deck", "deck", length, width, r.whole(1, 6))],
    lines: [
      { zone: "Rear deck", item: "DECK-CLEAN", quantity: length * width },
      { zone: "Rear deck", item: "DECK-REFASTEN", quantity: length * width },
      { zone: "Rear deck", item: "DECK-FINISH", quantity: length * width },
      { zone: "Rear deck", item: "RAIL-FINISH", quantity: edge },
    ],
    words: r.pick([
      "Nail heads are up all over and it wants a coat of stain before a party in the yard.",
      "Last stained five years ago. It is grey and rough now.",
      "You rebuilt this one for us, now it is dry enough to be stained.",
    ]),
  };
};
