import { type estimates as contract, type Input, may, type Role } from "@ledgerboard/contracts";
import type { Revision } from "@ledgerboard/contracts/estimates";
import { formatMoney } from "@ledgerboard/contracts/money";
import { invalid, Problem } from "../../problem.ts";
import { refreshJob } from "../jobs/facts.ts";
import { checkVersion, given } from "../versions.ts";
import { type Hand, nameOf, reprice, takeDraft } from "./drafts.ts";
import { readRevision } from "./view.ts";

const percent = (bp: number): string => `${bp / 100}%`;

/** Changes what a draft charges for the whole job, its margin or its note. */
export async function updateRevision(
  hand: Hand,
  revisionId: string,
  version: number,
  body: Input<typeof contract.updateRevision>["body"],
): Promise<Revision> {
  const { db, who, today } = hand;
  const edits = given(body);
  if (Object.keys(edits).length === 0) throw invalid("body", "Say what to change.");
  if (edits.marginBp !== undefined && !may(who.roles as Role[], "price_book.edit")) {
    throw new Problem("not-allowed", "The margin is set by the owner or the senior estimator.");
  }
  const { revision } = await takeDraft(hand, revisionId, "edit_revision");
  await checkVersion(revision.version, version, () => readRevision(db, today, revisionId));
  const charges = edits.charges?.map(({ cost, ...rest }) => ({ ...rest, costCents: cost.cents }));
  const next = {
    note: edits.note ?? revision.note,
    marginBp: edits.marginBp ?? revision.marginBp,
    charges: charges ?? revision.charges,
  };
  await db.sql`
    UPDATE revisions SET note = ${next.note}, margin_bp = ${next.marginBp},
           margin_by_hand = margin_by_hand OR ${edits.marginBp !== undefined}, charges = ${JSON.stringify(next.charges)}::jsonb
    WHERE company_id = ${db.companyId} AND id = ${revisionId}`;
  await reprice(db, revisionId, charges ? "body.charges" : "body.marginBp");
  await refreshJob(db, revision.jobId, today);
  const after = await readRevision(db, today, revisionId);
  const what = [
    edits.marginBp === undefined
      ? null
      : `margin ${percent(edits.marginBp)} (was ${percent(revision.marginBp)})`,
    charges ? `charges of the whole job: ${charges.map((c) => c.words).join(", ") || "none"}` : null,
    edits.note === undefined ? null : "note changed",
  ].filter((part) => part !== null);
  await db.audit({
    action: "revision.changed",
    entity: "revision",
    entityId: revisionId,
    jobId: revision.jobId,
    words: `${nameOf(revision)}: ${what.join("; ")}. Now ${formatMoney(after.totals.price.cents)}.`,
    changes: {
      before: { note: revision.note, marginBp: revision.marginBp, charges: revision.charges },
      after: edits,
    },
  });
  return after;
}
