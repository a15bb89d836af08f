import { DERIVED_HOLDS, STAGES } from "@ledgerboard/contracts/vocabulary";
import { describe, expect, test } from "vitest";
import { inquiry, TODAY } from "./job-facts.fixture.ts";
import { ACTS, type Act, type JobFacts, type JobState } from "./job-facts.ts";
import { deriveJob } from "./job-state.ts";

/** Every value that can change an answer, a day on each side of every date that matters. */
const choices: { [K in keyof JobFacts]: JobFacts[K][] } = {
  closed: [false, true],
  hazardReported: [false],
  visitOpen: [null, { kind: "site_review", on: "2026-11-30" }],
  firstPass: ["none", "draft", "issued"],
  siteReview: ["none", "draft", "issued"],
  changeOrder: ["none", "draft", "issued"],
  quote: ["none", "open", "superseded", "declined"],
  quoteExpiresOn: ["2026-11-24", TODAY],
  quoteOnNewestRevision: [false, true],
  acceptance: ["none", "standing", "void"],
  cancelUntil: ["2026-11-24", TODAY],
  deposit: [null, { dueCents: 100, paidCents: 99 }, { dueCents: 100, paidCents: 100 }],
  materialVarianceOpen: [false, true],
  placedHolds: [[], ["permit"]],
  booking: [
    null,
    { startOn: "2026-12-01", endOn: "2026-12-02", started: false, finished: false },
    { startOn: "2026-11-24", endOn: "2026-11-26", started: true, finished: false },
    { startOn: "2026-11-18", endOn: "2026-11-20", started: true, finished: true },
  ],
  promisedTo: [null],
};

const keys = Object.keys(choices) as (keyof JobFacts)[];
const total = keys.reduce((n, key) => n * choices[key].length, 1);

/** The facts numbered `index`, reading the index as a mixed-base number with one digit for each fact. */
function factsAt(index: number): JobFacts {
  const facts: Record<string, unknown> = { ...inquiry };
  let rest = index;
  for (const key of keys) {
    const values = choices[key];
    facts[key] = values[rest % values.length];
    rest = Math.floor(rest / values.length);
  }
  return facts as unknown as JobFacts;
}

/** What a job may still do once the work is done: money only. */
const MONEY: Act[] = ["record_payment"];
const derived = new Set<string>(DERIVED_HOLDS);
const stages = new Set<string>(STAGES);

