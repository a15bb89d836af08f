import type { Charge } from "@ledgerboard/estimating";
import type { Review } from "./findings.ts";
import { aroundTree, drawDeck, drawRailing, drawStair, lShape, polygon, rectangle } from "./shapes.ts";
import { allOf, type Line, type Work, zone } from "./work.ts";
import { PERMIT, STRUCTURAL } from "./works-decks.ts";

/** Jobs of Heron Point Carpentry that each show something, with what the senior finds on them. */
const lumber = "southern_pine" as const;
const on =
  (zoneName: string) =>
  (assembly: string, quantity: number, more: Partial<Line> = {}): Line => ({
    zone: zoneName,
    assembly,
    quantity,
    ...more,
  });

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

const TRAVEL: Charge = {
  kind: "travel",
  words: "Travel, two crew days across the river",
  costCents: 12_000,
  atCost: false,
};

/** By the bay: stainless hardware, a guard lower than today's code asks, and rot that nobody can see yet. */
const bayDeck = zone(
  "Bay side deck",
  "deck",
  drawDeck({ outline: lShape(20, 12, [6, 4]), height: 7, lumber, beams: 2, guard: { heightIn: 34 } }),
);
const bay = on("Bay side deck");
export const bayLedger: Work = {
  title: "Bay side deck, ledger and frame",
  words: "The inspector pushed a screwdriver into the board against the house up to the handle.",
  zones: [bayDeck],
  lines: [
    bay("LEDGER-REPLACE", allOf(bayDeck, "ledger", "lf")),
    bay("FLASHING-ADD", allOf(bayDeck, "ledger", "lf")),
    bay("HANGER-REPLACE", allOf(bayDeck, "joist_hanger", "each")),
    bay("FASTENER-REPLACE", 60, { description: STRUCTURAL }),
    bay("DECK-REPLACE", 80),
    bay("JOIST-SISTER", 4),
  ],
  charges: [PERMIT, TRAVEL],
};
/** Rot in the house band is charged only if it is found; joist ends behind the ledger are in the price as expected. */
export const bayLedgerReview: Review = {
  lines: [
    null,
    null,
    null,
    null,
    { assembly: "DECK-REPLACE", quantity: 96, code: "miscount", reason: "measured" },
    null,
  ],
  missed: [
    {
      zone: "Bay side deck",
      assembly: "BAND-REPAIR",
      quantity: 8,
      description: "rot in the house band behind the ledger",
      allowance: {
        chanceBp: 5500,
        lowQuantity: "3",
        highQuantity: "18",
        capQuantity: "18",
        charge: "if_found",
      },
      code: "concealed",
      reason: "band reads wet at 28 % behind the siding; not known until the ledger is off",
    },
    {
      zone: "Bay side deck",
      assembly: "JOIST-REPAIR",
      quantity: 4,
      description: "joist ends behind the old ledger",
      allowance: {
        chanceBp: 7000,
        lowQuantity: "2",
        highQuantity: "7",
        capQuantity: "8",
        charge: "included",
      },
      code: "concealed",
      reason: "two of three joist ends probed are soft; the rest cannot be reached",
    },
  ],
};

/** Name of the extra that closes the gaps of the guard. */
export const SAFE_GUARD = "Close the guard to gaps under 4 in";
const STAIN_GUARD = "Wash, stain and seal the guard";
const WIDE = { clearGapIn: 5.5, heightIn: 36 };
const openRuns = [12, 16, 12];
const upperGuard = zone("Upper deck guard", "railing", drawRailing(openRuns, WIDE));
/** What the same runs hold with lawful gaps, less what is there. */
const missingBalusters =
  allOf(zone("Upper deck guard", "railing", drawRailing(openRuns)), "baluster", "each") -
  allOf(upperGuard, "baluster", "each");
const deckStair = zone("Deck stair", "stair", drawStair({ height: 8.25, risers: 12, width: 4 }));
const along = on("Upper deck guard");
/** Balusters 5 1/2 in apart, and steps higher than today's code allows. */
export const openGuard: Work = {
  title: "Upper deck, guard and deck stair",
  words: "Our two-year-old puts her head between the balusters, and the guard leans when you rest on it.",
  zones: [upperGuard, deckStair],
  lines: [
    along("GUARD-POST-REINFORCE", allOf(upperGuard, "guard_post", "each")),
    along("RAIL-REPAIR", allOf(upperGuard, "rail", "lf")),
    along("RAIL-CAP-REPLACE", allOf(upperGuard, "rail_cap", "lf")),
    on("Deck stair")("TREAD-REFASTEN", allOf(deckStair, "tread", "each")),
    along("BALUSTER-ADD", missingBalusters, { alternate: SAFE_GUARD }),
    along("RAIL-CLEAN", allOf(upperGuard, "rail", "lf"), { alternate: STAIN_GUARD }),
    along("RAIL-FINISH", allOf(upperGuard, "rail", "lf"), { alternate: STAIN_GUARD }),
  ],
};

/** A deck built around an oak, its far corner cut off. The owner stains; an electrician moves a light. */
const oakDeck = zone(
  "Deck around the oak",
  "deck",
  drawDeck({
    outline: polygon([0, 0], [22, 0], [22, 9], [17, 14], [0, 14]),
    cutouts: [aroundTree([9, 8], 2)],
    height: 5,
    lumber,
    beams: 2,
    border: 1,
    guard: {},
  }),
);
const oak = on("Deck around the oak");
const oakBoards = allOf(oakDeck, "decking", "sqft");
export const treeDeck: Work = {
  title: "Deck around the oak, new boards",
  words: "The boards have to go, the oak has to stay. I will stain the rail myself as I always have.",
  zones: [oakDeck],
  lines: [
    oak("DECK-REPLACE", oakBoards),
    oak("JOIST-TREAT", allOf(oakDeck, "joist", "lf")),
    oak("JOIST-REPLACE", 3),
    oak("RAIL-CAP-REPLACE", allOf(oakDeck, "rail_cap", "lf")),
    oak("RAIL-FINISH", allOf(oakDeck, "rail", "lf"), {
      by: "owner",
      description: "owner stains the rail himself",
    }),
    {
      zone: "Deck around the oak",
      assembly: null,
      work: { component: "guard_post", action: "refasten", unit: "each" },
      quantity: 1,
      by: "others",
      description: "electrician takes the light off the corner post and sets it again",
    },
    oak("DECK-FINISH-2", oakBoards, { alternate: "Stain and seal the deck once it is dry" }),
  ],
  charges: [TRAVEL],
};
