import type { estimates, Output } from "@ledgerboard/contracts";
import { Decimal } from "decimal.js";
import type { Client, Harness, TestCompany } from "../support/harness.ts";
import { type SMALL_TERMS, smallBook } from "../support/small-book.ts";

export type Line = Output<typeof estimates.addLine>;
export type Revision = Output<typeof estimates.getRevision>;

export const BOOK_FROM = "2026-01-05";

/** A company with the tests' small price book, at other terms where they are given. */
export async function companyWithBook(
  h: Harness,
  terms: Partial<typeof SMALL_TERMS> = {},
): Promise<TestCompany> {
  const c = await h.company();
  await h.database.withCompany(c.companyId, {}, (db) => smallBook(db, BOOK_FROM, terms));
  return c;
}

/** A job at a property with two zones, as an inquiry leaves it. */
export async function jobWithZones(
  h: Harness,
  c: TestCompany,
): Promise<{ jobId: string; deckId: string; stairId: string }> {
  const one = async (sql: string, values: unknown[]): Promise<string> => {
    const { rows } = await h.admin.query(`${sql} RETURNING id`, [c.companyId, ...values]);
    return rows[0].id as string;
  };
  const customerId = await one("INSERT INTO customers (company_id, name) VALUES ($1, $2)", ["Ines Calloway"]);
  const propertyId = await one(
    `INSERT INTO properties (company_id, customer_id, street, city, state, postal_code)
     VALUES ($1, $2, '12 Creek Lane', 'Oldfield', 'MD', '21401')`,
    [customerId],
  );
  const jobId = await one(
    `INSERT INTO jobs (company_id, number, title, customer_id, property_id, inquiry_on, salesperson_id)
     VALUES ($1, 'TC-26-' || lpad((SELECT count(*) + 1 FROM jobs WHERE company_id = $1)::text, 4, '0'), 'Lower deck',
             $2, $3, '2026-11-02', $4)`,
    [customerId, propertyId, c.sales.memberId],
  );
  const zone = "INSERT INTO zones (company_id, job_id, name, kind) VALUES ($1, $2, $3, $4)";
  return {
    jobId,
    deckId: await one(zone, [jobId, "Lower deck", "deck"]),
    stairId: await one(zone, [jobId, "Main stair", "stair"]),
  };
}

export async function start(who: Client, jobId: string, kind: "first_pass" | "site_review"): Promise<string> {
  const answer = await who.post(`/jobs/${jobId}/revisions`, { kind });
  if (answer.status !== 201) throw new Error(`${kind} was refused: ${JSON.stringify(answer.body)}`);
  return answer.body.id as string;
}

export const readRevision = async (who: Client, id: string): Promise<Revision> =>
  (await who.get(`/revisions/${id}`)).body as Revision;

/** Work of the small price book, by assembly code; the rest of the line follows from the assembly. */
export const WORK = {
  "DECK-REPLACE": { component: "decking", action: "replace", unit: "sqft" },
  "DECK-REPAIR": { component: "decking", action: "repair", unit: "lf" },
  "JOIST-SISTER": { component: "joist", action: "sister", unit: "each" },
  "JOIST-REPLACE": { component: "joist", action: "replace", unit: "each" },
  "RIM-REPAIR": { component: "rim_joist", action: "repair", unit: "lf" },
  "POST-REPAIR": { component: "post", action: "repair", unit: "each" },
  "STRINGER-REPLACE": { component: "stringer", action: "replace", unit: "each" },
  "TREAD-REPLACE": { component: "tread", action: "replace", unit: "each" },
  "HANGER-REPLACE": { component: "joist_hanger", action: "replace", unit: "each" },
} as const;

export const work = (code: keyof typeof WORK, zoneId: string, quantity: string) => ({
  ...WORK[code],
  assemblyCode: code,
  zoneId,
  quantity,
});

export async function add(who: Client, revisionId: string, body: object): Promise<Line> {
  const answer = await who.post(`/revisions/${revisionId}/lines`, body);
  if (answer.status !== 201) throw new Error(`The line was refused: ${JSON.stringify(answer.body)}`);
  return answer.body as Line;
}

export async function issue(who: Client, revisionId: string) {
  const answer = await who.post(`/revisions/${revisionId}/issue`);
  if (answer.status !== 200) throw new Error(`Issuing was refused: ${JSON.stringify(answer.body)}`);
  return answer.body as Output<typeof estimates.issueRevision>;
}

const cents = (value: Decimal): Decimal => value.toDecimalPlaces(0, Decimal.ROUND_HALF_UP);
const fourPlaces = (value: Decimal): Decimal => value.toDecimalPlaces(4, Decimal.ROUND_HALF_UP);
const share = (bp: number): Decimal => new Decimal(bp).div(10_000);
const total = (values: readonly Decimal[]): Decimal => values.reduce((a, b) => a.plus(b), new Decimal(0));

/** The quantity that is priced: the expected one of an allowance inside the price. */
function quantityByHand({ quantity, allowance }: Line): Decimal {
  if (allowance?.charge !== "included") return new Decimal(quantity);
  const { lowQuantity, highQuantity, chanceBp } = allowance;
  const mean = new Decimal(lowQuantity).plus(quantity).plus(highQuantity).div(3);
  return fourPlaces(mean.times(share(chanceBp)));
}

/**
 * The price of a line worked out a second way, with a decimal library and from the rule in words: each material with
 * waste at its cheapest pack, tax on it, burdened labor with its time to set up, disposal, equipment, overhead on all
 * of these, and a margin that is a share of the price. Each amount is rounded half-up to the cent as it arises.
 */
export function priceByHand(line: Line, terms: Revision["terms"]): number {
  const { rates } = line;
  if (!rates || line.by !== "us" || line.allowance?.charge === "if_found") return 0;
  const quantity = quantityByHand(line);
  const material = total(
    rates.materials.map(({ perUnit, wasteBp, packs }) => {
      const each = Decimal.min(...packs.map((pack) => new Decimal(pack.cents).div(pack.size)));
      return cents(quantity.times(perUnit).times(share(wasteBp).plus(1)).times(each));
    }),
  );
  const tax = cents(material.times(share(terms.materialTaxBp)));
  const labor = total(
    rates.labor.map(({ hoursPerUnit, setupHours, hourlyCents, burdenBp }) => {
      const hours = fourPlaces(quantity.times(hoursPerUnit).plus(quantity.isZero() ? 0 : setupHours));
      return cents(hours.times(hourlyCents).times(share(burdenBp).plus(1)));
    }),
  );
  const perUnit = [rates.disposalUnitCents, rates.equipmentUnitCents].map((c) => cents(quantity.times(c)));
  const direct = total([material, tax, labor, ...perUnit]);
  return atMargin(direct.plus(cents(direct.times(share(terms.overheadBp)))), terms);
}

/** A cost with the margin on it, by hand: the margin is a share of the price. */
const atMargin = (cost: Decimal.Value, terms: Pick<Revision["terms"], "marginBp">): number =>
  cents(new Decimal(cost).div(new Decimal(1).minus(share(terms.marginBp)))).toNumber();
