import { drawDeck, drawRailing, drawStair, rectangle } from "./shapes.ts";
import { allOf, lineOn, roughZone, type Template, zone } from "./work.ts";
import { PERMIT } from "./works-decks.ts";

export const mainStair: Template = (r, lumber) => {
  const [name, landing] = ["Main stair", "Landing"];
  const stair = zone(name, "stair", drawStair({ height: r.whole(6, 11), width: 4, closedRisers: true }));
  const top = zone(landing, "landing", drawDeck({ outline: rectangle(5, 4), height: 2.5, lumber }));
  const line = lineOn(name);
  return {
    title: "Main stair and landing",
    zones: [stair, top],
    lines: [
      line("STRINGER-REPLACE", allOf(stair, "stringer", "each")),
      line("TREAD-REPLACE", allOf(stair, "tread", "each")),
      line("RISER-REPLACE", allOf(stair, "riser", "each")),
      line("GUARD-POST-REPLACE", allOf(stair, "guard_post", "each")),
      line("RAIL-REPLACE", allOf(stair, "rail", "lf")),
      { zone: landing, assembly: "DECK-REPLACE", quantity: allOf(top, "decking", "sqft") },
    ],
    words: r.pick([
      "The stair to the yard sways when two people are on it.",
      "Salt from the drive has eaten the bottom of the stair, the last step hangs loose.",
      "We carry the stroller down these steps every day and they move.",
    ]),
  };
};

export const guards: Template = (r) => {
  const [length, width, name] = [r.pick([14, 16, 20]), r.pick([10, 12]), "Upper deck guard"];
  const guard = zone(name, "railing", drawRailing([width, length, width]));
  const line = lineOn(name);
  return {
    title: "Upper deck, guard and rails",
    zones: [guard],
    lines: [
      line("GUARD-POST-REPLACE", allOf(guard, "guard_post", "each")),
      line("RAIL-REPLACE", allOf(guard, "rail", "lf")),
      line("RAIL-CAP-REPLACE", allOf(guard, "rail_cap", "lf")),
    ],
    words: r.pick([
      "The railing leans out when you rest a hand on it. It is ten feet down.",
      "Insurance wants the guard replaced before they renew.",
      "A ball went through between the balusters, so a toddler would too.",
    ]),
  };
};

export const porchFloor: Template = (r, lumber) => {
  const [length, width] = [r.pick([18, 20, 24]), r.pick([8, 9, 10])];
  const porch = zone(
    "Porch floor",
    "porch",
    drawDeck({ outline: rectangle(length, width), height: 3, lumber, guard: {} }),
  );
  const stair = zone("Back stair", "stair", drawStair({ height: 4, width: 4 }));
  const floor = lineOn("Porch floor");
  const step = lineOn("Back stair");
  return {
    title: "Porch floor and back stair",
    zones: [porch, stair],
    lines: [
      floor("DECK-REPLACE", allOf(porch, "decking", "sqft")),
      floor("JOIST-REPLACE", Math.round(allOf(porch, "joist", "each") / 3)),
      floor("RIM-REPAIR", r.whole(8, 14)),
      step("STRINGER-REPLACE", allOf(stair, "stringer", "each")),
      step("TREAD-REPLACE", allOf(stair, "tread", "each")),
    ],
    words: r.pick([
      "Porch floor gives under the glider. House is from my grandmother, please keep the look.",
      "Front porch boards are rotten along the drip line.",
      "A foot went through the porch floor last week, nobody hurt.",
    ]),
  };
};

export const framing: Template = (r, lumber) => {
  const [length, name] = [r.pick([16, 20, 24]), "Deck frame"];
  const posts = Math.round(length / 6);
  const outline = rectangle(length, 14);
  const frame = zone(name, "deck", drawDeck({ outline, height: r.whole(7, 10), lumber, posts, guard: {} }));
  const line = lineOn(name);
  return {
    title: "Deck beam, posts and footings",
    zones: [frame],
    lines: [
      line("BEAM-REPLACE", allOf(frame, "beam", "lf")),
      line("POST-REPLACE", posts),
      line("FOOTING-ADD", posts),
      line("JOIST-SISTER", r.whole(3, 6)),
      line("JOIST-REINFORCE", allOf(frame, "joist", "each")),
    ],
    charges: [PERMIT],
    words: r.pick([
      "One of the posts under the deck is hanging in the air, you can slide a hand under it.",
      "The deck has a dip in the middle that gets worse every winter.",
      "Beam under the deck has split along the bolts.",
    ]),
  };
};

export const skirting: Template = (r) => {
  const edge = r.whole(34, 52);
  const line = lineOn("Deck skirt");
  return {
    title: "Skirting, lattice and gate",
    zones: [roughZone("Deck skirt", "other", [edge, null, 4])],
    lines: [line("SKIRTING-REPLACE", edge * 2), line("LATTICE-REPLACE", edge * 2), line("GATE-ADD", 1)],
    words: r.pick([
      "Groundhogs have moved in under the deck, please close it off with a way to get in.",
      "The skirting boards stand in the mulch and have rotted from below.",
    ]),
  };
};

export const balusters: Template = (r) => {
  const [edge, name] = [r.whole(28, 44), "Deck guard"];
  const guard = zone(name, "railing", drawRailing([edge - 16, 16]));
  const loose = Math.round(allOf(guard, "baluster", "each") / 2);
  return {
    title: "Balusters and loose rails",
    zones: [guard],
    lines: [
      { zone: name, assembly: "BALUSTER-REPLACE", quantity: loose },
      { zone: name, assembly: "RAIL-REPAIR", quantity: Math.round(edge / 2) },
    ],
    charges: [
      { kind: "disposal", words: "Haul away and tip the old balusters", costCents: 3_500, atCost: false },
    ],
    words: r.pick([
      "About half of the balusters have come off at the bottom.",
      "The dog squeezes through the railing, the gaps are too wide.",
    ]),
  };
};

export const treadsOnly: Template = (r) => {
  const [treads, name] = [r.whole(9, 14), "Yard stair"];
  // Steps of 7 1/2 in.
  const height = ((treads + 1) * 7.5) / 12;
  const stair = zone(name, "stair", drawStair({ height, risers: treads + 1, width: 4 }));
  const cracked = Math.round(treads / 2);
  const line = lineOn(name);
  return {
    title: "Yard stair, treads and stringer feet",
    zones: [stair],
    lines: [
      line("TREAD-REPLACE", cracked),
      line("TREAD-REFASTEN", treads - cracked),
      line("STRINGER-REPAIR", allOf(stair, "stringer", "each")),
      line("RAIL-REPAIR", treads),
    ],
    words: r.pick([
      "Several steps down to the yard are loose, one is cracked through.",
      "Bottom of the yard stair sits in wet leaves and has gone soft.",
    ]),
  };
};
