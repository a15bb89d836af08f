import { company as contract } from "@ledgerboard/contracts";
import { type Implementation, implement } from "../../http/implement.ts";
import { listPolicies, readCompany } from "./queries.ts";
import { addPolicy, updateCompany } from "./service.ts";

export const companyRoutes: Implementation[] = [
  implement(contract.getCompany, ({ db }) => readCompany(db)),
  implement(contract.updateCompany, updateCompany),
  implement(contract.listPolicies, async ({ db }) => ({ items: await listPolicies(db) })),
  implement(contract.addPolicy, addPolicy),
];
