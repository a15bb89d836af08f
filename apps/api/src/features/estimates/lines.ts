import type { estimates as contract, Input, Output } from "@ledgerboard/contracts";
import { formatMoney } from "@ledgerboard/contracts/money";
import { illegalMove, invalid, notFound } from "../../problem.ts";
import { refreshJob } from "../jobs/facts.ts";
import { checkVersion, type Given, given } from "../versions.ts";
import { type Hand, nameOf, reprice, takeDraft } from "./drafts.ts";
import { findLine, listLines, type RevisionRow, type StoredLine } from "./queries.ts";
import {
  checkAllowance,
  checkZone,
  describe,
  type LineValues,
  plain,
  ratesFor,
  requireReason,
} from "./scope.ts";
import { readLine } from "./view.ts";

type ScopeLine = Output<typeof contract.addLine>;

/** Comparing two revisions of this many lines is what the service is measured at. */
const MAX_LINES = 500;

/** The line a site review's line was copied from; null for one added in the review, and outside of reviews. */
async function baseOf({ db }: Hand, revision: RevisionRow, lineageId: string): Promise<StoredLine | null> {
  if (revision.kind !== "site_review" || !revision.basedOnId) return null;
  return (await listLines(db, revision.basedOnId, lineageId))[0] ?? null;
}

const atPrice = (line: ScopeLine): string => `${describe(line)} at ${formatMoney(line.price.price.cents)}`;

/** What every write to a draft ends with: prices, the job's facts, and the line as it is now. */
async function finish(hand: Hand, revision: RevisionRow, lineageId: string): Promise<ScopeLine> {
  await reprice(hand.db, revision.id);
  await refreshJob(hand.db, revision.jobId, hand.today);
  return readLine(hand.db, revision, lineageId);
}

export async function addLine(hand: Hand, revisionId: string, body: LineValues): Promise<ScopeLine> {
  const { db, services } = hand;
  const { revision } = await takeDraft(hand, revisionId, "edit_revision");
  await checkZone(db, revision.jobId, body.zoneId);
  checkAllowance(body);
  const rates = await ratesFor(db, revision, body, null, false);
  const review = revision.kind === "site_review";
  if (review) requireReason(body, rates, null);

  const [row] = await db.sql<{ id: string; lineageId: string }>`
    INSERT INTO scope_lines (company_id, revision_id, lineage_id, position, zone_id, component, action, assembly_code,
                             description, quantity, unit, evidence, by, alternate, allowance, reason_code, reason,
                             reviewed_at, rates)
    SELECT ${db.companyId}, ${revision.id}, uuidv7(), coalesce(max(position), 0) + 1, ${body.zoneId}, ${body.component},
           ${body.action}, ${body.assemblyCode}, ${body.description}, ${body.quantity}, ${body.unit}, ${body.evidence},
           ${body.by}, ${body.alternate}, ${body.allowance && JSON.stringify(body.allowance)}::jsonb, ${body.reasonCode},
           ${body.reason},
           ${review ? services.now().toISOString() : null}::timestamptz, ${rates && JSON.stringify(rates)}::jsonb
    FROM scope_lines WHERE company_id = ${db.companyId} AND revision_id = ${revision.id}
    HAVING count(*) < ${MAX_LINES}
    RETURNING id, lineage_id AS "lineageId"`;
  if (!row) throw illegalMove(`A revision holds at most ${MAX_LINES} lines.`);

  const line = await finish(hand, revision, row.lineageId);
  await db.audit({
    action: "line.added",
    entity: "scope_line",
    entityId: row.id,
    jobId: revision.jobId,
    words: `${nameOf(revision)}: added ${atPrice(line)}.`,
    changes: { after: body },
  });
  return line;
}

type Edits = Omit<Input<typeof contract.updateLine>["body"], "reviewed">;

