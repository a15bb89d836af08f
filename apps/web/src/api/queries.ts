import { type QueryKey, queryOptions } from "@tanstack/react-query";
import { call } from "./client.ts";
import { api } from "./generated/endpoints.ts";
import { queryClient } from "./query-client.ts";
import type { Args, Wire } from "./wire.ts";

/** Everything the screens read. A query key is `[resource, what it was asked with]`. */
export const RESOURCES = [
  "session",
  "offer",
  "company",
  "policies",
  "outbox",
  "members",
  "invitations",
  "customers",
  "customer",
  "duplicates",
  "jobs",
  "counts",
  "job",
  "timeline",
  "revision",
  "assessment",
  "cutPlan",
  "choices",
  "advisories",
  "comparison",
  "quote",
  "money",
  "deposits",
  "crews",
  "crewSheet",
  "priceBook",
  "priceBooks",
] as const;
export type Resource = (typeof RESOURCES)[number];

const resource = <E>(name: Resource, endpoint: Wire<E>, args: Args<E>) =>
  queryOptions({
    queryKey: [name, args] as const,
    queryFn: ({ signal }) => call(endpoint, { ...args, signal }),
  });

/** Query options, one function per resource: `useQuery(q.job(jobId))`. */
export const q = {
  session: () => resource("session", api.getSession, {}),
  /** What an invitation link offers. */
  offer: (token: string) => resource("offer", api.readInvitation, { body: { token } }),
  company: () => resource("company", api.getCompany, {}),
  policies: () => resource("policies", api.listPolicies, {}),
  outbox: (query: Args<Of<"listOutbox">>["query"] = {}) => resource("outbox", api.listOutbox, { query }),
  members: () => resource("members", api.listMembers, {}),
  invitations: () => resource("invitations", api.listInvitations, {}),
  customers: (query: Args<Of<"listCustomers">>["query"] = {}) =>
    resource("customers", api.listCustomers, { query }),
  customer: (customerId: string) => resource("customer", api.getCustomer, { params: { customerId } }),
  duplicates: () => resource("duplicates", api.listDuplicates, {}),
  jobs: (query: Args<Of<"listJobs">>["query"] = {}) => resource("jobs", api.listJobs, { query }),
  counts: () => resource("counts", api.countJobs, {}),
  job: (jobId: string) => resource("job", api.getJob, { params: { jobId } }),
  timeline: (jobId: string, query: Args<Of<"getTimeline">>["query"] = {}) =>
    resource("timeline", api.getTimeline, { params: { jobId }, query }),
  revision: (revisionId: string) => resource("revision", api.getRevision, { params: { revisionId } }),
  assessment: (revisionId: string) => resource("assessment", api.assessRevision, { params: { revisionId } }),
  cutPlan: (revisionId: string, query: Args<Of<"getCutPlan">>["query"] = {}) =>
    resource("cutPlan", api.getCutPlan, { params: { revisionId }, query }),
  choices: (revisionId: string, query: Args<Of<"getChoices">>["query"] = {}) =>
    resource("choices", api.getChoices, { params: { revisionId }, query }),
  advisories: (jobId: string) => resource("advisories", api.listAdvisories, { params: { jobId } }),
  comparison: (jobId: string, query: Args<Of<"compareRevisions">>["query"] = {}) =>
    resource("comparison", api.compareRevisions, { params: { jobId }, query }),
  quote: (quoteId: string) => resource("quote", api.getQuote, { params: { quoteId } }),
  money: (jobId: string) => resource("money", api.getJobMoney, { params: { jobId } }),
  deposits: (query: Args<Of<"listDeposits">>["query"] = {}) =>
    resource("deposits", api.listDeposits, { query }),
  crews: () => resource("crews", api.listCrews, {}),
  crewSheet: (query: Args<Of<"getCrewSheet">>["query"]) => resource("crewSheet", api.getCrewSheet, { query }),
  /** The book in effect, or the one asked for. */
  priceBook: (bookId?: string) =>
    resource("priceBook", api.getPriceBook, bookId === undefined ? {} : { query: { bookId } }),
  priceBooks: () => resource("priceBooks", api.listPriceBooks, {}),
};

type Of<K extends keyof typeof api> = (typeof api)[K] extends Wire<infer E> ? E : never;

const JOB: Resource[] = ["jobs", "counts", "job", "timeline", "money", "deposits", "crewSheet"];
/** Worked out from lines, measures and prices together. */
const ASSESSED: Resource[] = ["assessment", "cutPlan", "choices", "advisories"];
const ESTIMATE: Resource[] = [...JOB, "revision", ...ASSESSED, "comparison", "quote"];

/** What may read differently after an act on one of these groups (the `tag` of the endpoint). */
export const TOUCHES: Record<string, Resource[]> = {
  identity: ["session", "members", "invitations"],
  members: ["members", "invitations", "session", "outbox"],
  company: ["company", "policies", "outbox", "session"],
  customers: ["customers", "customer", "duplicates", "jobs", "job", "deposits", "crewSheet"],
  jobs: [...ESTIMATE, "customers", "customer", "duplicates"],
  public: JOB,
  estimates: ESTIMATE,
  advisories: ["advisories", "job", "timeline"],
  quotes: [...ESTIMATE, "outbox"],
  money: [...JOB, "outbox"],
  crews: [...JOB, "crews"],
  // A draft says when prices have moved, and building new is priced from the book in effect.
  "price book": ["priceBook", "priceBooks", "revision", ...ASSESSED],
};

const jobOf = (key: QueryKey): string | undefined =>
  (key[1] as { params?: { jobId?: string } } | undefined)?.params?.jobId;

/** Marks resources stale; what is on screen is fetched again. With a job, other jobs' pages are spared. */
export function invalidate(resources: readonly Resource[], jobId?: string | null): Promise<void> {
  return queryClient.invalidateQueries({
    predicate: ({ queryKey }) =>
      resources.includes(queryKey[0] as Resource) &&
      (!jobId || jobOf(queryKey) === undefined || jobOf(queryKey) === jobId),
  });
}
