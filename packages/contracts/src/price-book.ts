import { z } from "zod";
import {
  basisPoints,
  created,
  day,
  decimal,
  done,
  fileText,
  id,
  instant,
  line,
  money,
  moneyIn,
  note,
  version,
} from "./common.ts";
import { endpoint } from "./endpoint.ts";
import { ACTIONS, COMPONENTS, MATERIAL_UNITS, UNITS } from "./vocabulary.ts";

/** How much of the material's unit is in a pack, and what the pack costs. */
export const pack = z.object({ size: z.string(), price: money });
export const material = z.object({
  id,
  code: z.string(),
  name: z.string(),
  unit: z.enum(MATERIAL_UNITS),
  /** Cross section of what is cut to length, such as "2x8"; its packs are then boards by their length in ft. */
  section: z.string().nullable(),
  packs: z.array(pack),
  wholePacks: z.boolean(),
  retired: z.boolean(),
  version,
});
export type Material = z.infer<typeof material>;

export const laborRate = z.object({
  id,
  code: z.string(),
  name: z.string(),
  hourly: money,
  burdenBp: z.int(),
  version,
});
export type LaborRate = z.infer<typeof laborRate>;

/** What one unit of an assembly takes, by the codes of the price book. */
export const recipe = z.object({
  materials: z.array(
    z.object({
      code: z.string(),
      /** What takes its place near salt water or road salt. */
      inSalt: z.string().nullable(),
      perUnit: z.string(),
      wasteBp: z.int(),
    }),
  ),
  labor: z.array(z.object({ code: z.string(), hoursPerUnit: z.string(), setupHours: z.string() })),
  disposalUnitCents: z.string(),
  equipmentUnitCents: z.string(),
  laborCvBp: z.int(),
});
export type Recipe = z.infer<typeof recipe>;
export const assembly = z.object({
  id,
  code: z.string(),
  component: z.enum(COMPONENTS),
  action: z.enum(ACTIONS),
  description: z.string(),
  unit: z.enum(UNITS),
  recipe,
  /** What the company should know of its figures: "placeholder; replace with your own". */
  note: z.string(),
  /** Price of one unit at the book's terms, away from salt. */
  unitPrice: money,
  retired: z.boolean(),
  version,
});
export type Assembly = z.infer<typeof assembly>;

export const bookTerms = {
  overheadBp: z.int(),
  marginBp: z.int(),
  materialTaxBp: z.int(),
  minimumCharge: money,
  roundUpTo: money,
  laborCorrelationBp: z.int(),
};
export const priceBook = z.object({
  id,
  name: z.string(),
  effectiveFrom: day,
  /** Past books stay as they are; the one in effect and those to come may be changed. */
  standing: z.enum(["past", "in_effect", "to_come"]),
  ...bookTerms,
  laborRates: z.array(laborRate),
  materials: z.array(material),
  assemblies: z.array(assembly),
  version,
});
export type PriceBook = z.infer<typeof priceBook>;

const code = z
  .string()
  .trim()
  .regex(/^[A-Z0-9-]{2,40}$/, "Capitals, digits and hyphens, like DECK-BOARD.");
const positive = decimal.refine((v) => Number(v) > 0, "More than 0.");
const packIn = z.strictObject({ size: positive, price: moneyIn });
const unitCost = decimal.refine((v) => Number(v) <= 5_000_000, "At most $50,000 a unit.");
const hoursOf = decimal.refine((v) => Number(v) <= 1000, "At most 1,000 hours.");
const materialBody = {
  name: line(120),
  unit: z.enum(MATERIAL_UNITS),
  section: line(40).nullable(),
  packs: z
    .array(packIn)
    .max(20, "At most 20 packs.")
    .refine(
      (packs) => new Set(packs.map((p) => Number(p.size))).size === packs.length,
      "Two packs hold the same.",
    ),
  wholePacks: z.boolean(),
};
const recipeIn = z.strictObject({
  materials: z
    .array(z.strictObject({ code, inSalt: code.nullable(), perUnit: positive, wasteBp: basisPoints(10_000) }))
    .max(30, "At most 30 materials."),
  labor: z
    .array(z.strictObject({ code: line(40), hoursPerUnit: hoursOf, setupHours: hoursOf }))
    .max(10, "At most 10 labor rates."),
  disposalUnitCents: unitCost,
  equipmentUnitCents: unitCost,
  laborCvBp: basisPoints(20_000),
});
const assemblyBody = {
  component: z.enum(COMPONENTS),
  action: z.enum(ACTIONS),
  description: line(160),
  unit: z.enum(UNITS),
  recipe: recipeIn,
  note: note(500),
};
const rateBody = {
  name: line(80),
  hourly: moneyIn.refine((v) => v.cents > 0 && v.cents <= 100_000, {
    path: ["cents"],
    message: "More than $0 and at most $1,000 an hour.",
  }),
  burdenBp: basisPoints(20_000),
};
const bookId = z.strictObject({ bookId: id });
const smallCode = z
  .string()
  .trim()
  .regex(/^[a-z0-9-]{2,40}$/, "Small letters, digits and hyphens.");

