import type { estimates as contract, Output } from "@ledgerboard/contracts";
import type { Revision } from "@ledgerboard/contracts/estimates";
import { formatMoney } from "@ledgerboard/contracts/money";
import type { TenantDb } from "@ledgerboard/database";
import { compareRevisions, type MaterialityPolicy, priceRevision, sameRates } from "@ledgerboard/estimating";
import { illegalMove } from "../../problem.ts";
import { refreshJob } from "../jobs/facts.ts";
import { usd } from "../money.ts";
import {
  type BookTerms,
  bookInEffect,
  listAssemblies,
  type ResolvedAssembly,
} from "../price-book/queries.ts";
import { type Hand, nameOf, reprice, takeDraft, withinReason } from "./drafts.ts";
import { type PricedRevision, type RevisionRow, readPriced, type StoredLine, type Terms } from "./queries.ts";
import { describe } from "./scope.ts";

type Answer = Output<typeof contract.refreshPrices>;

/** Nothing is judged here, only shown: whoever asks decides. */
const NO_POLICY: MaterialityPolicy = { amountCents: 0, percentBp: 0, hours: null, structuralAction: false };

/** Why a line keeps its rates although the prices have moved, or null when it takes the new ones. */
function whyKept(line: StoredLine, assembly: ResolvedAssembly | undefined): string | null {
  if (line.assemblyCode === null || line.rates === null) return null;
  if (!assembly) return `The price book in effect has no assembly ${line.assemblyCode}, or it is retired.`;
  if (assembly.unit !== line.unit) return `${line.assemblyCode} is now counted in another unit.`;
  if (assembly.component !== line.component || assembly.action !== line.action)
    return `${line.assemblyCode} is now for other work.`;
  return null;
}

/** A margin set by hand is kept; every other term follows the book. */
const termsFrom = (revision: RevisionRow, book: Terms): Terms => ({
  overheadBp: book.overheadBp,
  materialTaxBp: book.materialTaxBp,
  minimumChargeCents: book.minimumChargeCents,
  roundUpToCents: book.roundUpToCents,
  laborCorrelationBp: book.laborCorrelationBp,
  marginBp: revision.marginByHand ? revision.marginBp : book.marginBp,
});

interface AtBook {
  lines: StoredLine[];
  terms: Terms;
  kept: Answer["kept"];
}

/** A draft as the prices of a book would make it. Lines whose assembly is gone or other work keep their rates. */
async function atBook(db: TenantDb, { revision, lines }: PricedRevision, book: BookTerms): Promise<AtBook> {
  const assemblies = await listAssemblies(db, book.id, { salt: revision.salt });
  const byCode = new Map(assemblies.map((a) => [a.code, a]));
  const kept: Answer["kept"] = [];
  const next = lines.map((line): StoredLine => {
    const assembly = byCode.get(line.assemblyCode ?? "");
    const why = whyKept(line, assembly);
    if (why) kept.push({ lineId: line.id, words: describe(line), why });
    return why || !assembly || line.rates === null ? line : { ...line, rates: assembly.rates };
  });
  return { lines: next, terms: termsFrom(revision, book), kept };
}

/** The terms that decide a price. */
const PRICING = ["overheadBp", "marginBp", "materialTaxBp", "minimumChargeCents", "roundUpToCents"] as const;

/** The book in effect where it would move a draft first pass; else null. */
export async function newerPrices(
  db: TenantDb,
  today: string,
  priced: PricedRevision,
): Promise<Revision["newerPrices"]> {
  const { revision } = priced;
  if (revision.issuedAt || revision.kind !== "first_pass") return null;
  const book = await bookInEffect(db, today);
  const { lines, terms } = await atBook(db, priced, book);
  const moved =
    PRICING.some((term) => terms[term] !== revision[term]) ||
    lines.some((line, i) => !sameRates(line.rates, priced.lines[i]?.rates ?? null));
  return moved ? { bookId: book.id, name: book.name, effectiveFrom: book.effectiveFrom } : null;
}

/**
 * Brings a draft first pass to the prices of the book in effect, or shows what that would do: the bridge from the old
 * price to the new one, line by line.
 */
export async function refreshPrices(hand: Hand, revisionId: string, dryRun: boolean): Promise<Answer> {
  const { db, today } = hand;
  const { revision } = await takeDraft(hand, revisionId, "edit_revision");
  if (revision.kind !== "first_pass") {
    throw illegalMove(
      "A site review keeps the prices of what it reviews, so that a line nobody touches keeps its price.",
    );
  }
  const priced = await readPriced(db, revisionId);
  const book = await bookInEffect(db, today);
  const { lines, terms, kept } = await atBook(db, priced, book);
  const next = await withinReason("body", () => priceRevision({ lines, charges: revision.charges }, terms));
  const { bridge } = compareRevisions(
    { lines: priced.lines, charges: revision.charges, terms: revision },
    { lines, charges: revision.charges, terms },
    NO_POLICY,
  );
  const answer: Answer = {
    applied: !dryRun,
    book: { id: book.id, name: book.name, effectiveFrom: book.effectiveFrom },
    from: usd(priced.totals.priceCents),
    to: usd(next.totals.priceCents),
    bridge: bridge.steps.map(({ step, cents }) => ({ step, delta: usd(cents) })),
    lines: next.lines.flatMap((line, i) => {
      const before = priced.lines[i]?.price.priceCents ?? 0;
      if (before === line.price.priceCents) return [];
      return [
        {
          lineId: line.id,
          words: describe(line),
          assemblyCode: line.assemblyCode,
          before: usd(before),
          after: usd(line.price.priceCents),
        },
      ];
    }),
    kept,
  };
  if (dryRun) return answer;
  await apply(hand, revision, book.id, terms, lines, priced.lines);
  await db.audit({
    action: "revision.repriced",
    entity: "revision",
    entityId: revision.id,
    jobId: revision.jobId,
    words:
      `${nameOf(revision)} brought to the prices of ${book.name}: ` +
      `${formatMoney(answer.from.cents)}, now ${formatMoney(answer.to.cents)}.`,
    changes: { before: { bookId: revision.priceBookId }, after: { bookId: book.id, lines: answer.lines } },
  });
  await refreshJob(db, revision.jobId, today);
  return answer;
}

async function apply(
  { db }: Hand,
  revision: RevisionRow,
  bookId: string,
  terms: Terms,
  lines: readonly StoredLine[],
  before: readonly StoredLine[],
): Promise<void> {
  const moved = lines.filter((line, i) => !sameRates(line.rates, before[i]?.rates ?? null));
  await db.sql`
    UPDATE scope_lines l SET rates = p.rates
    FROM jsonb_to_recordset(${JSON.stringify(moved.map(({ id, rates }) => ({ id, rates })))}::jsonb) AS p (id uuid, rates jsonb)
    WHERE l.company_id = ${db.companyId} AND l.revision_id = ${revision.id} AND l.id = p.id`;
  await db.sql`
    UPDATE revisions SET price_book_id = ${bookId}, overhead_bp = ${terms.overheadBp}, margin_bp = ${terms.marginBp},
           material_tax_bp = ${terms.materialTaxBp}, minimum_charge_cents = ${terms.minimumChargeCents},
           round_up_to_cents = ${terms.roundUpToCents}, labor_correlation_bp = ${terms.laborCorrelationBp}
    WHERE company_id = ${db.companyId} AND id = ${revision.id}`;
  await reprice(db, revision.id, "body");
}
