import { describe, expect, test } from "vitest";
import { booked, finished, inquiry, quoted, ready, reviewed, TODAY, underWay } from "./job-facts.fixture.ts";
import type { Act, JobFacts } from "./job-facts.ts";
import { deriveJob } from "./job-state.ts";

const short = { dueCents: 397_300, paidCents: 277_300 };

describe("a refused act says what to do", () => {
  test.each<[Act, string, JobFacts]>([
    [
      "schedule_visit",
      "A first look visit is already set for 27 Nov 2026. Move that one or record it.",
      { ...inquiry, visitOpen: { kind: "first_look", on: "2026-11-27" } },
    ],
    [
      "start_first_pass",
      "A first pass is already open. Go on with that one.",
      { ...inquiry, firstPass: "draft" },
    ],
    ["start_first_pass", "The first pass is already issued. Start a site review to change it.", reviewed],
    ["start_site_review", "There is no first pass to review. Write and issue one first.", inquiry],
    [
      "start_site_review",
      "The first pass is still open. Issue it first.",
      { ...inquiry, firstPass: "draft" },
    ],
    [
      "start_site_review",
      "A site review is already open. Go on with that one.",
      { ...quoted, siteReview: "draft" },
    ],
    [
      "start_site_review",
      "Work has started, so the agreed scope and the booking stay as they are.",
      underWay,
    ],
    ["edit_revision", "No draft is open. Start one first.", reviewed],
    ["issue_revision", "No draft is open. Start one first.", inquiry],
    ["issue_quote", "Nothing is priced yet. Write and issue a first pass.", inquiry],
    [
      "issue_quote",
      "The site review is still open. Issue it before the quote goes out.",
      { ...reviewed, siteReview: "draft" },
    ],
    ["issue_quote", "A quote on the newest revision is already out. Wait for the answer.", quoted],
    ["issue_quote", "The customer has signed the quote on the newest revision.", ready],
    ["record_acceptance", "No quote is out. Send one first.", reviewed],
    ["record_acceptance", "The customer has already signed.", ready],
    [
      "record_acceptance",
      "The quote ran out on 24 Nov 2026. Send a new one to sign.",
      { ...quoted, quoteExpiresOn: "2026-11-24" },
    ],
    [
      "record_acceptance",
      "The scope changed after this quote. Send a new one to sign.",
      { ...quoted, quoteOnNewestRevision: false },
    ],
    ["decline_quote", "No quote is out, so there is none to decline.", { ...quoted, quote: "declined" }],
    ["decline_quote", "The customer has already signed. Close the job if it is called off.", ready],
    ["request_deposit", "The customer has not signed. Ask for no money before that.", quoted],
    ["request_deposit", "A deposit of $3,973 has already been asked for.", ready],
    [
      "request_deposit",
      "No deposit is due on this job.",
      { ...ready, deposit: { dueCents: 0, paidCents: 0 } },
    ],
    ["record_payment", "The customer has not signed. Take no money before that.", quoted],
    ["waive_variance", "There is no material change waiting to be settled.", ready],
    ["book_crew", "A crew is already booked from 1 Dec 2026. Move that booking.", booked],
    ["book_crew", "Deposit short by $1,200 of $3,973: collect the rest.", { ...ready, deposit: short }],
    [
      "book_crew",
      "Right to cancel runs to 30 Nov 2026: wait until that day has passed.",
      { ...ready, cancelUntil: "2026-11-30" },
    ],
    ["book_crew", "The customer has not signed: get the quote signed.", quoted],
    [
      "book_crew",
      "A material change is neither signed by the customer nor waived by the owner: have the changed quote signed or the change waived.",
      { ...ready, materialVarianceOpen: true },
    ],
    ["move_booking", "No crew is booked.", ready],
    ["cancel_booking", "Work has started, so the agreed scope and the booking stay as they are.", underWay],
    ["start_work", "No crew is booked. Place a crew first.", ready],
    ["start_work", "Work has already started.", underWay],
    [
      "start_work",
      "Waiting for the permit: lift the hold when the permit is there.",
      { ...booked, placedHolds: ["permit"] },
    ],
    [
      "start_work",
      "The site review is still open. Issue it before work starts.",
      { ...booked, siteReview: "draft" },
    ],
    ["finish_work", "Work has not started.", booked],
    ["finish_work", "The change order is still open. Issue it first.", { ...underWay, changeOrder: "draft" }],
    ["close_job", "The work is finished. Only payments and refunds can still be recorded.", finished],
    ["record_payment", "The job is closed. Reopen it first.", { ...ready, closed: true }],
    ["reopen_job", "The job is not closed.", ready],
  ])("%s: %s", (act, why, facts) => {
    expect(deriveJob(facts, TODAY).acts[act]).toEqual({ allowed: false, why });
  });
});
