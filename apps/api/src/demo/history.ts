import type { PaymentMethod } from "@ledgerboard/contracts";
import { addDays, daysBetween } from "@ledgerboard/contracts/dates";
import { promise } from "./acts.ts";
import { pay } from "./contract.ts";
import { book, daysOf, finish, isFree, start } from "./crew-work.ts";
import { type Tale, type TaleOpening, tale } from "./tale.ts";
import { WORKS, type WorkName } from "./works.ts";
import type { DemoCrew, World } from "./world.ts";

/** Small jobs are quoted from the first pass; nobody sends the senior for a stain. */
const NO_REVIEW: ReadonlySet<WorkName> = new Set(["washAndStain", "treadsOnly", "balusters", "skirting"]);

/** Days two crews' runs are kept apart, so that one which runs over does not stand in the way of the next. */
const ROOM = 3;

/** Where a run of a job fits first, over all crews, from a day on. */
function firstGap(world: World, { story }: Tale, from: string): { crew: DemoCrew; startOn: string } {
  const { days, random } = world;
  for (let day = days.on(from); day < days.from(-12); day = days.on(addDays(day, 1))) {
    for (const crew of random.shuffle(world.crews)) {
      const endOn = days.on(day, daysOf(story, crew));
      if (isFree(crew, day, addDays(endOn, 6), ROOM)) return { crew, startOn: day };
    }
  }
  throw new Error(`${story.title}: no crew was free in the past. Tell it earlier.`);
}

/** Hours as people write them down: to a quarter. */
const quarters = (hours: number): string => String(Math.max(1, Math.round(hours * 4) / 4));

/**
 * A job from inquiry to the last payment. Real hours scatter about the estimate (standard deviation about 12 %), and
 * run past it where the salesperson is an optimist, more so where no senior looked.
 */
function finishedJob(world: World, opening: TaleOpening & { work: WorkName }): Tale {
  const { days, random } = world;
  const reviewed = !NO_REVIEW.has(opening.work);
  let ago = opening.ago;
  const after = (low: number, high: number) => {
    ago -= random.whole(low, high);
    return ago;
  };
  const job = tale(world, opening).look(after(3, 8));
  const { story } = job;
  if (reviewed)
    job.review(after(5, 12), { by: random.chance(0.7) ? 0 : Math.min(1, world.estimators.length - 1) });
  job.quote(after(1, 3)).sign(after(2, 10), random.pick(["home", "home", "remote", "office"]));
  const late = random.chance(0.15) ? 20 : 0;
  const window = days.on(days.from(-ago + random.whole(16, 34)));
  promise(
    story,
    days.ago(ago),
    window,
    addDays(window, random.pick([7, 9, 11])),
    random.pick([8000, 8000, 9000, null]),
  );
  job.ask(ago).paid(after(3, 8));
  const { crew, startOn } = firstGap(world, job, addDays(window, random.whole(-2, 6) + late));
  const revision = story.revisions.at(-1);
  book(story, days.ago(after(3, 6)), crew, startOn);
  start(story, crew);
  const drift = 1 + story.seller.habit.optimism * (reviewed ? 0.6 : 1);
  const estimated = Number(revision?.totals.hours ?? 0);
  const done = finish(story, crew, quarters(estimated * drift * Math.exp(0.12 * random.normal())));
  const price = story.paper?.priceCents ?? 0;
  const lastPaid = days.on(addDays(done, random.whole(1, 9)));
  if (daysBetween(lastPaid, days.today) > 0) {
    pay(
      story,
      lastPaid,
      price - (story.paper?.depositCents ?? 0),
      random.pick<PaymentMethod>(["cheque", "bank_transfer", "card"]),
    );
  }
  return job;
}

const KINDS = Object.keys(WORKS) as WorkName[];

/** `count` finished jobs, the newest inquiry `newest` days ago, spread evenly back to two years. Oldest first. */
export function history(world: World, count: number, newest = 118): Tale[] {
  const { random, sales } = world;
  const step = (712 - newest) / Math.max(1, count - 1);
  const kinds = Array.from({ length: count }, (_, i) => KINDS[i % KINDS.length] as WorkName);
  const told: Tale[] = [];
  for (const [i, work] of random.shuffle(kinds).entries()) {
    const ago = Math.round(712 - i * step) + random.whole(-4, 4);
    const old = told[i - 12];
    const customer = old && random.chance(0.2) ? old.story.customer : undefined;
    told.push(
      finishedJob(world, {
        ago,
        work,
        seller: random.whole(0, sales.length - 1),
        ...(customer && { customer }),
      }),
    );
  }
  return told;
}
