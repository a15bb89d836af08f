import { ENDPOINTS } from "@ledgerboard/contracts";
import type { Implementation } from "../http/implement.ts";
import { advisoryRoutes } from "./advisories/routes.ts";
import { companyRoutes } from "./company/routes.ts";
import { crewRoutes } from "./crews/routes.ts";
import { customerRoutes } from "./customers/routes.ts";
import { estimateRoutes } from "./estimates/routes.ts";
import { identityRoutes } from "./identity/routes.ts";
import { jobRoutes } from "./jobs/routes.ts";
import { mailRoutes } from "./mail/routes.ts";
import { memberRoutes } from "./members/routes.ts";
import { moneyRoutes } from "./money-ledger/routes.ts";
import { priceBookRoutes } from "./price-book/routes.ts";
import { quoteRoutes } from "./quotes/routes.ts";

/** Every endpoint with its handler. A declared endpoint without one stops the start. */
export function features(): Implementation[] {
  const all = [
    ...identityRoutes,
    ...memberRoutes,
    ...companyRoutes,
    ...mailRoutes,
    ...customerRoutes,
    ...jobRoutes,
    ...priceBookRoutes,
    ...estimateRoutes,
    ...advisoryRoutes,
    ...quoteRoutes,
    ...moneyRoutes,
    ...crewRoutes,
  ];
  const missing = ENDPOINTS.filter((e) => !all.some((i) => i.endpoint === e));
  if (missing.length > 0)
    throw new Error(`Declared but not implemented: ${missing.map((e) => e.id).join(", ")}`);
  return all;
}
