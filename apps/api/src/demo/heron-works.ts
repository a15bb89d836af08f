import type { Review } from "./findings.ts";
import { drawDeck, drawStair, rectangle } from "./shapes.ts";
import { allOf, lineOn as on, type Work, zone } from "./work.ts";
import { STRUCTURAL } from "./works-decks.ts";

/** Jobs of Heron Point Carpentry that are told one by one: first passes that cannot be right, and two that turn. */
const lumber = "southern_pine" as const;

/** A first pass that cannot be: 26 joists replaced in a frame that holds 22, and treads on nothing. */
export const tooManyJoists: Work = {
  title: "Boathouse deck",
  words: "Bolts under the boathouse deck crumble when you touch them, and it bounces.",
  zones: [
    zone("Boathouse deck", "deck", drawDeck({ outline: rectangle(28, 16), height: 4, lumber, guard: {} })),
    zone("Dock steps", "stair", drawStair({ height: 4, width: 4, stringers: 0 })),
  ],
  lines: [
    on("Boathouse deck")("DECK-REPLACE", 448),
    on("Boathouse deck")("JOIST-REPLACE", 26),
    on("Boathouse deck")("FASTENER-REPLACE", 90, { description: STRUCTURAL }),
    on("Boathouse deck")("FLASHING-ADD", 28),
    on("Dock steps")("TREAD-REPLACE", 5),
  ],
};

/** 410 sq ft of new boards on a deck of 252. */
export const tooManyBoards: Work = {
  title: "Rear deck, new boards and rail cap",
  words: "Boards are soft all over. The house is under trees, nothing dries.",
  zones: [zone("Rear deck", "deck", drawDeck({ outline: rectangle(18, 14), height: 5, lumber, guard: {} }))],
  lines: [
    on("Rear deck")("DECK-REPLACE", 410),
    on("Rear deck")("JOIST-SISTER", 3),
    on("Rear deck")("RAIL-CAP-REPLACE", 46),
  ],
};

/** 24 treads on a stair that climbs 6 ft: it has nine. And not a word of the stringers that carry them. */
export const tooManyTreads: Work = {
  title: "Side stair, treads and rail",
  words: "The side stair is green and slippery, treads rock under your foot.",
  zones: [zone("Side stair", "stair", drawStair({ height: 6, width: 4, stringers: 0 }))],
  lines: [on("Side stair")("TREAD-REPLACE", 24), on("Side stair")("RAIL-REPLACE", 18)],
};

const porchFloor = zone(
  "Porch floor",
  "porch",
  drawDeck({ outline: rectangle(26, 9), height: 3, lumber, posts: 6, guard: {} }),
);
const backStair = zone(
  "Back stair",
  "stair",
  drawStair({ height: 7, risers: 11, width: 5, closedRisers: true }),
);
const floor = on("Porch floor");
const step = on("Back stair");
const railFeet = allOf(backStair, "rail", "lf");
const railPosts = allOf(backStair, "guard_post", "each");

export const porch: Work = {
  title: "Porch floor",
  words:
    "The porch floor dips by the back stair and the stair creaks. My father built it, please save what can be saved.",
  zones: [porchFloor, backStair],
  lines: [
    floor("DECK-REPLACE", 214),
    floor("JOIST-REPLACE", 14),
    floor("RIM-REPLACE", 26),
    step("STRINGER-REPLACE", allOf(backStair, "stringer", "each")),
    step("TREAD-REPLACE", 10),
    step("RISER-REPLACE", 11),
    step("GUARD-POST-REPLACE", railPosts),
    step("RAIL-REPLACE", railFeet),
  ],
};

/** Stringers and stair are sound; the post bases are not, and nobody can see the band yet. */
export const porchReview: Review = {
  lines: [
    { assembly: "DECK-REPLACE", quantity: 234, code: "miscount", reason: "measured" },
    null,
    {
      assembly: "RIM-REPAIR",
      quantity: 9,
      code: "misjudged_condition",
      reason: "soft behind the downspout only, the rest is dry",
    },
    {
      assembly: null,
      quantity: allOf(backStair, "stringer", "each"),
      by: "owner",
      code: "misjudged_condition",
      reason: "probed at 12 places, dry; paint by owner",
    },
    {
      assembly: "TREAD-REFASTEN",
      quantity: 10,
      code: "misjudged_condition",
      reason: "treads sound, the nails have backed out",
    },
    {
      assembly: null,
      quantity: 11,
      by: "owner",
      code: "misjudged_condition",
      reason: "risers dry; paint by owner",
    },
    null,
    {
      assembly: "RAIL-REPAIR",
      quantity: railFeet,
      code: "misjudged_condition",
      reason: "rails sound, brackets loose",
    },
  ],
  missed: [
    {
      zone: "Porch floor",
      assembly: "POST-BASE-REPLACE",
      quantity: 6,
      code: "missed",
      reason: "rusted through at grade; stand-off bases",
    },
    {
      zone: "Porch floor",
      assembly: "BAND-REPAIR",
      quantity: 8,
      allowance: {
        chanceBp: 6000,
        lowQuantity: "3",
        highQuantity: "16",
        capQuantity: "16",
        charge: "if_found",
      },
      code: "concealed",
      reason: "house band reads wet, opens up at tear-off; cap agreed",
    },
  ],
};

const mainStair = zone(
  "Main stair",
  "stair",
  drawStair({ height: 8, risers: 13, width: 4, closedRisers: true }),
);
const landing = zone("Landing", "landing", drawDeck({ outline: rectangle(5, 4), height: 2.5, lumber }));
export const calloway: Work = {
  title: "Main stair and landing",
  words: "A tread on the main stair came loose under the mail carrier. It is roped off.",
  zones: [mainStair, landing],
  lines: [
    on("Main stair")("STRINGER-REPLACE", allOf(mainStair, "stringer", "each")),
    on("Main stair")("TREAD-REPLACE", 12),
    on("Main stair")("RAIL-REPLACE", 22),
    on("Main stair")("GUARD-POST-REPLACE", 4),
    on("Landing")("DECK-REPLACE", 20),
  ],
};
