import { z } from "zod";

/** Control characters, and marks that turn text around so that it reads other than it is stored. */
const CONTROL = /[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/u;
const CONTROL_BUT_LINES = /(?![\n\r\t])[\p{Cc}\u202a-\u202e\u2066-\u2069]/u;
const LONE_SURROGATE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/;

const printable = (value: string, pattern: RegExp) => !pattern.test(value) && !LONE_SURROGATE.test(value);

/** One line of text a person typed: trimmed, no control characters, 1 to `max` characters. */
export const line = (max = 120) =>
  z
    .string()
    .trim()
    .min(1, "Enter something here.")
    .max(max, `At most ${max} characters.`)
    .refine((v) => printable(v, CONTROL), "Contains characters that cannot be printed; type it again.");

/** Several lines of text, possibly empty, up to `max` characters. */
export const note = (max = 2000) =>
  z
    .string()
    .trim()
    .max(max, `At most ${max} characters.`)
    .refine(
      (v) => printable(v, CONTROL_BUT_LINES),
      "Contains characters that cannot be printed; type it again.",
    );

/** What a text file holds, as it was saved: not trimmed, since its lines are counted. */
export const fileText = (max: number) =>
  z
    .string()
    .min(1, "The file is empty.")
    .max(max, `At most ${max} characters; split the file.`)
    .refine(
      (v) => printable(v, CONTROL_BUT_LINES),
      "Contains characters that cannot be printed; save the file as UTF-8 text.",
    );

/** A reason somebody must give: several words, not blank. */
export const because = (max = 500) => note(max).refine((v) => v.length >= 3, "Say why in a few words.");

export const id = z.uuid("Not an id of this service.");
export const email = z
  .string()
  .trim()
  .max(254, "At most 254 characters.")
  .pipe(z.email("Not a mail address; it looks like name@place.example."));
export const phone = line(40).refine(
  (v) => (v.match(/\d/g)?.length ?? 0) >= 7,
  "A phone number needs at least seven digits.",
);
export const password = z.string().min(12, "At least 12 characters.").max(200, "At most 200 characters.");

const plausibleYear = (v: string) => v >= "1990-01-01" && v <= "2099-12-31";
/** A local calendar day, ISO 8601, 1990 to 2099. */
export const day = z.iso
  .date("A day is written like 2026-11-30.")
  .refine(plausibleYear, "A year between 1990 and 2099.");
/** An instant, ISO 8601 with offset or Z. */
export const instant = z.iso.datetime({
  offset: true,
  error: "An instant is written like 2026-11-30T09:00:00Z.",
});

/** Exact decimal as text: at most 7 digits before the point and 4 after. */
export const decimal = z
  .string()
  .regex(/^\d{1,7}(\.\d{1,4})?$/, "A number like 12 or 12.5, not negative, at most 4 decimals.");
/** A quantity of work: more than zero, at most 100,000 of its unit, which is past any house. */
export const quantity = decimal.refine((v) => {
  const n = Number(v);
  return n > 0 && n <= 100_000;
}, "More than 0 and at most 100,000.");
/** Labor hours: 0 to 10,000. */
export const hours = decimal.refine((v) => Number(v) <= 10_000, "At most 10,000 hours.");
/** 1 basis point = 0.01 %. */
export const basisPoints = (max = 10_000) =>
  z
    .int("A whole number of basis points.")
    .min(0, "Not below 0.")
    .max(max, `At most ${max / 100} %.`);

export const currency = z.literal("USD");
export const money = z.object({ cents: z.int(), currency });
export type Money = z.infer<typeof money>;
/** Money coming in: whole cents, 0 to ten million dollars. */
export const moneyIn = z.strictObject({
  cents: z.int("Whole cents.").min(0, "Not below zero.").max(1_000_000_000, "At most $10,000,000."),
  currency,
});

export const stateCode = z.string().regex(/^[A-Z]{2}$/, "Two letters, like MD.");
/** Latitude or longitude in decimal degrees. */
export const latitude = z.number().min(-90).max(90);
export const longitude = z.number().min(-180).max(180);

/** Query values arrive as text. */
export const queryInt = (min: number, max: number) =>
  z
    .string()
    .regex(/^\d{1,6}$/, "A whole number.")
    .transform(Number)
    .pipe(z.int().min(min, `At least ${min}.`).max(max, `At most ${max}.`));

export const cursor = z
  .string()
  .max(400, "Not a cursor of this service.")
  .regex(/^[A-Za-z0-9_-]+$/, "Not a cursor of this service.");

/** A page of a keyset-paginated list; `next` is null on the last page. */
export const page = <T extends z.ZodType>(item: T) =>
  z.object({ items: z.array(item), next: z.string().nullable() });

export const version = z.int().min(1);
export const none = z.strictObject({});
/** What acts answer when there is nothing to show but that it is done. */
export const done = z.object({ done: z.literal(true) });
export const created = z.object({ id });
