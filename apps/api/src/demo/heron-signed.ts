import type { Review } from "./findings.ts";
import { CAUTIOUS, EVEN, OPTIMIST } from "./heron-early.ts";
import { tale } from "./tale.ts";
import type { Work } from "./work.ts";
import type { World } from "./world.ts";

const porch: Work = {
  title: "Porch floor",
  words:
    "The porch floor dips by the back stair and the stair creaks. My father built it, please save what can be saved.",
  zones: [
    { name: "Porch floor", kind: "porch", length: 26, width: 9, height: 3 },
    { name: "Back stair", kind: "stair", length: 8, width: 6, height: 7 },
  ],
  lines: [
    { zone: "Porch floor", item: "DECK-REPLACE", quantity: 214 },
    { zone: "Porch floor", item: "JOIST-REPLACE", quantity: 14 },
    { zone: "Porch floor", item: "RIM-REPLACE", quantity: 26 },
    { zone: "Back stair", item: "STRINGER-REPLACE", quantity: 5 },
    { zone: "Back stair", item: "TREAD-REPLACE", quantity: 10 },
    { zone: "Back stair", item: "RISER-REPLACE", quantity: 11 },
    { zone: "Back stair", item: "GUARD-POST-REPLACE", quantity: 4 },
    { zone: "Back stair", item: "RAIL-REPLACE", quantity: 18 },
  ],
};
/** Stringers and stair are sound; the post bases are not. */
const porchReview: Review = {
  lines: [
    { item: "DECK-REPLACE", quantity: 234, code: "miscount", reason: "measured" },
    null,
    {
      item: "RIM-REPAIR",
      quantity: 9,
      code: "misjudged_condition",
      reason: "soft behind the downspout only, the rest is dry",
    },
    {
      item: null,
      quantity: 5,
      by: "owner",
      code: "misjudged_condition",
      reason: "probed at 12 places, dry; paint by owner",
    },
    {
      item: "TREAD-REFASTEN",
      quantity: 10,
      code: "misjudged_condition",
      reason: "treads sound, the nails have backed out",
    },
    {
      item: null,
      quantity: 11,
      by: "owner",
      code: "misjudged_condition",
      reason: "risers dry; paint by owner",
    },
    null,
    { item: "RAIL-REPAIR", quantity: 18, code: "misjudged_condition", reason: "rails sound, brackets loose" },
  ],
  missed: [
    {
      zone: "Porch floor",
      item: "POST-BASE-REPLACE",
      quantity: 6,
      code: "missed",
      reason: "rusted through at grade; stand-off bases",
    },
    {
      zone: "Porch floor",
      item: "BAND-REPAIR",
      quantity: 8,
      concealed: true,
      code: "concealed",
      reason: "house band reads wet, opens up at tear-off; cap agreed",
    },
  ],
};

/** A quote is out. */
export function quoted(world: World): void {
  // Signed on the first pass; the review then changed so much that the signature is void and the customer is asked again.
  tale(world, {
    ago: 41,
    work: porch,
    seller: OPTIMIST,
    name: "Maribel Quist",
    city: "Catonsville",
    salt: false,
  })
    .look(36)
    .quote(34)
    .sign(29)
    .promised(29, 18, 26)
    .ask(29)
    .paid(22)
    .review(5, { found: porchReview })
    .quote(2);
  tale(world, { ago: 47, work: "guards", seller: EVEN, city: "Towson" }).look(41).review(31).quote(27);
  tale(world, { ago: 22, work: "ledgerDeck", seller: CAUTIOUS, city: "Annapolis" })
    .look(16)
    .review(6)
    .quote(3);
  tale(world, { ago: 17, work: "washAndStain", seller: EVEN }).look(12).quote(9);
  tale(world, { ago: 55, work: "porchFloor", seller: OPTIMIST, city: "Baltimore" })
    .look(49)
    .promised(48, -10, -4)
    .review(19)
    .quote(15);
  tale(world, { ago: 13, work: "treadsOnly", seller: CAUTIOUS, city: "Arnold" }).look(9).quote(6);
  tale(world, { ago: 38, work: "wholeDeck", seller: EVEN, city: "Severna Park" })
    .look(31)
    .review(15)
    .quote(12);
  tale(world, { ago: 34, work: "guards", seller: OPTIMIST, city: "Pasadena" })
    .look(29)
    .review(20)
    .quote(18)
    .pinned(7, "A toddler lives there; I gave my word on the guard.");
  tale(world, { ago: 20, work: "hangers", seller: EVEN, city: "Millersville" }).look(14).review(3).quote(1);
}

