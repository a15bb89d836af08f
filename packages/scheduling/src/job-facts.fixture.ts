import type { JobFacts } from "./job-facts.ts";

export const TODAY = "2026-11-25";

/** A new inquiry, of which nothing is known yet; tests override what they are about. */
export const inquiry: JobFacts = {
  closed: false,
  hazardReported: false,
  visitOpen: null,
  firstPass: "none",
  siteReview: "none",
  changeOrder: "none",
  quote: "none",
  quoteExpiresOn: null,
  quoteOnNewestRevision: false,
  acceptance: "none",
  cancelUntil: null,
  deposit: null,
  materialVarianceOpen: false,
  placedHolds: [],
  booking: null,
  promisedTo: null,
};

export const reviewed: JobFacts = { ...inquiry, firstPass: "issued", siteReview: "issued" };

export const quoted: JobFacts = {
  ...reviewed,
  quote: "open",
  quoteExpiresOn: "2026-12-10",
  quoteOnNewestRevision: true,
};

/** Signed, deposit paid, right to cancel over: ready for a crew. */
export const ready: JobFacts = {
  ...quoted,
  acceptance: "standing",
  cancelUntil: "2026-11-24",
  deposit: { dueCents: 397_300, paidCents: 397_300 },
};

export const booked: JobFacts = {
  ...ready,
  booking: { startOn: "2026-12-01", endOn: "2026-12-03", started: false, finished: false },
};

export const underWay: JobFacts = {
  ...ready,
  booking: { startOn: "2026-11-24", endOn: "2026-11-26", started: true, finished: false },
};

export const finished: JobFacts = {
  ...ready,
  booking: { startOn: "2026-11-18", endOn: "2026-11-20", started: true, finished: true },
};
