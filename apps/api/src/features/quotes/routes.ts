import { quotes as contract } from "@ledgerboard/contracts";
import { type Implementation, implement } from "../../http/implement.ts";
import { readQuote, toQuote } from "./queries.ts";
import { declineQuote, issueQuote, recordAcceptance } from "./service.ts";

export const quoteRoutes: Implementation[] = [
  implement(contract.issueQuote, ({ db, params, body, today }) =>
    issueQuote(db, params.jobId, body.validDays, today),
  ),
  implement(contract.getQuote, async ({ db, params, today }) =>
    toQuote(await readQuote(db, params.quoteId), today),
  ),
  implement(contract.recordAcceptance, ({ db, params, body, today }) =>
    recordAcceptance(db, params.quoteId, body, today),
  ),
  implement(contract.declineQuote, ({ db, params, body, today }) =>
    declineQuote(db, params.quoteId, body.why, today),
  ),
];
