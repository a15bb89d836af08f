import { advisories as contract } from "@ledgerboard/contracts";
import { type Implementation, implement } from "../../http/implement.ts";
import { addAdvisory, decideAdvisory, removeAdvisory } from "./service.ts";
import { readAdvisories } from "./suggest.ts";

export const advisoryRoutes: Implementation[] = [
  implement(contract.listAdvisories, ({ db, today, params }) => readAdvisories(db, today, params.jobId)),
  implement(contract.addAdvisory, (c) => addAdvisory(c, c.params.jobId, c.body)),
  implement(contract.decideAdvisory, (c) => decideAdvisory(c, c.params.advisoryId, c.version, c.body)),
  implement(contract.removeAdvisory, (c) => removeAdvisory(c, c.params.advisoryId)),
];