export const getPriceBook = endpoint({
  id: "getPriceBook",
  method: "GET",
  path: "/price-book",
  tag: "price book",
  summary:
    "The price book in effect today, or the one asked for: materials, labor rates, assemblies and terms.",
  access: "price_book.read",
  query: z.strictObject({ bookId: id.optional() }),
  response: priceBook,
  status: 200,
  etag: true,
});
export const listPriceBooks = endpoint({
  id: "listPriceBooks",
  method: "GET",
  path: "/price-books",
  tag: "price book",
  summary: "Every price book by the day it takes effect, newest first.",
  access: "price_book.read",
  response: z.object({
    books: z.array(
      z.object({
        id,
        name: z.string(),
        effectiveFrom: day,
        standing: z.enum(["past", "in_effect", "to_come"]),
        createdAt: instant,
      }),
    ),
  }),
  status: 200,
});
export const startPriceBook = endpoint({
  id: "startPriceBook",
  method: "POST",
  path: "/price-books",
  tag: "price book",
  summary: "Copy the newest price book into one that takes effect on a later day.",
  access: "price_book.edit",
  idempotent: true,
  body: z.strictObject({ name: line(80), effectiveFrom: day }),
  response: created,
  status: 201,
});
export const discardPriceBook = endpoint({
  id: "discardPriceBook",
  method: "DELETE",
  path: "/price-books/:bookId",
  tag: "price book",
  summary: "Throw away a price book that has not taken effect.",
  access: "price_book.edit",
  params: bookId,
  response: done,
  status: 200,
});
export const updatePriceBook = endpoint({
  id: "updatePriceBook",
  method: "PATCH",
  path: "/price-books/:bookId",
  tag: "price book",
  summary:
    "Change the terms of a price book. Revisions already started keep the terms they were started with.",
  access: "price_book.edit",
  ifMatch: true,
  etag: true,
  params: bookId,
  body: z.strictObject({
    name: line(80).optional(),
    overheadBp: basisPoints(20_000).optional(),
    marginBp: basisPoints(9000).optional(),
    materialTaxBp: basisPoints(3000).optional(),
    minimumCharge: moneyIn.optional(),
    roundUpTo: moneyIn.optional(),
    laborCorrelationBp: basisPoints(10_000).optional(),
  }),
  response: priceBook,
  status: 200,
});
export const addMaterial = endpoint({
  id: "addMaterial",
  method: "POST",
  path: "/price-books/:bookId/materials",
  tag: "price book",
  summary: "Add a material with the packs it is sold in.",
  access: "price_book.edit",
  idempotent: true,
  params: bookId,
  body: z.strictObject({ code, ...materialBody }),
  response: material,
  status: 201,
});
export const updateMaterial = endpoint({
  id: "updateMaterial",
  method: "PATCH",
  path: "/materials/:materialId",
  tag: "price book",
  summary:
    "Change a material or its prices, retire it or bring it back. Lines already written keep their rates.",
  access: "price_book.edit",
  ifMatch: true,
  params: z.strictObject({ materialId: id }),
  body: z.strictObject(materialBody).partial().extend({ retired: z.boolean().optional() }),
  response: material,
  status: 200,
});
export const addAssembly = endpoint({
  id: "addAssembly",
  method: "POST",
  path: "/price-books/:bookId/assemblies",
  tag: "price book",
  summary: "Add an assembly: what one unit of work takes.",
  access: "price_book.edit",
  idempotent: true,
  params: bookId,
  body: z.strictObject({ code, ...assemblyBody }),
  response: assembly,
  status: 201,
});
export const updateAssembly = endpoint({
  id: "updateAssembly",
  method: "PATCH",
  path: "/assemblies/:assemblyId",
  tag: "price book",
  summary: "Change an assembly, retire it or bring it back. Lines already written keep their rates.",
  access: "price_book.edit",
  ifMatch: true,
  params: z.strictObject({ assemblyId: id }),
  body: z.strictObject(assemblyBody).partial().extend({ retired: z.boolean().optional() }),
  response: assembly,
  status: 200,
});
export const addLaborRate = endpoint({
  id: "addLaborRate",
  method: "POST",
  path: "/price-books/:bookId/labor-rates",
  tag: "price book",
  summary: "Add a labor rate.",
  access: "price_book.edit",
  idempotent: true,
  params: bookId,
  body: z.strictObject({ code: smallCode, ...rateBody }),
  response: laborRate,
  status: 201,
});
export const updateLaborRate = endpoint({
  id: "updateLaborRate",
  method: "PATCH",
  path: "/labor-rates/:rateId",
  tag: "price book",
  summary: "Change a labor rate. Lines already written keep theirs.",
  access: "price_book.edit",
  ifMatch: true,
  params: z.strictObject({ rateId: id }),
  body: z.strictObject(rateBody).partial(),
  response: laborRate,
  status: 200,
});

export const PRICE_LISTS = ["materials", "labor_rates", "assemblies"] as const;
export const exportPrices = endpoint({
  id: "exportPrices",
  method: "GET",
  path: "/price-books/:bookId/export",
  tag: "price book",
  summary: "Materials, labor rates or assemblies of a price book as CSV (RFC 4180).",
  access: "price_book.read",
  params: bookId,
  query: z.strictObject({ list: z.enum(PRICE_LISTS) }),
  response: z.object({ fileName: z.string(), csv: z.string() }),
  status: 200,
});
export const importPrices = endpoint({
  id: "importPrices",
  method: "POST",
  path: "/price-books/:bookId/import",
  tag: "price book",
  summary:
    "Read a CSV of the shape that the export writes. A dry run says what would change; with any fault nothing is changed.",
  access: "price_book.edit",
  idempotent: true,
  dryRuns: true,
  params: bookId,
  body: z.strictObject({
    list: z.enum(PRICE_LISTS),
    csv: fileText(200_000),
    dryRun: z.boolean(),
  }),
  response: z.object({
    applied: z.boolean(),
    rows: z.int(),
    added: z.int(),
    changed: z.int(),
    unchanged: z.int(),
    changes: z.array(
      z.object({
        code: z.string(),
        what: z.enum(["added", "changed"]),
        fields: z.array(z.object({ field: z.string(), before: z.string(), after: z.string() })),
      }),
    ),
    /** Line numbers of the file, the first being 1. */
    faults: z.array(z.object({ line: z.int(), column: z.string(), words: z.string() })),
  }),
  status: 200,
});
