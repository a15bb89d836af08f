import { bayLedger, bayLedgerReview, treeDeck } from "./heron-shown.ts";
import { tooManyBoards, tooManyJoists, tooManyTreads } from "./heron-works.ts";
import { PHONE_FORMS } from "./people.ts";
import { placeIn } from "./places.ts";
import { type Tale, tale } from "./tale.ts";
import type { World } from "./world.ts";

/** Salespeople by their place in the cast. */
export const [OPTIMIST, EVEN, CAUTIOUS] = [0, 1, 2] as const;

/** Nobody has looked yet. */
export function inquiries(world: World, past: readonly Tale[]): void {
  const { random, towns } = world;
  const pull = {
    work: "ledgerDeck",
    seller: EVEN,
    city: "Severna Park",
    hazard: "deck pulling off the house",
  } as const;
  tale(world, {
    ago: 1,
    ...pull,
    words: "There is a gap between deck and house I can put my hand in. We have stopped using it.",
  });
  tale(world, { ago: 1, work: "newBoards", seller: OPTIMIST, source: "web_form" });
  tale(world, { ago: 4, work: "guards", seller: CAUTIOUS, city: "Towson" }).visit(
    3,
    "first_look",
    { workday: 2 },
    [10, 0],
    45,
  );
  tale(world, {
    ago: 6,
    work: "guards",
    seller: EVEN,
    city: "Arnold",
    hazard: "guard leans out, 10 ft drop",
  }).visit(5, "first_look", { workday: 1 }, [8, 30], 45);
  tale(world, { ago: 9, work: "porchFloor", seller: OPTIMIST }).visit(
    8,
    "first_look",
    { ago: 3 },
    [15, 0],
    45,
  );
  tale(world, { ago: 14, work: "skirting", seller: CAUTIOUS });
  const old = past.find(({ story }) => story.customer.phone && story.customer.email) ?? past[0];
  const older =
    past.find((one) => one !== old && one.story.customer.phone && one.story.customer.email) ?? past[1];
  if (!old || !older) throw new Error("The demo needs customers of earlier years.");
  const again = {
    work: "washAndStain",
    words: "You rebuilt the deck for us, now it is dry enough to be stained.",
  } as const;
  tale(world, {
    ago: 3,
    ...again,
    seller: EVEN,
    customer: past.at(-1)?.story.customer ?? old.story.customer,
  });

  // The same two people as years ago, entered anew: by phone with the number written another way, by web form with a new number.
  const said = old.story.customer;
  const [area = "", last = ""] = (said.phone?.match(/\d{3}(?=\D*555)|\d\d$/g) ?? []).map(String);
  const sameNumber = PHONE_FORMS.map((form) => form(area, last)).find((form) => form !== said.phone) ?? null;
  const initial = `${said.name.charAt(0)}. ${said.name.split(" ").slice(1).join(" ")}`;
  tale(world, {
    ago: 5,
    work: "treadsOnly",
    seller: OPTIMIST,
    source: "phone",
    customer: { contact: { name: initial, phone: sameNumber, email: null }, place: said.property },
  });
  const wrote = older.story.customer;
  const email = (wrote.email ?? "").replace(/^[a-z]+/, (first) => first.toUpperCase());
  tale(world, {
    ago: 2,
    work: "balusters",
    seller: CAUTIOUS,
    source: "web_form",
    customer: {
      contact: { name: wrote.name, phone: null, email },
      place: placeIn(random, random.pick(towns)),
    },
  });
}

/** Priced from a short look; three of them look wrong. */
export function firstPasses(world: World): void {
  tale(world, {
    ago: 58,
    work: tooManyJoists,
    seller: CAUTIOUS,
    name: "Otto Brandvold",
    city: "Annapolis",
    salt: true,
  }).look(47);
  tale(world, { ago: 37, work: tooManyBoards, seller: OPTIMIST, city: "Crofton", salt: false }).look(30);
  tale(world, { ago: 28, work: tooManyTreads, seller: OPTIMIST, city: "Glen Burnie", salt: false }).look(23);
  // Begun on the older price book and never finished: prices have changed since.
  tale(world, { ago: 44, work: "newBoards", seller: CAUTIOUS, city: "Odenton" }).look(37, { draft: true });
  tale(world, { ago: 21, work: "ledgerDeck", seller: OPTIMIST, city: "Pasadena" })
    .look(15)
    .visit(6, "site_review", { workday: 1 }, [9, 0], 75);
  tale(world, {
    ago: 26,
    work: "mainStair",
    seller: EVEN,
    city: "Severna Park",
    hazard: "post wobbles at the stair head",
  })
    .look(20)
    .visit(7, "site_review", { workday: 1 }, [11, 0]);
  tale(world, { ago: 24, work: "framing", seller: OPTIMIST, city: "Arnold", hazard: "post off its footing" })
    .look(19)
    .visit(5, "site_review", { workday: 1 }, [13, 30], 90);
  tale(world, { ago: 30, work: "porchFloor", seller: CAUTIOUS, city: "Baltimore" })
    .look(24)
    .visit(8, "site_review", { workday: 2 }, [9, 30], 90);
  // Told a start before anybody senior had looked: the promise has passed.
  tale(world, { ago: 46, work: "hangers", seller: OPTIMIST, city: "Catonsville" })
    .look(40)
    .promised(40, -12, -5)
    .visit(6, "site_review", { workday: 3 }, [10, 0]);
}

/** The senior has been there; a quote has still to go out, or ran out, or was turned down. */
export function reviewed(world: World): void {
  tale(world, { ago: 29, work: "wholeDeck", seller: CAUTIOUS, city: "Ellicott City" })
    .look(22)
    .review(1, { looked: 4 });
  tale(world, { ago: 33, work: bayLedger, seller: OPTIMIST, city: "Edgewater", salt: true })
    .look(27)
    .review(4, { found: bayLedgerReview })
    .advised(4, { zone: "Bay side deck", rule: "guard_low", component: "rail" });
  tale(world, { ago: 27, work: "mainStair", seller: EVEN, city: "Columbia" }).look(21).review(2, { by: 1 });
  tale(world, { ago: 52, work: "porchFloor", seller: OPTIMIST, city: "Baltimore" })
    .look(45)
    .promised(44, -14, -7)
    .review(9);
  tale(world, { ago: 76, work: treeDeck, seller: EVEN, city: "Millersville" }).look(67).review(56).quote(46);
  tale(world, { ago: 66, work: "boathouse", seller: CAUTIOUS, city: "Annapolis", salt: true })
    .look(60)
    .review(49)
    .quote(38);
  tale(world, { ago: 48, work: "framing", seller: CAUTIOUS, city: "Odenton" })
    .look(42)
    .review(30)
    .quote(24)
    .decline(6, "More than they had set aside; they ask whether the footings can wait a year.");
}
