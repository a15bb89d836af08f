import type { priceBook as contract, Input } from "@ledgerboard/contracts";
import type { LaborRate } from "@ledgerboard/contracts/price-book";
import type { TenantDb } from "@ledgerboard/database";
import { checkVersion, given } from "../versions.ts";
import { listLaborRates, toLaborRate } from "./queries.ts";
import { insertRates, writeRate } from "./store.ts";
import { checkPrices, checkSomething, pick, takeBook, takeBookOf, WHAT, withRow } from "./taking.ts";

type Body<E> = Input<E>["body"];

const readBack = async (db: TenantDb, bookId: string, id: string): Promise<LaborRate> =>
  toLaborRate(pick(await listLaborRates(db, bookId), id, WHAT.labor_rates));

export async function addLaborRate(
  db: TenantDb,
  today: string,
  bookId: string,
  { hourly, ...body }: Body<typeof contract.addLaborRate>,
): Promise<LaborRate> {
  await takeBook(db, today, bookId);
  const [id = ""] = await insertRates(db, bookId, [{ ...body, hourlyCents: hourly.cents }]);
  const added = await readBack(db, bookId, id);
  await db.audit({
    action: "price_book.rate_added",
    entity: "labor_rate",
    entityId: id,
    words: `Price book: labor rate ${added.code} added.`,
    changes: { after: added },
  });
  return added;
}

export async function updateLaborRate(
  db: TenantDb,
  today: string,
  id: string,
  version: number,
  body: Body<typeof contract.updateLaborRate>,
): Promise<LaborRate> {
  checkSomething(body);
  const contents = await takeBookOf(db, today, "labor_rates", id);
  const stored = pick(contents.laborRates, id, WHAT.labor_rates);
  await checkVersion(stored.version, version, () => toLaborRate(stored));
  const { hourly, ...rest } = body;
  const next = { ...stored, ...given(rest), ...(hourly && { hourlyCents: hourly.cents }) };
  checkPrices({ ...contents, laborRates: withRow(contents.laborRates, next) }, "body.hourly");
  await writeRate(db, id, next);
  const after = await readBack(db, contents.terms.id, id);
  await db.audit({
    action: "price_book.rate_changed",
    entity: "labor_rate",
    entityId: id,
    words: `Price book: labor rate ${after.code} changed.`,
    changes: { before: toLaborRate(stored), after },
  });
  return after;
}
