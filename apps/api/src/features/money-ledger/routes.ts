import { quotes as contract } from "@ledgerboard/contracts";
import { fromCursor, paginate, toCursor } from "../../cursor.ts";
import { type Implementation, implement } from "../../http/implement.ts";
import { listDeposits } from "./queries.ts";
import { getJobMoney, recordPayment, requestDeposit, reversePayment } from "./service.ts";

export const moneyRoutes: Implementation[] = [
  implement(contract.getJobMoney, ({ db, params }) => getJobMoney(db, params.jobId)),
  implement(contract.listDeposits, async ({ db, query, today, services }) => {
    const secret = services.config.APP_SECRET;
    const list = `deposits/${query.state}`;
    const after = fromCursor<[string]>(secret, list, query.after)?.[0] ?? null;
    const rows = await listDeposits(db, query.state, today, after, query.limit + 1);
    return paginate(rows, query.limit, (last) => toCursor(secret, list, [last.jobId]));
  }),
  implement(contract.requestDeposit, ({ db, params, body, today }) =>
    requestDeposit(db, params.jobId, body, today),
  ),
  implement(contract.recordPayment, ({ db, params, body, today }) =>
    recordPayment(db, params.jobId, body, today),
  ),
  implement(contract.reversePayment, ({ db, params, body, today }) =>
    reversePayment(db, params.paymentId, body.why, today),
  ),
];
