import type { CloseReason, LeadSource, PlacedHold, SigningPlace, VisitKind } from "@ledgerboard/contracts";
import { addDays } from "@ledgerboard/contracts/dates";
import { close, pin, placeHold, promise, see, visit } from "./acts.ts";
import { type About, advise, type Decision, decide } from "./advise.ts";
import { askDeposit, decline, pay, payDeposit, quote, sign } from "./contract.ts";
import { type Review, review } from "./findings.ts";
import { placeIn } from "./places.ts";
import { firstPass } from "./scope.ts";
import { siteReview } from "./site-review.ts";
import { type Opening, openStory, type Story } from "./story.ts";
import type { Work } from "./work.ts";
import { WORKS, type WorkName } from "./works.ts";
import type { World } from "./world.ts";

export interface TaleOpening {
  /** Calendar days since the inquiry; moved back to a workday. */
  ago: number;
  work: WorkName | Work;
  /** Which of the company's salespeople. */
  seller: number;
  title?: string;
  words?: string;
  source?: LeadSource;
  hazard?: string;
  city?: string;
  name?: string;
  customer?: Opening["customer"];
  salt?: boolean;
}

/** A job told in short: every step says how many days ago it happened. */
export interface Tale {
  story: Story;
  work: Work;
  look(ago: number, options?: { draft?: boolean }): Tale;
  review(ago: number, options?: { found?: Review; looked?: number; by?: number }): Tale;
  quote(ago: number, validDays?: number): Tale;
  sign(ago: number, where?: SigningPlace): Tale;
  decline(ago: number, why: string): Tale;
  /** Asks for the deposit; `dueIn` counts days from that day. */
  ask(ago: number, dueIn?: number): Tale;
  paid(ago: number): Tale;
  /** Pays everything paid so far back. */
  refund(ago: number): Tale;
  /** The window told to the customer, in days from today. */
  promised(ago: number, from: number, to: number): Tale;
  pinned(ago: number, why: string): Tale;
  hold(ago: number, hold: PlacedHold, why: string): Tale;
  /** A visit still to be made: on the workday that is so many days from today, counted in workdays when not negative. */
  visit(
    ago: number,
    kind: VisitKind,
    on: { workday: number } | { ago: number },
    at: [hour: number, minute: number],
    lasts?: number,
  ): Tale;
  closed(ago: number, reason: CloseReason, note: string): Tale;
  /** The senior records what falls short of today's code, and the customer decides, or has not yet. */
  advised(ago: number, about: About, to?: Decision): Tale;
}

function customerOf(world: World, { customer, name, city, salt, work }: TaleOpening): Opening["customer"] {
  if (customer) return customer;
  // A boathouse stands by the water.
  const fitting = world.towns.filter(
    (t) => (city === undefined || t.city === city) && (work !== "boathouse" || t.salt),
  );
  const towns = fitting.length > 0 ? fitting : world.towns;
  const place = placeIn(world.random, world.random.pick(towns));
  return { contact: world.meet(name), place: salt === undefined ? place : { ...place, saltExposure: salt } };
}

