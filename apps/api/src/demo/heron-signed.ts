import { CAUTIOUS, EVEN, OPTIMIST } from "./heron-early.ts";
import { openGuard, SAFE_GUARD } from "./heron-shown.ts";
import { calloway, porch, porchReview } from "./heron-works.ts";
import { tale } from "./tale.ts";
import type { World } from "./world.ts";

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
  tale(world, { ago: 34, work: openGuard, seller: OPTIMIST, city: "Pasadena" })
    .look(29)
    .review(20)
    .advised(
      20,
      { zone: "Upper deck guard", rule: "guard_opening", component: "baluster" },
      { ago: 19, alternate: SAFE_GUARD },
    )
    .advised(
      19,
      { zone: "Deck stair", rule: "riser_high", component: "riser" },
      { ago: 18, declinedHow: "signed note on the site review" },
    )
    .quote(18)
    .pinned(7, "A toddler lives there; I gave my word on the guard.");
  tale(world, { ago: 20, work: "hangers", seller: EVEN, city: "Millersville" }).look(14).review(3).quote(1);
}

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
