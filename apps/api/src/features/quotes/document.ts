import { createHash } from "node:crypto";
import {
  type Action,
  type Component,
  type Doer,
  type quotes,
  type Unit,
  words,
} from "@ledgerboard/contracts";
import { addDays } from "@ledgerboard/contracts/dates";
import { workCautions } from "@ledgerboard/rules";
import { usd } from "../money.ts";

type QuoteDocument = quotes.Quote["document"];

/** A scope line as it is offered. `quantity` is decimal text of its unit, `priceCents` whole cents. */
export interface OfferedLine {
  zone: string;
  component: Component;
  action: Action;
  description: string;
  quantity: string;
  unit: Unit;
  concealed: boolean;
  by: Doer;
  priceCents: number;
  /** Name of the optional extra it belongs to. */
  alternate: string | null;
  /** Charged only if found, at this unit price and up to this much. */
  agreed: { unitPriceCents: number; capQuantity: string; capCents: number } | null;
}

/** A cost of the whole job as it is printed. */
export interface OfferedCharge {
  words: string;
  priceCents: number;
}

/** An existing condition short of today's code, with what the customer decided. */
export interface OfferedAdvisory {
  words: string;
  reference: string;
  decision: string;
}

/** The newest issued revision of a job with everything that is printed around it. */
export interface Offer {
  company: QuoteDocument["company"];
  quoteValidDays: number;
  customerName: string;
  property: string;
  yearBuilt: number | null;
  saltExposure: boolean;
  jobNumber: string;
  title: string;
  revisionId: string;
  priceCents: number;
  lines: OfferedLine[];
  wholeJob: OfferedCharge[];
  alternates: { name: string; priceCents: number }[];
  advisories: OfferedAdvisory[];
}

const BY: Record<Doer, string> = { us: "by us", owner: "by owner", others: "by others" };
const ONE: Partial<Record<Unit, string>> = { each: "piece", hour: "hour", lot: "lot" };

function sayQuantity(quantity: string, unit: Unit): string {
  const one = ONE[unit];
  if (!one) return `${quantity} ${words(unit)}`;
  return `${quantity} ${quantity === "1" ? one : `${one}s`}`;
}

/** A scope line in plain words: "replace decking, 214 sq ft". */
export function sayLine(
  line: Omit<OfferedLine, "zone" | "by" | "priceCents" | "alternate" | "agreed">,
): string {
  // A finish is finished: the word once is enough.
  const work =
    line.action === line.component ? words(line.action) : `${words(line.action)} ${words(line.component)}`;
  const what = `${work}, ${sayQuantity(line.quantity, line.unit)}`;
  const item = line.description === "" ? "" : ` (${line.description})`;
  return `${what}${item}${line.concealed ? ", not visible until opened" : ""}`;
}

/** Work charged only if found, and which optional extra it goes with: without that extra nobody looks for it. */
function sayFound({ action, component, description, alternate }: OfferedLine): string {
  const item = description === "" ? "" : ` (${description})`;
  const extra = alternate === null ? "" : `, with the optional extra "${alternate}"`;
  return `${words(action)} ${words(component)}${item}${extra}`;
}

/** What is offered on a day, valid to the end of `validDays` days later. Days are local to the company. */
export function quoteDocument(offer: Offer, issuedOn: string, validDays: number): QuoteDocument {
  const touched = offer.lines.filter((line) => line.action !== "keep").map((line) => line.component);
  const cautions = workCautions({
    yearBuilt: offer.yearBuilt,
    components: [...new Set(touched)],
    salt: offer.saltExposure,
  });
  return {
    company: offer.company,
    customerName: offer.customerName,
    property: offer.property,
    jobNumber: offer.jobNumber,
    title: offer.title,
    lines: offer.lines
      .filter((line) => line.by !== "us" || (line.alternate === null && line.agreed === null))
      .map((line) => ({
        zone: line.zone,
        words: sayLine(line),
        by: BY[line.by],
        price: usd(line.priceCents),
      })),
    wholeJob: offer.wholeJob.map(({ words: what, priceCents }) => ({ words: what, price: usd(priceCents) })),
    alternates: offer.alternates.map(({ name, priceCents }) => ({
      name,
      lines: offer.lines
        .filter((line) => line.by === "us" && line.agreed === null && line.alternate === name)
        .map((line) => `${line.zone}: ${sayLine(line)}`),
      price: usd(priceCents),
    })),
    ifFound: offer.lines.flatMap((line) =>
      line.agreed
        ? [
            {
              zone: line.zone,
              words: sayFound(line),
              unitPrice: usd(line.agreed.unitPriceCents),
              perUnit: ONE[line.unit] ?? words(line.unit),
              capQuantity: sayQuantity(line.agreed.capQuantity, line.unit),
              cap: usd(line.agreed.capCents),
            },
          ]
        : [],
    ),
    advisories: offer.advisories,
    price: usd(offer.priceCents),
    issuedOn,
    expiresOn: addDays(issuedOn, validDays),
    cautions: cautions.map((c) => `${c.words} Source: ${c.source}. ${c.defer}`),
  };
}

/** JSON text with the keys of every object in one order, so that equal documents are equal texts (as RFC 8785 orders them). */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_key, part: unknown) =>
    part !== null && typeof part === "object" && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)))
      : part,
  );
}

/** SHA-256 of a text in UTF-8, in lower-case hexadecimal. */
export const sha256 = (text: string): string => createHash("sha256").update(text, "utf8").digest("hex");