export function tale(world: World, opening: TaleOpening): Tale {
  const { days, random, sales, estimators } = world;
  const work = typeof opening.work === "string" ? WORKS[opening.work](random, world.lumber) : opening.work;
  const seller = sales[opening.seller];
  if (!seller) throw new Error(`There is no salesperson ${opening.seller}.`);
  const { source, hazard } = opening;
  const story = openStory(world, {
    day: days.ago(opening.ago),
    title: opening.title ?? work.title,
    words: opening.words ?? work.words,
    zones: work.zones,
    seller,
    customer: customerOf(world, opening),
    ...(source && { source }),
    ...(hazard && { hazard }),
  });
  let paidCents = 0;
  const then = (step: () => void): Tale => {
    step();
    return self;
  };
  const self: Tale = {
    story,
    work,
    look: (ago, options) => then(() => firstPass(story, days.ago(ago), work, options)),
    review: (ago, { found, looked, by = 0 } = {}) =>
      then(() => {
        const estimator = estimators[by];
        if (!estimator) throw new Error(`There is no estimator ${by}.`);
        const book = story.revisions.at(-1)?.book;
        if (!book) throw new Error(`${story.title}: there is nothing to review.`);
        const seen = found ?? review(random, work, seller.habit, book);
        const day = days.ago(ago);
        siteReview(story, day, seen, { by: estimator, ...(looked !== undefined && { looked }) });
        noteFindings(story, day, work, seen, looked);
      }),
    quote: (ago, validDays) => then(() => quote(story, days.ago(ago), validDays)),
    sign: (ago, where = "home") => then(() => sign(story, days.ago(ago), where)),
    decline: (ago, why) => then(() => decline(story, days.ago(ago), why)),
    ask: (ago, dueIn = 7) => then(() => askDeposit(story, days.ago(ago), addDays(days.ago(ago), dueIn))),
    paid: (ago) =>
      then(() => {
        paidCents += payDeposit(story, days.ago(ago));
      }),
    refund: (ago) => then(() => pay(story, days.ago(ago), -paidCents, "bank_transfer")),
    promised: (ago, from, to) =>
      then(() => {
        const last = days.from(to);
        const [first = last] = [days.on(days.from(from)), last].sort();
        promise(story, days.ago(ago), first, last);
      }),
    pinned: (ago, why) => then(() => pin(story, days.ago(ago), why)),
    hold: (ago, hold, why) => then(() => placeHold(story, days.ago(ago), world.scheduler, hold, why)),
    visit: (ago, kind, on, [hour, minute], lasts = 60) =>
      then(() => {
        const by = kind === "site_review" ? (estimators[0] ?? seller) : seller;
        const day = "ago" in on ? days.ago(on.ago) : days.on(days.today, on.workday);
        if (kind === "site_review") story.row.estimator_id = by.id;
        visit(story, days.ago(ago), { kind, by, on: day, minutes: hour * 60 + minute, lasts });
      }),
    closed: (ago, reason, note) => then(() => close(story, days.ago(ago), reason, note)),
    advised: (ago, about, to) =>
      then(() => {
        const advised = advise(story, days.ago(ago), estimators[0] ?? seller, about);
        if (to) decide(story, days.ago(to.ago), advised, to);
      }),
  };
  return self;
}

/** Moisture of sound and of rotting wood in percent; the line lies near 20 (common practice, no source). */
const DRY = { from: 10, to: 15 };
const WET = { from: 21, to: 34 };

/** The two most telling things of a review, noted beside the lines. */
function noteFindings(
  story: Story,
  day: string,
  work: Work,
  { lines, missed }: Review,
  looked?: number,
): void {
  const by = story.world.estimators.find((e) => e.id === story.row.estimator_id);
  if (!by) return;
  const { random } = story.world;
  const book = story.revisions.at(-1)?.book;
  const seen = [
    ...missed.map(({ zone, assembly, reason }) => ({ zone, assembly, reason })),
    ...lines.flatMap((finding, i) => {
      const line = work.lines[i];
      const shown = line && finding?.code === "misjudged_condition" && (looked === undefined || i < looked);
      return shown ? [{ zone: line.zone, assembly: line.assembly, reason: finding.reason }] : [];
    }),
  ];
  for (const { zone, assembly, reason } of seen.slice(0, 2)) {
    const component = assembly === null ? undefined : book?.assemblies.ordinary.get(assembly)?.component;
    if (!component) continue;
    const range = /dry/.test(reason) ? DRY : /rot|soft|wet/.test(reason) ? WET : null;
    const reading =
      range && random.chance(0.5) ? ` Moisture meter reads ${random.whole(range.from, range.to)} %.` : "";
    const text = `${reason.charAt(0).toUpperCase()}${reason.slice(1)}.${reading}`;
    see(story, day, by, { zone, component, text });
  }
}
