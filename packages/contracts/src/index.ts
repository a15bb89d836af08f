import * as advisories from "./advisories.ts";
import * as assessment from "./assessment.ts";
import * as company from "./company.ts";
import * as crews from "./crews.ts";
import * as customers from "./customers.ts";
import type { Endpoint } from "./endpoint.ts";
import * as estimates from "./estimates.ts";
import * as identity from "./identity.ts";
import * as jobs from "./jobs.ts";
import * as priceBook from "./price-book.ts";
import * as quotes from "./quotes.ts";

export * from "./endpoint.ts";
export * from "./permissions.ts";
export * from "./problem.ts";
export * from "./vocabulary.ts";
export { advisories, assessment, company, crews, customers, estimates, identity, jobs, priceBook, quotes };

const isEndpoint = (value: unknown): value is Endpoint =>
  typeof value === "object" && value !== null && "method" in value && "path" in value && "access" in value;

/** Every endpoint of the API, in the order of their declaration. */
export const ENDPOINTS: readonly Endpoint[] = [
  identity,
  company,
  customers,
  jobs,
  estimates,
  assessment,
  advisories,
  quotes,
  crews,
  priceBook,
]
  .flatMap((feature) => Object.values(feature) as unknown[])
  .filter(isEndpoint);
