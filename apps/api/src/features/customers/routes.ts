import { customers as contract } from "@ledgerboard/contracts";
import { fromCursor, paginate, toCursor } from "../../cursor.ts";
import { type Implementation, implement } from "../../http/implement.ts";
import { listCustomers, listDuplicates, readCustomerDetail } from "./queries.ts";
import { mergeCustomers, unmergeCustomer, updateCustomer, updateProperty } from "./service.ts";

export const customerRoutes: Implementation[] = [
  implement(contract.listCustomers, async ({ db, query, services }) => {
    const secret = services.config.APP_SECRET;
    const after = fromCursor<[string, string]>(secret, "customers", query.after);
    const rows = await listCustomers(db, query.search ?? null, after, query.limit + 1);
    return paginate(rows, query.limit, (last) => toCursor(secret, "customers", [last.name, last.id]));
  }),
  implement(contract.listDuplicates, async ({ db }) => ({ items: await listDuplicates(db) })),
  implement(contract.getCustomer, ({ db, params }) => readCustomerDetail(db, params.customerId)),
  implement(contract.updateCustomer, ({ db, params, version, body }) =>
    updateCustomer(db, params.customerId, version, body),
  ),
  implement(contract.updateProperty, ({ db, params, version, body }) =>
    updateProperty(db, params.propertyId, version, body),
  ),
  implement(contract.mergeCustomers, ({ db, params, body }) =>
    mergeCustomers(db, params.customerId, body.otherId),
  ),
  implement(contract.unmergeCustomer, ({ db, params, body }) =>
    unmergeCustomer(db, params.customerId, body.otherId),
  ),
];
