import { priceBook as contract } from "@ledgerboard/contracts";
import { type Implementation, implement } from "../../http/implement.ts";
import { readBook } from "./queries.ts";
import { addItem, addLaborRate, updateItem, updateLaborRate, updatePriceBook } from "./service.ts";

export const priceBookRoutes: Implementation[] = [
  implement(contract.getPriceBook, ({ db, today }) => readBook(db, today)),
  implement(contract.updatePriceBook, ({ db, today, version, body }) =>
    updatePriceBook(db, today, version, body),
  ),
  implement(contract.addPriceBookItem, ({ db, today, body }) => addItem(db, today, body)),
  implement(contract.updatePriceBookItem, ({ db, today, params, version, body }) =>
    updateItem(db, today, params.itemId, version, body),
  ),
  implement(contract.addLaborRate, ({ db, today, body }) => addLaborRate(db, today, body)),
  implement(contract.updateLaborRate, ({ db, today, params, version, body }) =>
    updateLaborRate(db, today, params.rateId, version, body),
  ),
];
