import type { Hold, Stage } from "@ledgerboard/contracts/vocabulary";
import { describe, expect, test } from "vitest";
import { booked, finished, inquiry, quoted, ready, reviewed, TODAY, underWay } from "./job-facts.fixture.ts";
import { ACTS, type Act, type JobFacts, type NextAct } from "./job-facts.ts";
import { deriveJob } from "./job-state.ts";

interface Row {
  name: string;
  facts: JobFacts;
  stage: Stage;
  holds: Hold[];
  /** Every allowed act; all others must be refused. */
  allowed: Act[];
  next: [NextAct["owedBy"], NextAct["act"], string];
}

const ANY: Act[] = ["place_hold", "close_job"];
const short = { dueCents: 397_300, paidCents: 277_300 };
const firstPass: JobFacts = { ...inquiry, firstPass: "issued" };
const voided: JobFacts = {
  ...booked,
  quote: "superseded",
  quoteOnNewestRevision: false,
  acceptance: "void",
  materialVarianceOpen: true,
};

const rows: Row[] = [
  {
    name: "new inquiry",
    facts: inquiry,
    stage: "inquiry",
    holds: ["unsigned"],
    allowed: ["schedule_visit", "start_first_pass", ...ANY],
    next: ["sales", "start_first_pass", "Sales: look and write the first pass"],
  },
  {
    name: "inquiry with a hazard",
    facts: { ...inquiry, hazardReported: true },
    stage: "inquiry",
    holds: ["unsigned"],
    allowed: ["schedule_visit", "start_first_pass", ...ANY],
    next: ["sales", "start_first_pass", "Sales: hazard reported, look and write the first pass"],
  },
  {
    name: "first look set",
    facts: { ...inquiry, visitOpen: { kind: "first_look", on: "2026-11-27" } },
    stage: "inquiry",
    holds: ["unsigned"],
    allowed: ["start_first_pass", ...ANY],
    next: ["sales", "start_first_pass", "Sales: first look visit on 27 Nov 2026"],
  },
  {
    name: "first look missed",
    facts: { ...inquiry, visitOpen: { kind: "first_look", on: "2026-11-24" } },
    stage: "inquiry",
    holds: ["unsigned"],
    allowed: ["start_first_pass", ...ANY],
    next: ["sales", "start_first_pass", "Sales: first look visit was due on 24 Nov 2026"],
  },
  {
    name: "first pass being written",
    facts: { ...inquiry, firstPass: "draft" },
    stage: "first_pass",
    holds: ["unsigned"],
    allowed: ["schedule_visit", "edit_revision", "issue_revision", ...ANY],
    next: ["sales", "issue_revision", "Sales: finish the first pass"],
  },
  {
    name: "first pass issued, senior has not looked",
    facts: firstPass,
    stage: "first_pass",
    holds: ["unsigned"],
    allowed: ["schedule_visit", "start_site_review", "issue_quote", ...ANY],
    next: ["estimator", "schedule_visit", "Senior estimator: visit before the quote goes out"],
  },
  {
    name: "first pass issued, review visit set, hazard",
    facts: { ...firstPass, hazardReported: true, visitOpen: { kind: "site_review", on: TODAY } },
    stage: "first_pass",
    holds: ["unsigned"],
    allowed: ["start_site_review", "issue_quote", ...ANY],
    next: [
      "estimator",
      "start_site_review",
      "Senior estimator: hazard reported, site review visit on 25 Nov 2026",
    ],
  },
  {
    name: "site review being written",
    facts: { ...firstPass, siteReview: "draft" },
    stage: "site_review",
    holds: ["unsigned"],
    allowed: ["schedule_visit", "edit_revision", "issue_revision", ...ANY],
    next: ["estimator", "issue_revision", "Senior estimator: finish the site review"],
  },
  {
    name: "site review issued, no quote yet",
    facts: reviewed,
    stage: "site_review",
    holds: ["unsigned"],
    allowed: ["schedule_visit", "start_site_review", "issue_quote", ...ANY],
    next: ["sales", "issue_quote", "Sales: send the quote"],
  },
  {
    name: "quote out, on its last day",
    facts: { ...quoted, quoteExpiresOn: TODAY },
    stage: "quoted",
    holds: ["unsigned"],
    allowed: ["schedule_visit", "start_site_review", "record_acceptance", "decline_quote", ...ANY],
    next: ["customer", "record_acceptance", "Customer: sign the quote by 25 Nov 2026"],
  },
  {
    name: "quote that does not expire",
    facts: { ...quoted, quoteExpiresOn: null },
    stage: "quoted",
    holds: ["unsigned"],
    allowed: ["schedule_visit", "start_site_review", "record_acceptance", "decline_quote", ...ANY],
    next: ["customer", "record_acceptance", "Customer: sign the quote"],
  },
  {
    name: "quote ran out yesterday",
    facts: { ...quoted, quoteExpiresOn: "2026-11-24" },
    stage: "site_review",
    holds: ["unsigned"],
    allowed: ["schedule_visit", "start_site_review", "issue_quote", "decline_quote", ...ANY],
    next: ["sales", "issue_quote", "Sales: send the quote again, it ran out on 24 Nov 2026"],
  },
  {
    name: "quote out while a second site review is open",
    facts: { ...quoted, siteReview: "draft" },
    stage: "quoted",
    holds: ["unsigned"],
    allowed: [
      "schedule_visit",
      "edit_revision",
      "issue_revision",
      "record_acceptance",
      "decline_quote",
      ...ANY,
    ],
    next: ["estimator", "issue_revision", "Senior estimator: finish the site review"],
  },
  {
    name: "quote superseded by a review that changed it materially",
    facts: { ...quoted, quote: "superseded", quoteOnNewestRevision: false, materialVarianceOpen: true },
    stage: "site_review",
    holds: ["unsigned", "material_variance_unresolved"],
    allowed: ["schedule_visit", "start_site_review", "issue_quote", "waive_variance", ...ANY],
    next: ["sales", "issue_quote", "Sales: send the changed quote"],
  },
  {
    name: "open quote on an older revision cannot be signed",
    facts: { ...quoted, quoteOnNewestRevision: false },
    stage: "site_review",
    holds: ["unsigned"],
    allowed: ["schedule_visit", "start_site_review", "issue_quote", "decline_quote", ...ANY],
    next: ["sales", "issue_quote", "Sales: send the changed quote"],
  },
  {
    name: "quote declined",
    facts: { ...quoted, quote: "declined" },
    stage: "site_review",
    holds: ["unsigned"],
    allowed: ["schedule_visit", "start_site_review", "issue_quote", ...ANY],
    next: ["sales", "close_job", "Sales: the customer declined; close the job or offer something else"],
  },
  {
    name: "signed, no deposit asked for, right to cancel open",
    facts: { ...quoted, acceptance: "standing", cancelUntil: "2026-11-30" },
    stage: "accepted",
    holds: ["cancellation_window_open"],
    allowed: ["schedule_visit", "start_site_review", "request_deposit", "record_payment", ...ANY],
    next: ["sales", "request_deposit", "Sales: ask for the deposit"],
  },
  {
    name: "signed, part of the deposit paid",
    facts: { ...ready, deposit: { dueCents: 397_300, paidCents: 277_300 } },
    stage: "accepted",
    holds: ["deposit_short"],
    allowed: ["schedule_visit", "start_site_review", "record_payment", ...ANY],
    next: ["customer", "record_payment", "Customer: pay $1,200 of the deposit"],
  },
  {
    name: "last day of the right to cancel",
    facts: { ...ready, cancelUntil: TODAY },
    stage: "accepted",
    holds: ["cancellation_window_open"],
    allowed: ["schedule_visit", "start_site_review", "record_payment", ...ANY],
    next: [null, null, "Right to cancel still open: a crew may be placed from 26 Nov 2026"],
  },
  {
    name: "ready for a crew",
    facts: { ...ready, promisedTo: "2026-12-11" },
    stage: "accepted",
    holds: [],
    allowed: ["schedule_visit", "start_site_review", "record_payment", "book_crew", ...ANY],
    next: ["scheduler", "book_crew", "Scheduler: place a crew, start promised by 11 Dec 2026"],
  },
  {
    name: "ready on the last promised day, which is not past yet",
    facts: { ...ready, promisedTo: TODAY },
    stage: "accepted",
    holds: [],
    allowed: ["schedule_visit", "start_site_review", "record_payment", "book_crew", ...ANY],
    next: ["scheduler", "book_crew", "Scheduler: place a crew, start promised by 25 Nov 2026"],
  },
  {
    name: "ready, company asks no deposit, promise passed",
    facts: { ...ready, deposit: { dueCents: 0, paidCents: 0 }, promisedTo: "2026-11-24" },
    stage: "accepted",
    holds: [],
    allowed: ["schedule_visit", "start_site_review", "record_payment", "book_crew", ...ANY],
    next: ["scheduler", "book_crew", "Scheduler: place a crew, start promised by 24 Nov 2026, 1 day past it"],
  },
  {
    name: "signed on a first pass, senior still to visit",
    facts: { ...ready, siteReview: "none", visitOpen: { kind: "site_review", on: "2026-11-30" } },
    stage: "accepted",
    holds: [],
    allowed: ["start_site_review", "record_payment", "book_crew", ...ANY],
    next: ["estimator", "start_site_review", "Senior estimator: site review visit on 30 Nov 2026"],
  },
  {
    name: "signed, later material change not settled, quote outdated",
    facts: { ...ready, quoteOnNewestRevision: false, materialVarianceOpen: true },
    stage: "accepted",
    holds: ["material_variance_unresolved"],
    allowed: [
      "schedule_visit",
      "start_site_review",
      "issue_quote",
      "record_payment",
      "waive_variance",
      ...ANY,
    ],
    next: ["sales", "issue_quote", "Sales: send the changed quote"],
  },
  {
    name: "signature voided by a material change, crew already booked",
    facts: voided,
    stage: "booked",
    holds: ["unsigned", "material_variance_unresolved"],
    allowed: [
      "schedule_visit",
      "start_site_review",
      "issue_quote",
      "record_payment",
      "waive_variance",
      "move_booking",
      "cancel_booking",
      ...ANY,
    ],
    next: ["sales", "issue_quote", "Sales: send the changed quote"],
  },
  {
    name: "changed quote out after a voided signature",
    facts: { ...voided, quote: "open", quoteOnNewestRevision: true, deposit: short },
    stage: "booked",
    holds: ["unsigned", "deposit_short", "material_variance_unresolved"],
    allowed: [
      "schedule_visit",
      "start_site_review",
      "record_acceptance",
      "decline_quote",
      "record_payment",
      "waive_variance",
      "move_booking",
      "cancel_booking",
      ...ANY,
    ],
    next: ["customer", "record_acceptance", "Customer: sign the changed quote by 10 Dec 2026"],
  },
  {
    name: "placed holds do not stop booking",
    facts: { ...ready, placedHolds: ["weather", "permit"] },
    stage: "accepted",
    holds: ["permit", "weather"],
    allowed: ["schedule_visit", "start_site_review", "record_payment", "book_crew", ...ANY],
    next: ["scheduler", "book_crew", "Scheduler: place a crew"],
  },
  {
    name: "placed holds stop the start",
    facts: { ...booked, placedHolds: ["weather", "permit"] },
    stage: "booked",
    holds: ["permit", "weather"],
    allowed: [
      "schedule_visit",
      "start_site_review",
      "record_payment",
      "move_booking",
      "cancel_booking",
      ...ANY,
    ],
    next: ["owner", "place_hold", "Owner: get the permit"],
  },
  {
    name: "booked, customer not ready",
    facts: { ...booked, placedHolds: ["customer_not_ready"] },
    stage: "booked",
    holds: ["customer_not_ready"],
    allowed: [
      "schedule_visit",
      "start_site_review",
      "record_payment",
      "move_booking",
      "cancel_booking",
      ...ANY,
    ],
    next: ["customer", "place_hold", "Customer: say when the crew may come"],
  },
  {
    name: "booked before the right to cancel was known to run",
    facts: { ...booked, cancelUntil: "2026-11-30" },
    stage: "booked",
    holds: ["cancellation_window_open"],
    allowed: [
      "schedule_visit",
      "start_site_review",
      "record_payment",
      "move_booking",
      "cancel_booking",
      ...ANY,
    ],
    next: [null, null, "Right to cancel still open: work may start from 1 Dec 2026"],
  },
  {
    name: "booked, site review open",
    facts: { ...booked, siteReview: "draft" },
    stage: "booked",
    holds: [],
    allowed: [
      "schedule_visit",
      "edit_revision",
      "issue_revision",
      "record_payment",
      "move_booking",
      "cancel_booking",
      ...ANY,
    ],
    next: ["estimator", "issue_revision", "Senior estimator: finish the site review"],
  },
  {
    name: "booked and clear",
    facts: booked,
    stage: "booked",
    holds: [],
    allowed: [
      "schedule_visit",
      "start_site_review",
      "record_payment",
      "move_booking",
      "cancel_booking",
      "start_work",
      ...ANY,
    ],
    next: ["lead_hand", "start_work", "Crew lead: start work on 1 Dec 2026"],
  },
  {
    name: "booked, start day gone by",
    facts: {
      ...booked,
      booking: { startOn: "2026-11-23", endOn: "2026-11-24", started: false, finished: false },
    },
    stage: "booked",
    holds: [],
    allowed: [
      "schedule_visit",
      "start_site_review",
      "record_payment",
      "move_booking",
      "cancel_booking",
      "start_work",
      ...ANY,
    ],
    next: ["lead_hand", "start_work", "Crew lead: was due to start on 23 Nov 2026"],
  },
  {
    name: "under way",
    facts: underWay,
    stage: "under_way",
    holds: [],
    allowed: ["schedule_visit", "record_payment", "finish_work", ...ANY],
    next: ["lead_hand", "finish_work", "Crew lead: finish the work"],
  },
  {
    name: "under way with a change order open",
    facts: { ...underWay, changeOrder: "draft" },
    stage: "under_way",
    holds: [],
    allowed: ["schedule_visit", "edit_revision", "issue_revision", "record_payment", ...ANY],
    next: ["estimator", "issue_revision", "Senior estimator: finish the change order"],
  },
  {
    name: "under way, material change not settled",
    facts: { ...underWay, materialVarianceOpen: true },
    stage: "under_way",
    holds: ["material_variance_unresolved"],
    allowed: ["schedule_visit", "record_payment", "waive_variance", "finish_work", ...ANY],
    next: ["owner", "waive_variance", "Owner: settle the material change"],
  },
  {
    name: "under way, changed quote waiting for a signature",
    facts: { ...underWay, acceptance: "void" },
    stage: "under_way",
    holds: ["unsigned"],
    allowed: [
      "schedule_visit",
      "record_acceptance",
      "decline_quote",
      "record_payment",
      "finish_work",
      ...ANY,
    ],
    next: ["customer", "record_acceptance", "Customer: sign the changed quote by 10 Dec 2026"],
  },
  {
    name: "finished, whatever else is still open",
    facts: { ...finished, deposit: short, placedHolds: ["weather"], materialVarianceOpen: true },
    stage: "finished",
    holds: [],
    allowed: ["record_payment"],
    next: [null, null, "The work is finished"],
  },
  {
    name: "a finished job stays finished when it is marked closed",
    facts: { ...finished, closed: true },
    stage: "finished",
    holds: [],
    allowed: ["record_payment"],
    next: [null, null, "The work is finished"],
  },
  {
    name: "closed at the inquiry",
    facts: { ...inquiry, closed: true },
    stage: "closed",
    holds: [],
    allowed: ["reopen_job"],
    next: [null, null, "The job is closed"],
  },
  {
    name: "closed while under way",
    facts: { ...underWay, closed: true },
    stage: "closed",
    holds: [],
    allowed: ["reopen_job"],
    next: [null, null, "The job is closed"],
  },
];

