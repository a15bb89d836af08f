import { starterPriceBook } from "@ledgerboard/api/features/price-book/starter";
import type { estimates, Output } from "@ledgerboard/contracts";
import { Decimal } from "decimal.js";
import type { Client, Harness, TestCompany } from "../support/harness.ts";

export type Line = Output<typeof estimates.addLine>;
export type Revision = Output<typeof estimates.getRevision>;

export const BOOK_FROM = "2026-01-05";

/** A company with the starting price book. */
export async function companyWithBook(h: Harness): Promise<TestCompany> {
  const c = await h.company();
  await h.database.withCompany(c.companyId, {}, (db) => starterPriceBook(db, BOOK_FROM));
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

/** Work of the starting price book, by item code; the rest of the line follows from the item. */
export const WORK = {
  "DECK-REPLACE": { component: "decking", action: "replace", unit: "sqft" },
  "DECK-REPAIR": { component: "decking", action: "repair", unit: "lf" },
  "JOIST-SISTER": { component: "joist", action: "sister", unit: "each" },
  "JOIST-REPLACE": { component: "joist", action: "replace", unit: "each" },
  "TREAD-REPLACE": { component: "tread", action: "replace", unit: "each" },
  "HANGER-REPLACE": { component: "joist_hanger", action: "replace", unit: "each" },
} as const;

export const work = (code: keyof typeof WORK, zoneId: string, quantity: string) => ({
  ...WORK[code],
  itemCode: code,
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

/**
 * The price of a line worked out a second way, with a decimal library and from the rule in words: material with waste,
 * tax on it, burdened labor, overhead on all of these, and a margin that is a share of the price. Each amount is
 * rounded half-up to the cent as it arises.
 */
export function priceByHand(line: Line, terms: Revision["terms"]): number {
  const { rates } = line;
  if (!rates || line.by !== "us") return 0;
  const share = (bp: number) => new Decimal(bp).div(10_000);
  const material = cents(
    new Decimal(line.quantity).times(share(rates.wasteBp).plus(1)).times(rates.materialUnitCents),
  );
  const tax = cents(material.times(share(terms.materialTaxBp)));
  const hours = new Decimal(line.quantity).times(rates.hoursPerUnit);
  const labor = cents(hours.times(rates.laborHourlyCents).times(share(rates.laborBurdenBp).plus(1)));
  const direct = material.plus(tax).plus(labor);
  const cost = direct.plus(cents(direct.times(share(terms.overheadBp))));
  return cents(cost.div(new Decimal(1).minus(share(terms.marginBp)))).toNumber();
}
