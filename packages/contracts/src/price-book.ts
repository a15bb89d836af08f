import { z } from "zod";
import { basisPoints, day, decimal, id, line, money, moneyIn, version } from "./common.ts";
import { endpoint } from "./endpoint.ts";
import { ACTIONS, COMPONENTS, UNITS } from "./vocabulary.ts";

export const priceBookItem = z.object({
  id,
  code: z.string(),
  component: z.enum(COMPONENTS),
  action: z.enum(ACTIONS),
  description: z.string(),
  unit: z.enum(UNITS),
  materialUnitCents: z.string(),
  wasteBp: z.int(),
  hoursPerUnit: z.string(),
  laborRateCode: z.string(),
  /** Price of one unit at the book's terms. */
  unitPrice: money,
  retired: z.boolean(),
  version,
});
export type PriceBookItem = z.infer<typeof priceBookItem>;
export const laborRate = z.object({
  id,
  code: z.string(),
  name: z.string(),
  hourly: money,
  burdenBp: z.int(),
  version,
});
export type LaborRate = z.infer<typeof laborRate>;
export const priceBook = z.object({
  id,
  name: z.string(),
  effectiveFrom: day,
  overheadBp: z.int(),
  marginBp: z.int(),
  materialTaxBp: z.int(),
  laborRates: z.array(laborRate),
  items: z.array(priceBookItem),
  version,
});
export type PriceBook = z.infer<typeof priceBook>;

const itemBody = {
  code: z
    .string()
    .trim()
    .regex(/^[A-Z0-9-]{2,40}$/, "Capitals, digits and hyphens, like DECK-BOARD."),
  component: z.enum(COMPONENTS),
  action: z.enum(ACTIONS),
  description: line(160),
  unit: z.enum(UNITS),
  materialUnitCents: decimal.refine((v) => Number(v) <= 5_000_000, "At most $50,000 a unit."),
  wasteBp: basisPoints(10_000),
  hoursPerUnit: decimal.refine((v) => Number(v) <= 1000, "At most 1,000 hours a unit."),
  laborRateCode: line(40),
};
const rateBody = {
  name: line(80),
  hourly: moneyIn.refine((v) => v.cents > 0 && v.cents <= 100_000, {
    path: ["cents"],
    message: "More than $0 and at most $1,000 an hour.",
  }),
  burdenBp: basisPoints(20_000),
};
const itemId = z.strictObject({ itemId: id });

export const getPriceBook = endpoint({
  id: "getPriceBook",
  method: "GET",
  path: "/price-book",
  tag: "price book",
  summary: "The price book in effect today: items, labor rates, overhead and margin.",
  access: "price_book.read",
  response: priceBook,
  status: 200,
  etag: true,
});
export const updatePriceBook = endpoint({
  id: "updatePriceBook",
  method: "PATCH",
  path: "/price-book",
  tag: "price book",
  summary:
    "Change overhead, margin or material tax. Revisions already started keep the terms they were started with.",
  access: "price_book.edit",
  ifMatch: true,
  etag: true,
  body: z.strictObject({
    name: line(80).optional(),
    overheadBp: basisPoints(20_000).optional(),
    marginBp: basisPoints(9000).optional(),
    materialTaxBp: basisPoints(3000).optional(),
  }),
  response: priceBook,
  status: 200,
});
export const addPriceBookItem = endpoint({
  id: "addPriceBookItem",
  method: "POST",
  path: "/price-book/items",
  tag: "price book",
  summary: "Add an item.",
  access: "price_book.edit",
  idempotent: true,
  body: z.strictObject(itemBody),
  response: priceBookItem,
  status: 201,
});
export const updatePriceBookItem = endpoint({
  id: "updatePriceBookItem",
  method: "PATCH",
  path: "/price-book/items/:itemId",
  tag: "price book",
  summary: "Change an item, retire it or bring it back. Lines already written keep their rates.",
  access: "price_book.edit",
  ifMatch: true,
  params: itemId,
  body: z.strictObject(itemBody).omit({ code: true }).partial().extend({ retired: z.boolean().optional() }),
  response: priceBookItem,
  status: 200,
});
export const addLaborRate = endpoint({
  id: "addLaborRate",
  method: "POST",
  path: "/price-book/labor-rates",
  tag: "price book",
  summary: "Add a labor rate.",
  access: "price_book.edit",
  idempotent: true,
  body: z.strictObject({
    code: z
      .string()
      .trim()
      .regex(/^[a-z0-9-]{2,40}$/, "Small letters, digits and hyphens."),
    ...rateBody,
  }),
  response: laborRate,
  status: 201,
});
export const updateLaborRate = endpoint({
  id: "updateLaborRate",
  method: "PATCH",
  path: "/price-book/labor-rates/:rateId",
  tag: "price book",
  summary: "Change a labor rate. Lines already written keep theirs.",
  access: "price_book.edit",
  ifMatch: true,
  params: z.strictObject({ rateId: id }),
  body: z.strictObject(rateBody).partial(),
  response: laborRate,
  status: 200,
});