const laws: Record<string, (facts: JobFacts, state: JobState) => boolean> = {
  "the stage is one of the nine": (_, s) => stages.has(s.stage),
  "work never starts with a hold": (_, s) => !s.acts.start_work.allowed || s.holds.length === 0,
  "work never starts unsigned or without a booking": (f, s) =>
    !s.acts.start_work.allowed || (f.acceptance === "standing" && f.booking !== null && !f.booking.started),
  "no crew is booked unsigned": (f, s) => !s.acts.book_crew.allowed || f.acceptance === "standing",
  "no crew is booked with a derived hold": (_, s) =>
    !s.acts.book_crew.allowed || !s.holds.some((h) => derived.has(h.hold)),
  "no crew is booked twice": (f, s) => !s.acts.book_crew.allowed || f.booking === null,
  "placed holds alone do not stop booking": (f, s) =>
    s.stage !== "accepted" ||
    s.holds.some((h) => derived.has(h.hold)) ||
    f.booking !== null ||
    s.acts.book_crew.allowed,
  "a closed job can only be reopened": (_, s) =>
    s.stage !== "closed" || ACTS.every((act) => s.acts[act].allowed === (act === "reopen_job")),
  "a finished job takes money and nothing else": (_, s) =>
    s.stage !== "finished" || ACTS.every((act) => s.acts[act].allowed === MONEY.includes(act)),
  "a job can be closed at any stage before finished": (_, s) =>
    s.acts.close_job.allowed === (s.stage !== "finished" && s.stage !== "closed"),
  "nobody signs twice": (f, s) => !s.acts.record_acceptance.allowed || f.acceptance !== "standing",
  "only a quote on the newest revision, in time, is signed": (f, s) =>
    !s.acts.record_acceptance.allowed ||
    (f.quote === "open" && f.quoteOnNewestRevision && (f.quoteExpiresOn ?? TODAY) >= TODAY),
  "no quote goes out over an open draft or without a price": (f, s) =>
    !s.acts.issue_quote.allowed ||
    (f.firstPass !== "draft" &&
      f.siteReview !== "draft" &&
      f.changeOrder !== "draft" &&
      [f.firstPass, f.siteReview, f.changeOrder].includes("issued")),
  "no site review without a first pass, none after the start": (f, s) =>
    !s.acts.start_site_review.allowed || (f.firstPass === "issued" && !f.booking?.started),
  "one draft at a time": (f, s) =>
    !(s.acts.start_first_pass.allowed || s.acts.start_site_review.allowed) ||
    ![f.firstPass, f.siteReview, f.changeOrder].includes("draft"),
  "the deposit is asked for once, after signing": (f, s) =>
    !s.acts.request_deposit.allowed || (f.acceptance === "standing" && f.deposit === null),
  "holds are listed only while work is still to do": (_, s) =>
    (s.stage !== "closed" && s.stage !== "finished") || s.holds.length === 0,
  "every refusal gives a reason": (_, s) =>
    ACTS.every((act) => {
      const verdict = s.acts[act];
      return verdict.allowed || verdict.why.endsWith(".");
    }),
  "every hold gives a reason": (_, s) => s.holds.every((h) => h.why.length > 0),
  "no hold is listed twice": (_, s) => new Set(s.holds.map((h) => h.hold)).size === s.holds.length,
  "the next act is one that is allowed": (_, s) => s.next.act === null || s.acts[s.next.act].allowed,
  "the next act is said in words": (_, s) => s.next.words.length > 0,
  "somebody owes every next act": (_, s) => (s.next.act === null) === (s.next.owedBy === null),
};

describe(`every one of ${total} combinations of facts`, () => {
  test("keeps every law", { timeout: 120_000 }, () => {
    const broken = new Map<string, JobFacts>();
    const seen = new Set<string>();
    const allowed = new Set<string>();
    for (let i = 0; i < total; i += 1) {
      const facts = factsAt(i);
      const state = deriveJob(facts, TODAY);
      seen.add(state.stage);
      for (const act of ACTS) if (state.acts[act].allowed) allowed.add(act);
      for (const law in laws) {
        if (!laws[law]?.(facts, state) && !broken.has(law)) broken.set(law, facts);
      }
    }
    expect(Object.fromEntries(broken)).toEqual({});
    expect(seen.size).toBe(STAGES.length); // the sweep reaches every stage
    expect(allowed.size).toBe(ACTS.length); // and finds every act allowed somewhere
  });

  test("answers do not depend on what was asked before, and leave the facts alone", () => {
    const sample: number[] = [];
    for (let i = 0; i < total; i += 997) sample.push(i);
    const answer = (i: number) => JSON.stringify(deriveJob(Object.freeze(factsAt(i)), TODAY));
    const forwards = sample.map(answer);
    const backwards = sample.toReversed().map(answer).toReversed();
    expect(backwards).toEqual(forwards);
  });

  test("a hazard, a promise and the kind of visit change words, never what is allowed", () => {
    for (let i = 0; i < total; i += 499) {
      const facts = factsAt(i);
      const plain = deriveJob(
        { ...facts, visitOpen: facts.visitOpen && { kind: "site_review", on: "2026-11-30" } },
        TODAY,
      );
      const other = deriveJob(
        {
          ...facts,
          hazardReported: true,
          promisedTo: "2026-11-20",
          visitOpen: facts.visitOpen && { kind: "follow_up", on: "2026-11-20" },
        },
        TODAY,
      );
      expect(other.stage).toBe(plain.stage);
      expect(other.holds).toEqual(plain.holds);
      expect(ACTS.map((act) => other.acts[act].allowed)).toEqual(ACTS.map((act) => plain.acts[act].allowed));
    }
  });
});
