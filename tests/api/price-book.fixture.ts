import { starterPriceBook } from "@ledgerboard/api/features/price-book/starter";
import type { Assembly, LaborRate, Material, PriceBook } from "@ledgerboard/contracts/price-book";
import { Decimal } from "decimal.js";
import type { Client, Harness, TestCompany } from "../support/harness.ts";

export const BOOK_FROM = "2026-01-05";

/** A company with the price book that signing up gives. */
export async function companyWithStarter(h: Harness): Promise<TestCompany> {
  const c = await h.company();
  await h.database.withCompany(c.companyId, {}, (db) => starterPriceBook(db, BOOK_FROM));
  return c;
}

export const usd = (cents: number) => ({ cents, currency: "USD" }) as const;

export const readBook = async (who: Client, bookId?: string): Promise<PriceBook> => {
  const answer = await who.get("/price-book", bookId ? { bookId } : undefined);
  if (answer.status !== 200) throw new Error(`No price book: ${answer.text}`);
  return answer.body as PriceBook;
};

function named<T extends { code: string }>(rows: readonly T[], code: string): T {
  const row = rows.find((r) => r.code === code);
  if (!row) throw new Error(`The price book has no ${code}.`);
  return row;
}
export const assemblyOf = (book: PriceBook, code: string): Assembly => named(book.assemblies, code);
export const materialOf = (book: PriceBook, code: string): Material => named(book.materials, code);
export const rateOf = (book: PriceBook, code: string): LaborRate => named(book.laborRates, code);

const cents = (value: Decimal): Decimal => value.toDecimalPlaces(0, Decimal.ROUND_HALF_UP);
const share = (bp: number) => new Decimal(bp).div(10_000);

/**
 * The price of one unit worked out a second way, with a decimal library and from the rule in words: each material with
 * waste at its cheapest pack, tax on material, burdened hours of each labor rate with what sets them up, disposal and
 * equipment, overhead on all of these, and a margin that is a share of the price. Each amount is rounded half-up.
 */
export function unitPriceByHand(book: PriceBook, { recipe }: Assembly): number {
  const material = recipe.materials
    .map(({ code, perUnit, wasteBp }) => {
      const packs = materialOf(book, code).packs.map((p) => new Decimal(p.price.cents).div(p.size));
      return cents(
        Decimal.min(...packs)
          .times(perUnit)
          .times(share(wasteBp).plus(1)),
      );
    })
    .reduce((a, b) => a.plus(b), new Decimal(0));
  const labor = recipe.labor
    .map(({ code, hoursPerUnit, setupHours }) => {
      const { hourly, burdenBp } = rateOf(book, code);
      return cents(
        new Decimal(hoursPerUnit).plus(setupHours).times(hourly.cents).times(share(burdenBp).plus(1)),
      );
    })
    .reduce((a, b) => a.plus(b), new Decimal(0));
  const direct = material
    .plus(cents(material.times(share(book.materialTaxBp))))
    .plus(labor)
    .plus(cents(new Decimal(recipe.disposalUnitCents)))
    .plus(cents(new Decimal(recipe.equipmentUnitCents)));
  const cost = direct.plus(cents(direct.times(share(book.overheadBp))));
  return cents(cost.div(new Decimal(1).minus(share(book.marginBp)))).toNumber();
}

/** Work that mends a gate, of materials the starting price book has. */
export const GATE_WORK = {
  code: "GATE-MEND",
  component: "gate",
  action: "repair",
  description: "Rehang a gate",
  unit: "each",
  recipe: {
    materials: [
      { code: "PT-2X4", inSalt: null, perUnit: "6.5", wasteBp: 1000 },
      { code: "SCREW-DECK", inSalt: "SCREW-DECK-SS", perUnit: "16", wasteBp: 0 },
    ],
    labor: [{ code: "carpenter", hoursPerUnit: "0.75", setupHours: "0.25" }],
    disposalUnitCents: "120.5",
    equipmentUnitCents: "0",
    laborCvBp: 3000,
  },
  note: "Our own figures.",
};
export const POST_SLEEVE = {
  code: "SLEEVE-44",
  name: "Post sleeve",
  unit: "each",
  section: null,
  packs: [
    { size: "1", price: usd(3150) },
    { size: "6", price: usd(17_400) },
  ],
  wholePacks: true,
};
