import { joistsAcross, postsAlong, type Template, treadsUp, zone } from "./work.ts";

export const mainStair: Template = (r) => {
  const height = r.whole(6, 11);
  const treads = treadsUp(height);
  const rails = 2 * Math.round(height * 1.5);
  return {
    title: "Main stair and landing",
    zones: [
      zone("Main stair", "stair", Math.round(treads * 0.9), 4, height),
      zone("Landing", "landing", 5, 4, 3),
    ],
    lines: [
      { zone: "Main stair", item: "STRINGER-REPLACE", quantity: 3 },
      { zone: "Main stair", item: "TREAD-REPLACE", quantity: treads },
      { zone: "Main stair", item: "RISER-REPLACE", quantity: treads + 1 },
      { zone: "Main stair", item: "GUARD-POST-REPLACE", quantity: 4 },
      { zone: "Main stair", item: "RAIL-REPLACE", quantity: rails },
      { zone: "Landing", item: "DECK-REPLACE", quantity: 20 },
    ],
    words: r.pick([
      "The stair to the yard sways when two people are on it.",
      "Salt from the drive has eaten the bottom of the stair, the last step hangs loose.",
      "We carry the stroller down these steps every day and they move.",
    ]),
  };
};

export const guards: Template = (r) => {
  const [length, width] = [r.pick([14, 16, 20]), r.pick([10, 12])];
  const edge = length + 2 * width;
  return {
    title: "Upper deck, guard and rails",
    zones: [zone("Upper deck guard", "railing", edge, null, 3)],
    lines: [
      { zone: "Upper deck guard", item: "GUARD-POST-REPLACE", quantity: postsAlong(edge) },
      { zone: "Upper deck guard", item: "RAIL-REPLACE", quantity: edge },
      { zone: "Upper deck guard", item: "RAIL-CAP-REPLACE", quantity: edge },
    ],
    words: r.pick([
      "The railing leans out when you rest a hand on it. It is ten feet down.",
      "Insurance wants the guard replaced before they renew.",
      "A ball went through between the balusters, so a toddler would too.",
    ]),
  };
};

export const porchFloor: Template = (r) => {
  const [length, width] = [r.pick([18, 20, 24]), r.pick([8, 9, 10])];
  return {
    title: "Porch floor and back stair",
    zones: [zone("Porch floor", "porch", length, width, 3), zone("Back stair", "stair", 6, 5, 4)],
    lines: [
      { zone: "Porch floor", item: "DECK-REPLACE", quantity: length * width },
      { zone: "Porch floor", item: "JOIST-REPLACE", quantity: Math.round(joistsAcross(length) / 3) },
      { zone: "Porch floor", item: "RIM-REPAIR", quantity: r.whole(8, 14) },
      { zone: "Back stair", item: "STRINGER-REPLACE", quantity: 3 },
      { zone: "Back stair", item: "TREAD-REPLACE", quantity: treadsUp(4) },
    ],
    words: r.pick([
      "Porch floor gives under the glider. House is from my grandmother, please keep the look.",
      "Front porch boards are rotten along the drip line.",
      "A foot went through the porch floor last week, nobody hurt.",
    ]),
  };
};

export const framing: Template = (r) => {
  const length = r.pick([16, 20, 24]);
  const posts = Math.round(length / 6);
  return {
    title: "Deck beam, posts and footings",
    zones: [zone("Deck frame", "deck", length, 14, r.whole(7, 10))],
    lines: [
      { zone: "Deck frame", item: "BEAM-REPLACE", quantity: length },
      { zone: "Deck frame", item: "POST-REPLACE", quantity: posts },
      { zone: "Deck frame", item: "FOOTING-ADD", quantity: posts },
      { zone: "Deck frame", item: "JOIST-SISTER", quantity: r.whole(3, 6) },
      { zone: "Deck frame", item: "JOIST-REINFORCE", quantity: joistsAcross(length) },
    ],
    words: r.pick([
      "One of the posts under the deck is hanging in the air, you can slide a hand under it.",
      "The deck has a dip in the middle that gets worse every winter.",
      "Beam under the deck has split along the bolts.",
    ]),
  };
};

export const skirting: Template = (r) => {
  const edge = r.whole(34, 52);
  return {
    title: "Skirting, lattice and gate",
    zones: [zone("Deck skirt", "other", edge, null, 4)],
    lines: [
      { zone: "Deck skirt", item: "SKIRTING-REPLACE", quantity: edge * 2 },
      { zone: "Deck skirt", item: "LATTICE-REPLACE", quantity: edge * 2 },
      { zone: "Deck skirt", item: "GATE-ADD", quantity: 1 },
    ],
    words: r.pick([
      "Groundhogs have moved in under the deck, please close it off with a way to get in.",
      "The skirting boards stand in the mulch and have rotted from below.",
    ]),
  };
};

export const balusters: Template = (r) => {
  const edge = r.whole(28, 44);
  return {
    title: "Balusters and loose rails",
    zones: [zone("Deck guard", "railing", edge, null, 3)],
    lines: [
      { zone: "Deck guard", item: "BALUSTER-REPLACE", quantity: edge * 2 },
      { zone: "Deck guard", item: "RAIL-REPAIR", quantity: Math.round(edge / 2) },
    ],
    words: r.pick([
      "About half of the balusters have come off at the bottom.",
      "The dog squeezes through the railing, the gaps are too wide.",
    ]),
  };
};

export const treadsOnly: Template = (r) => {
  const treads = r.whole(9, 14);
  return {
    title: "Yard stair, treads and stringer feet",
    zones: [zone("Yard stair", "stair", treads, 4, Math.round(treads * 0.65))],
    lines: [
      { zone: "Yard stair", item: "TREAD-REPLACE", quantity: Math.round(treads / 2) },
      { zone: "Yard stair", item: "TREAD-REFASTEN", quantity: treads - Math.round(treads / 2) },
      { zone: "Yard stair", item: "STRINGER-REPAIR", quantity: 3 },
      { zone: "Yard stair", item: "RAIL-REPAIR", quantity: treads },
    ],
    words: r.pick([
      "Several steps down to the yard are loose, one is cracked through.",
      "Bottom of the yard stair sits in wet leaves and has gone soft.",
    ]),
  };
};
