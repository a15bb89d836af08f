import type { Charge } from "@ledgerboard/estimating";
import type { Review } from "./findings.ts";
import { aroundTree, drawDeck, drawRailing, drawStair, lShape, polygon } from "./shapes.ts";
import { allOf, lineOn as on, type Work, zone } from "./work.ts";
import { PERMIT, STRUCTURAL } from "./works-decks.ts";

/** Jobs of Heron Point Carpentry that show allowances, extras, charges and who does what. */
const lumber = "southern_pine" as const;

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