const calloway: Work = {
  title: "Main stair and landing",
  words: "A tread on the main stair came loose under the mail carrier. It is roped off.",
  zones: [
    { name: "Main stair", kind: "stair", length: 11, width: 4, height: 8 },
    { name: "Landing", kind: "landing", length: 5, width: 4, height: 3 },
  ],
  lines: [
    { zone: "Main stair", item: "STRINGER-REPLACE", quantity: 3 },
    { zone: "Main stair", item: "TREAD-REPLACE", quantity: 12 },
    { zone: "Main stair", item: "RAIL-REPLACE", quantity: 22 },
    { zone: "Main stair", item: "GUARD-POST-REPLACE", quantity: 4 },
    { zone: "Landing", item: "DECK-REPLACE", quantity: 20 },
  ],
};

/** Signed, and not on the calendar yet. */
export function accepted(world: World): void {
  tale(world, {
    ago: 80,
    work: calloway,
    seller: EVEN,
    name: "Ines Calloway",
    city: "Severna Park",
    salt: true,
    hazard: "tread loose",
  })
    .look(72)
    .review(58)
    .quote(55)
    .sign(49)
    .promised(49, -33, -26)
    .ask(49)
    .paid(43)
    .pinned(4, "Loose tread on the only way in; next free crew goes here.");
  tale(world, { ago: 62, work: "newBoards", seller: CAUTIOUS, city: "Columbia" })
    .look(56)
    .review(40)
    .quote(37)
    .promised(37, -11, -1)
    .sign(21)
    .ask(21, 14);
  tale(world, { ago: 39, work: "ledgerDeck", seller: EVEN, city: "Glen Burnie" })
    .look(33)
    .review(17)
    .quote(15)
    .sign(9)
    .ask(8, 14);
  tale(world, { ago: 32, work: "boathouse", seller: CAUTIOUS, city: "Edgewater", salt: true })
    .look(26)
    .review(12)
    .quote(10)
    .sign(4, "office");
  tale(world, { ago: 35, work: "hangers", seller: OPTIMIST, city: "Catonsville" })
    .look(29)
    .review(14)
    .quote(11)
    .sign(1)
    .ask(1, 7)
    .paid(1);
  tale(world, { ago: 71, work: "framing", seller: OPTIMIST, city: "Annapolis" })
    .look(64)
    .review(48)
    .quote(46)
    .sign(38)
    .promised(38, -13, -3)
    .ask(38)
    .paid(32)
    .hold(30, "permit", "The county wants a sealed drawing for the new beam.");
}

/** Jobs that came to nothing, each with its reason. */
export function closedJobs(world: World): void {
  tale(world, { ago: 92, work: "guards", seller: EVEN })
    .look(86)
    .review(75)
    .quote(72)
    .sign(64)
    .ask(64)
    .paid(64)
    .refund(62)
    .closed(62, "customer_declined", "Cancelled within the right to cancel; the deposit was paid back.");
  tale(world, { ago: 43, work: "porchFloor", seller: CAUTIOUS, city: "Columbia" }).closed(
    42,
    "out_of_area",
    "The porch is at a holiday house three hours away.",
  );
  tale(world, { ago: 98, work: "newBoards", seller: OPTIMIST })
    .look(91)
    .quote(86)
    .closed(40, "no_answer", "Four calls and two letters without an answer.");
  const first = tale(world, {
    ago: 16,
    work: "hangers",
    seller: OPTIMIST,
    source: "web_form",
    city: "Pasadena",
    name: "Thandeka Lindenau-Ros",
  });
  const { contact, place } = { contact: first.story.customer, place: first.story.customer.property };
  const { name, phone, email } = contact;
  tale(world, {
    ago: 12,
    work: "hangers",
    seller: EVEN,
    source: "phone",
    customer: { contact: { name, phone, email }, place },
  }).closed(11, "duplicate", "Asked by web form and by phone; the first inquiry goes on.");
  first.look(6, { draft: true });
  tale(world, { ago: 88, work: "framing", seller: EVEN, city: "Baltimore" })
    .look(82)
    .closed(77, "unsafe_to_repair", "The frame is past repair. Told to keep off and have it taken down.");
}
