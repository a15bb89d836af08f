import { promise } from "./acts.ts";
import { book, daysOf, freeFrom, start } from "./crew-work.ts";
import { history } from "./history.ts";
import { tale } from "./tale.ts";
import type { World } from "./world.ts";

/** A small company under another state's deposit cap: two crews and a dozen jobs. */
export function tellTwoRidge(world: World): void {
  const { days, crews } = world;
  const [manzanita, laurel] = crews;
  if (!manzanita || !laurel) throw new Error("Two Ridge Porchworks has two crews.");
  const seller = 0;

  const now = tale(world, { ago: 69, work: "porchFloor", seller, city: "Oakland" })
    .look(62)
    .review(50)
    .quote(48)
    .sign(43);
  const startOn = days.back(days.on(days.today), Math.max(1, Math.min(2, daysOf(now.story, manzanita) - 1)));
  promise(now.story, days.ago(43), days.back(startOn, 2), days.on(startOn, 5));
  now.ask(43).paid(38);
  book(now.story, days.ago(34), manzanita, startOn);
  start(now.story, manzanita);

  const next = tale(world, { ago: 57, work: "wholeDeck", seller, city: "Orinda" })
    .look(50)
    .review(38)
    .quote(36)
    .sign(31);
  const free = freeFrom(world, laurel);
  promise(next.story, days.ago(31), free, days.on(free, 6));
  next.ask(31).paid(26);
  book(next.story, days.ago(20), laurel, free);

  history(world, 4, 140);
  tale(world, { ago: 3, work: "mainStair", seller, city: "Berkeley", hazard: "handrail came off" }).visit(
    2,
    "first_look",
    { workday: 1 },
    [9, 0],
    45,
  );
  tale(world, { ago: 16, work: "guards", seller, city: "El Cerrito" })
    .look(10)
    .visit(4, "site_review", { workday: 1 }, [13, 0]);
  tale(world, { ago: 31, work: "ledgerDeck", seller, city: "Richmond" }).look(25).review(4);
  tale(world, { ago: 33, work: "newBoards", seller, city: "Alameda", salt: true })
    .look(27)
    .review(13)
    .quote(10);
  tale(world, { ago: 45, work: "hangers", seller, city: "Lafayette" })
    .look(39)
    .review(25)
    .quote(23)
    .sign(15)
    .ask(15);
  tale(world, { ago: 52, work: "skirting", seller }).closed(
    50,
    "not_our_trade",
    "Wants a concrete retaining wall behind the skirt.",
  );
}
