import { promise } from "./acts.ts";
import { book, daysOf, freeFrom, start } from "./crew-work.ts";
import type { Review } from "./findings.ts";
import { CAUTIOUS, EVEN, OPTIMIST } from "./heron-early.ts";
import { type Tale, type TaleOpening, tale } from "./tale.ts";
import type { DemoCrew, World } from "./world.ts";

const crewOf = (world: World, name: string): DemoCrew => {
  const crew = world.crews.find((c) => c.name === name);
  if (!crew) throw new Error(`There is no crew ${name}.`);
  return crew;
};

/** A job signed and paid, told up to the booking. */
function signed(world: World, opening: TaleOpening, review = true): Tale {
  const { ago } = opening;
  const job = tale(world, opening).look(ago - 6);
  if (review) job.review(ago - 19);
  return job.quote(ago - 21).sign(ago - 26);
}

/** Crews that are at work today. */
export function underWay(world: World): void {
  const { days } = world;
  const at = (crewName: string, opening: TaleOpening, since: number) => {
    const crew = crewOf(world, crewName);
    const job = signed(world, opening);
    const startOn = days.back(days.on(days.today), Math.max(1, Math.min(since, daysOf(job.story, crew) - 1)));
    promise(job.story, days.ago(opening.ago - 26), days.back(startOn, 3), days.on(startOn, 5));
    job.ask(opening.ago - 26).paid(opening.ago - 31);
    book(job.story, days.ago(opening.ago - 35), crew, startOn);
    start(job.story, crew);
  };
  at("Alder", { ago: 74, work: "wholeDeck", seller: OPTIMIST, city: "Pasadena" }, 3);
  at("Birch", { ago: 70, work: "newBoards", seller: EVEN, city: "Towson" }, 2);
  at("Dogwood", { ago: 78, work: "framing", seller: CAUTIOUS, city: "Millersville" }, 4);
  at("Hickory", { ago: 82, work: "wholeDeck", seller: EVEN, city: "Baltimore" }, 3);
  at("Locust", { ago: 76, work: "boathouse", seller: OPTIMIST, city: "Annapolis", salt: true }, 2);
}

interface BookedJob {
  crew: string;
  opening: TaleOpening;
  /** Idle workdays the crew has before it. */
  gap?: number;
  /** What happens once it is booked. */
  later?: (job: Tale) => void;
  /** Signed on the first pass; the senior came later. */
  reviewedLate?: true;
  /** The window told to the customer, in days from today, where it is not about the booked start. */
  promised?: [from: number, to: number];
}

/** Nine crews, booked three to four weeks ahead. */
export function bookedJobs(world: World): void {
  const { days } = world;
  const jobs: BookedJob[] = [
    { crew: "Alder", opening: { ago: 61, work: "wholeDeck", seller: CAUTIOUS, city: "Annapolis" } },
    {
      crew: "Birch",
      opening: { ago: 64, work: "porchFloor", seller: OPTIMIST, city: "Catonsville" },
      reviewedLate: true,
      later: (job) => job.review(3, { found: porchReviewOf(job) }).quote(1),
    },
    { crew: "Cedar", opening: { ago: 66, work: "wholeDeck", seller: EVEN, city: "Arnold" } },
    {
      crew: "Dogwood",
      opening: { ago: 58, work: "ledgerDeck", seller: OPTIMIST, city: "Severna Park" },
      gap: 1,
    },
    {
      crew: "Elm",
      opening: { ago: 67, work: "newBoards", seller: EVEN, city: "Ellicott City" },
      promised: [-9, -2],
    },
    { crew: "Hickory", opening: { ago: 56, work: "framing", seller: CAUTIOUS, city: "Baltimore" } },
    { crew: "Juniper", opening: { ago: 63, work: "guards", seller: OPTIMIST, city: "Crofton" } },
    {
      crew: "Locust",
      opening: { ago: 59, work: "boathouse", seller: EVEN, city: "Edgewater", salt: true },
      later: (job) =>
        job.hold(
          8,
          "materials_on_order",
          "Stainless hangers for salt water come from the coast; due in two weeks.",
        ),
    },
    { crew: "Maple", opening: { ago: 65, work: "porchFloor", seller: CAUTIOUS, city: "Baltimore" } },
    {
      crew: "Alder",
      opening: {
        ago: 50,
        work: "mainStair",
        seller: EVEN,
        city: "Severna Park",
        hazard: "bottom step hangs on one nail",
      },
    },
    { crew: "Birch", opening: { ago: 52, work: "newBoards", seller: CAUTIOUS, city: "Towson" }, gap: 1 },
    { crew: "Elm", opening: { ago: 53, work: "skirting", seller: OPTIMIST, city: "Columbia" } },
    { crew: "Juniper", opening: { ago: 51, work: "wholeDeck", seller: EVEN, city: "Glen Burnie" }, gap: 1 },
    {
      crew: "Maple",
      opening: { ago: 54, work: "mainStair", seller: OPTIMIST, city: "Odenton" },
      later: (job) =>
        job.hold(
          6,
          "customer_not_ready",
          "Customer travels; asks for no start before the stair can be blocked for two days.",
        ),
    },
  ];
  for (const { crew: name, opening, gap = 0, later, reviewedLate, promised } of jobs) {
    const crew = crewOf(world, name);
    const job = signed(world, opening, !reviewedLate);
    const startOn = days.on(freeFrom(world, crew), 1 + gap);
    const [from, to] = promised
      ? promised.map((n) => days.from(n))
      : [days.back(startOn, 2), days.on(startOn, 5)];
    promise(job.story, days.ago(opening.ago - 26), from ?? startOn, to ?? startOn);
    job.ask(opening.ago - 26).paid(opening.ago - 31);
    book(job.story, days.ago(opening.ago - 36), crew, startOn);
    later?.(job);
  }
}

/** What the senior finds after a crew is booked: the joists are worse, the stair is better. */
function porchReviewOf({ work }: Tale): Review {
  const joists = work.lines.findIndex((line) => line.assembly === "JOIST-REPLACE");
  const stringers = work.lines.findIndex((line) => line.assembly === "STRINGER-REPLACE");
  const lines: Review["lines"] = work.lines.map(() => null);
  const count = work.lines[joists]?.quantity ?? 0;
  lines[joists] = {
    assembly: "JOIST-REPLACE",
    quantity: count + 5,
    code: "miscount",
    reason: "counted from below, five more have lost their ends",
  };
  lines[stringers] = {
    assembly: "STRINGER-REPAIR",
    quantity: work.lines[stringers]?.quantity ?? 0,
    code: "misjudged_condition",
    reason: "rot stops 8 in above the slab, new feet will do",
  };
  const base = {
    zone: "Porch floor",
    assembly: "POST-BASE-REPLACE",
    quantity: 4,
    reason: "road salt has eaten the bases",
  };
  return { lines, missed: [{ ...base, code: "missed" }] };
}
