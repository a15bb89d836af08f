import type { estimates as contract, Output } from "@ledgerboard/contracts";
import { sayDate } from "@ledgerboard/contracts/dates";
import { formatMoney } from "@ledgerboard/contracts/money";
import type { TenantDb } from "@ledgerboard/database";
import { illegalMove } from "../../problem.ts";
import { type JobInHand, refreshJob } from "../jobs/facts.ts";
import { enqueueMail } from "../mail/service.ts";
import { endOpenQuotes } from "../quotes/service.ts";
import { type Signature, standingSignature, voidSignature } from "../quotes/signature.ts";
import { standingInTheWay } from "./assessment.ts";
import { compare } from "./comparison.ts";
import { type Hand, nameOf, sayChange, takeDraft } from "./drafts.ts";
import { type PricedRevision, policyInEffect, readPriced, unreviewed } from "./queries.ts";

const counted = (n: number, noun: string): string => `${n} ${noun}${n === 1 ? "" : "s"}`;
const signed = (cents: number): string => (cents > 0 ? `+${formatMoney(cents)}` : formatMoney(cents));

/** Refuses to close a draft that nobody could quote from, or that somebody has not finished looking at. */
function checkReady(priced: PricedRevision): void {
  const name = nameOf(priced.revision);
  if (priced.lines.length === 0) throw illegalMove(`${name} has no lines yet. Add what needs work first.`);
  if (priced.totals.priceCents === 0) {
    throw illegalMove(
      `Nothing in ${name.toLowerCase()} carries a price. Price a line, or close the job if no work is needed.`,
    );
  }
  const left = unreviewed(priced);
  if (left.lines > 0) {
    const verb = left.lines === 1 ? "is" : "are";
    throw illegalMove(
      `${counted(left.lines, "line")} worth ${formatMoney(left.cents)} ${verb} not reviewed yet. Look at each, then issue.`,
    );
  }
}

/** Refuses to close a draft with something in it that cannot be, unless somebody said why it is so. */
async function checkPlausible({ db, today }: Hand, priced: PricedRevision): Promise<void> {
  const [first, ...more] = await standingInTheWay(db, today, priced);
  if (!first) return;
  const rest = more.length === 0 ? "" : ` And ${counted(more.length, "more remark")} like it.`;
  throw illegalMove(`${first.words}${rest} Mend it, or let it pass with a reason, then issue.`);
}

interface Variance {
  id: string;
  material: boolean;
  deltaCents: number;
  /** The sentences of the rules that fired. */
  fired: string[];
}

/**
 * Compares what is being issued with what it was copied from and keeps the result. Where the customer signed an
 * earlier revision still, that one is the measure too: small steps must not add up to a large one he never saw.
 */
async function recordVariance(
  { db, today }: Hand,
  to: PricedRevision,
  baseId: string,
  signature: Signature | null,
): Promise<Variance> {
  const policy = await policyInEffect(db, today);
  const against = async (fromId: string, keep: "always" | "when_material"): Promise<Variance | null> => {
    const { bridge, hours, verdict } = compare(await readPriced(db, fromId), to, policy);
    if (keep === "when_material" && !verdict.material) return null;
    const deltaCents = bridge.toCents - bridge.fromCents;
    const [row] = await db.sql<{ id: string }>`
      INSERT INTO variances (company_id, job_id, from_revision_id, to_revision_id, policy_id, material, delta_cents,
                             delta_hours, rules, bridge)
      VALUES (${db.companyId}, ${to.revision.jobId}, ${fromId}, ${to.revision.id}, ${policy.id}, ${verdict.material},
              ${deltaCents}, ${hours.delta}, ${JSON.stringify(verdict.rules)}, ${JSON.stringify(bridge)})
      RETURNING id`;
    if (!row) throw new Error("The variance was not stored.");
    const fired = verdict.rules.filter((rule) => rule.fired).map((rule) => rule.words);
    return { id: row.id, material: verdict.material, deltaCents, fired };
  };
  const variance = await against(baseId, "always");
  if (!variance) throw new Error("A comparison that is always kept was not.");
  if (variance.material || !signature || signature.revisionId === baseId) return variance;
  return (await against(signature.revisionId, "when_material")) ?? variance;
}