describe("stage, holds, acts and the next act", () => {
  test.each(rows)("$name", ({ facts, stage, holds, allowed, next }) => {
    const state = deriveJob(facts, TODAY);
    expect(state.stage).toBe(stage);
    expect(state.holds.map((h) => h.hold)).toEqual(holds);
    expect(ACTS.filter((act) => state.acts[act].allowed).sort()).toEqual([...allowed].sort());
    expect([state.next.owedBy, state.next.act, state.next.words]).toEqual(next);
  });
});

describe("holds say why, with numbers and dates", () => {
  const why = (facts: JobFacts, hold: Hold) =>
    deriveJob(facts, TODAY).holds.find((h) => h.hold === hold)?.why;
  test.each<[string, JobFacts, Hold]>([
    ["The customer has not signed", quoted, "unsigned"],
    ["The customer's signature no longer stands", voided, "unsigned"],
    ["Deposit short by $1,200 of $3,973", { ...ready, deposit: short }, "deposit_short"],
    [
      "Right to cancel runs to 30 Nov 2026",
      { ...ready, cancelUntil: "2026-11-30" },
      "cancellation_window_open",
    ],
    [
      "A material change is neither signed by the customer nor waived by the owner",
      voided,
      "material_variance_unresolved",
    ],
    ["Waiting for the permit", { ...ready, placedHolds: ["permit"] }, "permit"],
    ["Materials are on order", { ...ready, placedHolds: ["materials_on_order"] }, "materials_on_order"],
    ["The customer is not ready", { ...ready, placedHolds: ["customer_not_ready"] }, "customer_not_ready"],
    ["Waiting for the weather", { ...ready, placedHolds: ["weather"] }, "weather"],
  ])("%s", (text, facts, hold) => expect(why(facts, hold)).toBe(text));

  test("a hold placed twice is listed once", () => {
    expect(deriveJob({ ...ready, placedHolds: ["permit", "permit"] }, TODAY).holds).toHaveLength(1);
  });
});

test("a bad date for today is refused", () => {
  expect(() => deriveJob(inquiry, "25 Nov")).toThrow(/YYYY-MM-DD/);
});
