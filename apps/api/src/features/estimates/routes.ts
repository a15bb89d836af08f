import { assessment, estimates as contract } from "@ledgerboard/contracts";
import { type Implementation, implement } from "../../http/implement.ts";
import { assessRevision } from "./assessment.ts";
import { updateRevision } from "./charges.ts";
import { readChoices } from "./choices.ts";
import { readComparison } from "./comparison.ts";
import { readCutPlan } from "./cut-plan.ts";
import { issueRevision } from "./issue.ts";
import { addLine, removeLine, updateLine } from "./lines.ts";
import { refreshPrices } from "./refresh.ts";
import { discardRevision, startRevision } from "./service.ts";
import { settleFinding } from "./settle.ts";
import { readRevision } from "./view.ts";
import { waiveVariance } from "./waive.ts";

export const estimateRoutes: Implementation[] = [
  implement(contract.startRevision, (c) => startRevision(c, c.params.jobId, c.body.kind)),
  implement(contract.getRevision, ({ db, today, params }) => readRevision(db, today, params.revisionId)),
  implement(contract.updateRevision, (c) => updateRevision(c, c.params.revisionId, c.version, c.body)),
  implement(contract.refreshPrices, (c) => refreshPrices(c, c.params.revisionId, c.body.dryRun)),
  implement(assessment.assessRevision, ({ db, today, params, query }) =>
    assessRevision(db, today, params.revisionId, query.seed),
  ),
  implement(assessment.getChoices, ({ db, params, query }) => readChoices(db, params.revisionId, query)),
  implement(assessment.getCutPlan, ({ db, services, params, query }) =>
    readCutPlan(db, services.solver, params.revisionId, query.seconds),
  ),
  implement(assessment.passFinding, (c) => settleFinding(c, c.params.revisionId, c.body.key, c.body.why)),
  implement(assessment.withdrawPass, (c) => settleFinding(c, c.params.revisionId, c.body.key, null)),
  implement(contract.addLine, (c) => addLine(c, c.params.revisionId, c.body)),
  implement(contract.updateLine, (c) => updateLine(c, c.params.lineId, c.version, c.body)),
  implement(contract.removeLine, (c) => removeLine(c, c.params.lineId)),
  implement(contract.issueRevision, (c) => issueRevision(c, c.params.revisionId)),
  implement(contract.discardRevision, (c) => discardRevision(c, c.params.revisionId)),
  implement(contract.compareRevisions, ({ db, today, params, query }) =>
    readComparison(db, today, params.jobId, query),
  ),
  implement(contract.waiveVariance, (c) => waiveVariance(c, c.params.varianceId, c.body.why)),
];
