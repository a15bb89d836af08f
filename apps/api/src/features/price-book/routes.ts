import { priceBook as contract } from "@ledgerboard/contracts";
import { type Implementation, implement } from "../../http/implement.ts";
import { addAssembly, updateAssembly } from "./assemblies.ts";
import { discardPriceBook, startPriceBook, updatePriceBook } from "./books.ts";
import { exportPrices, importPrices } from "./csv.ts";
import { addLaborRate, updateLaborRate } from "./labor.ts";
import { addMaterial, updateMaterial } from "./materials.ts";
import { listBooks, readBook } from "./queries.ts";

export const priceBookRoutes: Implementation[] = [
  implement(contract.getPriceBook, ({ db, today, query }) => readBook(db, today, query.bookId)),
  implement(contract.listPriceBooks, async ({ db, today }) => ({
    books: (await listBooks(db, today)).map(({ id, name, effectiveFrom, standing, createdAt }) => ({
      id,
      name,
      effectiveFrom,
      standing,
      createdAt,
    })),
  })),
  implement(contract.startPriceBook, async ({ db, today, body }) => ({
    id: await startPriceBook(db, today, body),
  })),
  implement(contract.discardPriceBook, async ({ db, today, params }) => {
    await discardPriceBook(db, today, params.bookId);
    return { done: true as const };
  }),
  implement(contract.updatePriceBook, ({ db, today, params, version, body }) =>
    updatePriceBook(db, today, params.bookId, version, body),
  ),
  implement(contract.addMaterial, ({ db, today, params, body }) =>
    addMaterial(db, today, params.bookId, body),
  ),
  implement(contract.updateMaterial, ({ db, today, params, version, body }) =>
    updateMaterial(db, today, params.materialId, version, body),
  ),
  implement(contract.addAssembly, ({ db, today, params, body }) =>
    addAssembly(db, today, params.bookId, body),
  ),
  implement(contract.updateAssembly, ({ db, today, params, version, body }) =>
    updateAssembly(db, today, params.assemblyId, version, body),
  ),
  implement(contract.addLaborRate, ({ db, today, params, body }) =>
    addLaborRate(db, today, params.bookId, body),
  ),
  implement(contract.updateLaborRate, ({ db, today, params, version, body }) =>
    updateLaborRate(db, today, params.rateId, version, body),
  ),
  implement(contract.exportPrices, ({ db, today, params, query }) =>
    exportPrices(db, today, params.bookId, query.list),
  ),
  implement(contract.importPrices, ({ db, today, params, body }) =>
    importPrices(db, today, params.bookId, body),
  ),
];
