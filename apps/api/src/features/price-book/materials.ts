import type { priceBook as contract, Input } from "@ledgerboard/contracts";
import { ratio, toDecimal } from "@ledgerboard/contracts/money";
import type { Material } from "@ledgerboard/contracts/price-book";
import type { TenantDb } from "@ledgerboard/database";
import { illegalMove } from "../../problem.ts";
import { checkVersion, given } from "../versions.ts";
import { type BookContents, listMaterials, type MaterialRow, toMaterial } from "./queries.ts";
import { insertMaterials, type MaterialFields, materialCodes, writeMaterial } from "./store.ts";
import {
  checkPrices,
  checkSomething,
  list,
  pick,
  takeBook,
  takeBookOf,
  WHAT,
  whatChanged,
  withRow,
} from "./taking.ts";

type Body<E> = Input<E>["body"];
type NewMaterial = Body<typeof contract.addMaterial>;

/** Packs as they are stored: sizes without idle zeros. */
export const storedPacks = (packs: NewMaterial["packs"]): MaterialFields["packs"] =>
  packs.map(({ size, price }) => ({ size: toDecimal(ratio(size)), cents: price.cents }));

/** Codes of the assemblies in use that take a material, also near salt only. */
export const usersOf = ({ assemblies }: Pick<BookContents, "assemblies">, code: string): string[] =>
  assemblies.filter((a) => !a.retired && materialCodes(a.recipe).includes(code)).map((a) => a.code);

const readBack = async (db: TenantDb, bookId: string, id: string): Promise<Material> =>
  toMaterial(pick(await listMaterials(db, bookId), id, WHAT.materials));

export async function addMaterial(
  db: TenantDb,
  today: string,
  bookId: string,
  body: NewMaterial,
): Promise<Material> {
  await takeBook(db, today, bookId);
  const fields = { ...body, packs: storedPacks(body.packs), retired: false };
  const [id = ""] = await insertMaterials(db, bookId, [fields]);
  const added = await readBack(db, bookId, id);
  await db.audit({
    action: "price_book.material_added",
    entity: "material",
    entityId: id,
    words: `Price book: material ${added.code} added.`,
    changes: { after: added },
  });
  return added;
}

export async function updateMaterial(
  db: TenantDb,
  today: string,
  id: string,
  version: number,
  body: Body<typeof contract.updateMaterial>,
): Promise<Material> {
  checkSomething(body);
  const contents = await takeBookOf(db, today, "materials", id);
  const stored = pick(contents.materials, id, WHAT.materials);
  await checkVersion(stored.version, version, () => toMaterial(stored));
  const { packs, ...rest } = body;
  const next: MaterialRow = { ...stored, ...given(rest), ...(packs && { packs: storedPacks(packs) }) };
  const users = next.retired && !stored.retired ? usersOf(contents, stored.code) : [];
  if (users.length > 0)
    throw illegalMove(
      `${list(users)} still ${users.length === 1 ? "takes" : "take"} ${stored.code}; change or retire those first.`,
    );
  checkPrices({ ...contents, materials: withRow(contents.materials, next) }, "body.packs");
  await writeMaterial(db, id, next);
  const after = await readBack(db, contents.terms.id, id);
  await db.audit({
    action: "price_book.material_changed",
    entity: "material",
    entityId: id,
    words: `Price book: material ${after.code} ${whatChanged(stored, after)}.`,
    changes: { before: toMaterial(stored), after },
  });
  return after;
}
