import { formatMoney } from "@ledgerboard/contracts/money";
import { type ComparableLine, type LinePrice, priceRevision } from "@ledgerboard/estimating";
import { nameOf } from "../features/estimates/drafts.ts";
import { visit } from "./acts.ts";
import { idAt } from "./random.ts";
import { born, layOutZones, moment, type Story, tell, zoneOf } from "./story.ts";
import type { Line } from "./work.ts";
import type { Book, BookItem, Member } from "./world.ts";

export interface PlannedLine extends ComparableLine {
  description: string;
  position: number;
  reviewed: boolean;
}

/** A revision as the story remembers it. */
export interface Revised {
  id: string;
  number: number;
  kind: "first_pass" | "site_review";
  basedOnId: string | null;
  book: Book;
  issued: boolean;
  lines: (PlannedLine & { price: LinePrice })[];
  totals: LinePrice;
}

function bookOn(story: Story, day: string): Book {
  const book = story.world.books.findLast((b) => b.effectiveFrom <= day);
  if (!book) throw new Error(`No price book is in effect on ${day}.`);
  return book;
}

export function itemOf(book: Book, code: string): BookItem {
  const item = book.items.get(code);
  if (!item) throw new Error(`The price book has no item ${code}; the demo needs another.`);
  return item;
}

/** Counted where pieces are counted, measured where feet are. */
export const seenAs = (unit: BookItem["unit"]) => (unit === "each" ? "counted" : "measured");

export type Draft = Omit<PlannedLine, "id">;

export function writeRevision(
  story: Story,
  day: string,
  by: Member,
  draft: Omit<Revised, "id" | "issued" | "lines" | "totals">,
  lines: Draft[],
  issue: boolean,
): Revised {
  const { rows, random } = story.world;
  const { ms, at } = moment(story, day);
  if (!story.estimateId) {
    story.estimateId = idAt(ms, random);
    rows.add("estimates", { id: story.estimateId, job_id: story.id, ...born(at) });
  }
  const { book, number, kind, basedOnId } = draft;
  const priced = priceRevision({ lines: lines.map((line) => ({ ...line, id: idAt(ms, random) })) }, book);
  const { totals } = priced;
  const revision: Revised = { ...draft, id: idAt(ms, random), issued: issue, lines: priced.lines, totals };
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
    author_id: by.id,
    note: "",
    hours: totals.hours,
    material_cents: totals.materialCents,
    labor_cents: totals.laborCents,
    cost_cents: totals.costCents,
    price_cents: totals.priceCents,
    ...born(at),
  });
  for (const line of priced.lines) {
    rows.add("scope_lines", {
      id: line.id,
      revision_id: revision.id,
      lineage_id: line.lineageId,
      position: line.position,
      zone_id: line.zoneId,
      component: line.component,
      action: line.action,
      item_code: line.itemCode,
      description: line.description,
      quantity: line.quantity,
      unit: line.unit,
      evidence: line.evidence,
      by: line.by,
      reason_code: line.reasonCode,
      reason: line.reason,
      reviewed_at: line.reviewed ? at : null,
      rates: line.rates,
      price_cents: line.price.priceCents,
      hours: line.price.hours,
      ...born(at),
    });
  }
  story.revisions.push(revision);
  const entity = { entity: "revision", id: revision.id };
  tell(story, by, at, { ...entity, action: "revision.started", words: `${nameOf(revision)} started.` });
  return revision;
}

/** Sales looks at the place and writes the first pass, and issues it unless it is left a draft. */
export function firstPass(
  story: Story,
  day: string,
  scope: readonly Line[],
  options: { draft?: boolean; by?: Member } = {},
): void {
  const { random } = story.world;
  const by = options.by ?? story.seller;
  visit(story, day, { kind: "first_look", by, on: day, minutes: 9 * 60 + 30, lasts: 45, state: "done" });
  layOutZones(story, moment(story, day, 9 * 60 + 50).at, by, "assumed");
  const book = bookOn(story, day);
  const lines = scope.map(({ zone, item: code, quantity }, index): Draft => {
    const { component, action, unit, rates } = itemOf(book, code);
    const { id: zoneId, name: zoneName } = zoneOf(story, zone);
    return {
      lineageId: idAt(story.lastMs, random),
      zoneId,
      zoneName,
      component,
      action,
      itemCode: code,
      unit,
      rates,
      quantity: String(quantity),
      evidence: "assumed",
      by: "us",
      reasonCode: null,
      reason: null,
      description: "",
      position: index + 1,
      reviewed: false,
    };
  });
  const issue = !options.draft;
  const revision = writeRevision(
    story,
    day,
    by,
    { number: 1, kind: "first_pass", basedOnId: null, book },
    lines,
    issue,
  );
  if (!issue) return;
  const { at } = moment(story, day);
  story.world.rows.issue({ id: revision.id, issued_at: at, issued_by_id: by.id });
  const said = `${nameOf(revision)} issued at ${formatMoney(revision.totals.priceCents)}.`;
  tell(story, by, at, { action: "revision.issued", entity: "revision", id: revision.id, words: said });
}