/** Tells the salesperson of the job, if there is one, that the customer has to be spoken to. */
async function tellSalesperson(
  db: TenantDb,
  jobId: string,
  variance: Variance,
  consequences: string[],
): Promise<void> {
  const [row] = await db.sql<{ number: string; title: string; email: string }>`
    SELECT j.number, j.title, m.email FROM jobs j
    JOIN members m ON m.company_id = j.company_id AND m.id = j.salesperson_id AND m.active
    WHERE j.company_id = ${db.companyId} AND j.id = ${jobId}`;
  if (!row) return;
  await enqueueMail(db, {
    kind: "material_change",
    to: row.email,
    subject: `${row.number}: the site review changed the job by ${signed(variance.deltaCents)}`,
    text: [
      `${row.number}, ${row.title}`,
      "",
      ...variance.fired,
      ...(consequences.length > 0 ? ["", ...consequences] : []),
      "",
      "Send the customer a quote on the changed scope.",
    ].join("\n"),
    dedupeKey: `material_change:${variance.id}`,
    jobId,
  });
}

/** What an issued site review brings with it, done and said in plain sentences. */
async function drawConsequences(
  { db }: Hand,
  job: JobInHand,
  { revision }: PricedRevision,
  signature: Signature | null,
  variance: Variance,
): Promise<string[]> {
  const { jobId } = job;
  if (signature && variance.material) {
    const why = variance.fired.join(" ");
    const words = `${signature.signer}'s signature of ${sayDate(signature.signedOn)} no longer stands. ${why}`;
    await voidSignature(db, jobId, signature, { why, words, varianceId: variance.id });
  }
  const ended = await endOpenQuotes(db, jobId, "superseded", `${nameOf(revision)} changed the scope.`);
  const consequences = ended.map((number) => `Quote ${number} is superseded.`);
  if (signature) {
    const still = variance.material ? "no longer" : "still";
    consequences.push(`${signature.signer}'s signature of ${sayDate(signature.signedOn)} ${still} stands.`);
  }
  if (variance.material && job.facts.booking) {
    consequences.push(`The crew booked from ${sayDate(job.facts.booking.startOn)} is on hold.`);
  }
  if (variance.material) await tellSalesperson(db, jobId, variance, consequences);
  return consequences;
}

/** Closes a draft for good, with all that follows from it, in one transaction. */
export async function issueRevision(
  hand: Hand,
  revisionId: string,
): Promise<Output<typeof contract.issueRevision>> {
  const { db, who, today, services } = hand;
  const { job, revision } = await takeDraft(hand, revisionId, "issue_revision");
  const priced = await readPriced(db, revisionId);
  checkReady(priced);
  await checkPlausible(hand, priced);
  const signature = await standingSignature(db, job.jobId);
  const variance = revision.basedOnId
    ? await recordVariance(hand, priced, revision.basedOnId, signature)
    : null;

  await db.sql`
    UPDATE revisions SET issued_at = ${services.now().toISOString()}, issued_by_id = ${who.memberId}
    WHERE company_id = ${db.companyId} AND id = ${revisionId}`;
  const change = variance ? `, ${sayChange(variance.deltaCents, variance.material)}` : "";
  await db.audit({
    action: "revision.issued",
    entity: "revision",
    entityId: revisionId,
    jobId: job.jobId,
    words: `${nameOf(revision)} issued at ${formatMoney(priced.totals.priceCents)}${change}.`,
    changes: { varianceId: variance?.id ?? null },
  });
  const consequences = variance ? await drawConsequences(hand, job, priced, signature, variance) : [];
  await refreshJob(db, job.jobId, today);
  return { material: variance?.material ?? false, varianceId: variance?.id ?? null, consequences };
}
