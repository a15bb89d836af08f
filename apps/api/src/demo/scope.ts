import { formatMoney } from "@ledgerboard/contracts/money";
import {
  type Allowance,
  type Charge,
  type ComparableLine,
  type PricedRevision,
  priceRevision,
} from "@ledgerboard/estimating";
import { nameOf } from "../features/estimates/drafts.ts";
import { visit } from "./acts.ts";
import { idAt } from "./random.ts";
import { born, layOutZones, moment, type Story, tell, zoneOf } from "./story.ts";
import type { Line } from "./work.ts";
import type { Book, BookAssembly, Member } from "./world.ts";

export interface PlannedLine extends ComparableLine {
  description: string;
  alternate: string | null;
  allowance: Allowance | null;
  position: number;
  reviewed: boolean;
}

/** A revision as the story remembers it. */
export interface Revised extends PricedRevision<PlannedLine, Charge> {
  id: string;
  number: number;
  kind: "first_pass" | "site_review";
  basedOnId: string | null;
  book: Book;
  issued: boolean;
}

function bookOn(story: Story, day: string): Book {
  const book = story.world.books.findLast((b) => b.effectiveFrom <= day);
  if (!book) throw new Error(`No price book is in effect on ${day}.`);
  return book;
}

/** An assembly of a book, with stainless hardware where the property of the story needs it. */
export function assemblyOf({ customer }: Story, book: Book, code: string): BookAssembly {
  const { ordinary, salt } = book.assemblies;
  const assembly = (customer.property.saltExposure ? salt : ordinary).get(code);
  if (!assembly) throw new Error(`The price book has no assembly ${code}; the demo needs another.`);
  return assembly;
}

/** Counted where pieces are counted, measured where feet are; work under an allowance stays unseen. */
export const seenAs = (unit: BookAssembly["unit"], allowance: Allowance | null = null) =>
  allowance ? "concealed" : unit === "each" || unit === "lot" ? "counted" : "measured";

export type Draft = Omit<PlannedLine, "id">;

interface Head {
  number: number;
  kind: Revised["kind"];
  basedOnId: string | null;
  book: Book;
  charges: readonly Charge[];
}

export function writeRevision(
  story: Story,
  day: string,
  by: Member,
  head: Head,
  lines: Draft[],
  issue: boolean,
): Revised {
  const { rows, random } = story.world;
  const { ms, at } = moment(story, day);
  if (!story.estimateId) {
    story.estimateId = idAt(ms, random);
    rows.add("estimates", { id: story.estimateId, job_id: story.id, ...born(at) });
  }
  const { book, number, kind, basedOnId, charges } = head;
  const planned = lines.map((line) => ({ ...line, id: idAt(ms, random) }));
  const priced = priceRevision({ lines: planned, charges }, book);
  const { totals } = priced;
  const revision = { id: idAt(ms, random), number, kind, basedOnId, book, issued: issue, ...priced };
  rows.add("revisions", {
    id: revision.id,
    estimate_id: story.estimateId,
    job_id: story.id,
    number,
    kind,
    based_on_id: basedOnId,
    price_book_id: book.id,
    overhead_bp: book.overheadBp,
    margin_bp: book.marginBp,
    material_tax_bp: book.materialTaxBp,
    minimum_charge_cents: book.minimumChargeCents,
    round_up_to_cents: book.roundUpToCents,
    labor_correlation_bp: book.laborCorrelationBp,
    charges,
    author_id: by.id,
    note: "",
    hours: totals.hours,
    material_cents: totals.materialCents,
    labor_cents: totals.laborCents,
    cost_cents: totals.costCents,
    price_cents: totals.priceCents,
    ...born(at),
  });
  for (const line of priced.lines)
    rows.add("scope_lines", { ...lineRow(line, at), revision_id: revision.id });
  story.revisions.push(revision);
  const entity = { entity: "revision", id: revision.id };
  tell(story, by, at, { ...entity, action: "revision.started", words: `${nameOf(revision)} started.` });
  return revision;
}

const lineRow = (line: Revised["lines"][number], at: string) => ({
  id: line.id,
  lineage_id: line.lineageId,
  position: line.position,
  zone_id: line.zoneId,
  component: line.component,
  action: line.action,
  assembly_code: line.assemblyCode,
  description: line.description,
  quantity: line.quantity,
  unit: line.unit,
  evidence: line.evidence,
  by: line.by,
  alternate: line.alternate,
  allowance: line.allowance,
  reason_code: line.reasonCode,
  reason: line.reason,
  reviewed_at: line.reviewed ? at : null,
  rates: line.rates,
  price_cents: line.price.priceCents,
  hours: line.price.hours,
  ...born(at),
});

function draftLine(story: Story, book: Book, line: Line, position: number): Draft {
  const { assembly: code, quantity, description = "", by = "us", alternate = null, allowance = null } = line;
  const { id: zoneId, name: zoneName } = zoneOf(story, line.zone);
  const of = code === null ? line.work : assemblyOf(story, book, code);
  if (!of) throw new Error(`${story.title}: a line without an assembly must say what work it is.`);
  return {
    lineageId: idAt(story.lastMs, story.world.random),
    zoneId,
    zoneName,
    component: of.component,
    action: of.action,
    assemblyCode: code,
    unit: of.unit,
    rates: code === null ? null : assemblyOf(story, book, code).rates,
    quantity: String(quantity),
    evidence: allowance ? "concealed" : "assumed",
    by,
    alternate,
    allowance,
    reasonCode: null,
    reason: null,
    description,
    position,
    reviewed: false,
  };
}

/** Sales looks at the place and writes the first pass, and issues it unless it is left a draft. */
export function firstPass(
  story: Story,
  day: string,
  { lines: scope, charges = [] }: { lines: readonly Line[]; charges?: readonly Charge[] },
  options: { draft?: boolean; by?: Member } = {},
): void {
  const by = options.by ?? story.seller;
  visit(story, day, { kind: "first_look", by, on: day, minutes: 9 * 60 + 30, lasts: 45, state: "done" });
  layOutZones(story, moment(story, day, 9 * 60 + 50).at, by);
  const book = bookOn(story, day);
  const lines = scope.map((line, index) => draftLine(story, book, line, index + 1));
  const issue = !options.draft;
  const head = { number: 1, kind: "first_pass", basedOnId: null, book, charges } as const;
  const revision = writeRevision(story, day, by, head, lines, issue);
  if (!issue) return;
  const { at } = moment(story, day);
  story.world.rows.issue({ id: revision.id, issued_at: at, issued_by_id: by.id });
  const said = `${nameOf(revision)} issued at ${formatMoney(revision.totals.priceCents)}.`;
  tell(story, by, at, { action: "revision.issued", entity: "revision", id: revision.id, words: said });
}