/** The line as it will be. What is kept carries no price, so "keep" alone is enough to say. */
function merge(stored: StoredLine, edits: Given<Edits>): LineValues {
  const values: LineValues = { ...stored, ...edits, quantity: plain(edits.quantity ?? stored.quantity) };
  if (values.evidence !== "concealed" && edits.allowance === undefined) values.allowance = null;
  return values.action === "keep" && edits.assemblyCode === undefined
    ? { ...values, assemblyCode: null }
    : values;
}

export async function updateLine(
  hand: Hand,
  lineId: string,
  version: number,
  body: Input<typeof contract.updateLine>["body"],
): Promise<ScopeLine> {
  const { db, services } = hand;
  const { reviewed, ...edits } = given(body);
  const edited = Object.keys(edits).length > 0;
  if (!edited && reviewed === undefined) throw invalid("body", "Say what to change.");
  const seen = await findLine(db, lineId);
  const { revision } = await takeDraft(hand, seen.revisionId, "edit_revision");
  const [stored] = await listLines(db, revision.id, seen.lineageId);
  if (!stored) throw notFound("scope line");
  const before = await readLine(db, revision, seen.lineageId);
  await checkVersion(stored.version, version, () => before);
  const review = revision.kind === "site_review";
  if (!review && reviewed !== undefined) {
    throw invalid("body.reviewed", "Only the lines of a site review are marked as reviewed.");
  }

  const values = merge(stored, edits);
  checkAllowance(values);
  if (values.zoneId !== stored.zoneId) await checkZone(db, revision.jobId, values.zoneId);
  const rates = await ratesFor(db, revision, values, stored, edits.reasonCode === "price_moved");
  const base = await baseOf(hand, revision, stored.lineageId);
  if (review) requireReason(values, rates, base);
  // Any edit is a look; a line added in the review needs no other.
  const looked = base === null || (reviewed ?? (stored.reviewed || edited));
  await db.sql`
    UPDATE scope_lines SET zone_id = ${values.zoneId}, component = ${values.component}, action = ${values.action},
           assembly_code = ${values.assemblyCode}, description = ${values.description}, quantity = ${values.quantity},
           unit = ${values.unit}, evidence = ${values.evidence}, by = ${values.by}, alternate = ${values.alternate},
           allowance = ${values.allowance && JSON.stringify(values.allowance)}::jsonb,
           reason_code = ${values.reasonCode}, reason = ${values.reason}, reviewed_at = ${review && looked ? services.now().toISOString() : null}::timestamptz,
           rates = ${rates && JSON.stringify(rates)}::jsonb
    WHERE company_id = ${db.companyId} AND id = ${lineId}`;

  const line = await finish(hand, revision, stored.lineageId);
  const mark = line.reviewed ? "looked at" : "to be looked at again:";
  const words = edited ? `now ${atPrice(line)} (was ${atPrice(before)})` : `${mark} ${atPrice(line)}`;
  await db.audit({
    action: "line.changed",
    entity: "scope_line",
    entityId: lineId,
    jobId: revision.jobId,
    words: `${nameOf(revision)}: ${words}.`,
    changes: { before: stored, after: given(body) },
  });
  return line;
}

export async function removeLine(hand: Hand, lineId: string): Promise<{ done: true }> {
  const { db } = hand;
  const seen = await findLine(db, lineId);
  const { revision } = await takeDraft(hand, seen.revisionId, "edit_revision");
  // Gone without a trace, a reviewed line would take its reason with it.
  if (await baseOf(hand, revision, seen.lineageId)) {
    throw illegalMove("This line is part of what is being reviewed. Set it to keep and say why.");
  }
  const line = await readLine(db, revision, seen.lineageId);
  await db.sql`DELETE FROM scope_lines WHERE company_id = ${db.companyId} AND id = ${lineId}`;
  await reprice(db, revision.id);
  await db.audit({
    action: "line.removed",
    entity: "scope_line",
    entityId: lineId,
    jobId: revision.jobId,
    words: `${nameOf(revision)}: taken out ${atPrice(line)}.`,
    changes: { before: line },
  });
  await refreshJob(db, revision.jobId, hand.today);
  return { done: true };
}
