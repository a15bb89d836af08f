import { formatMoney } from "@ledgerboard/contracts/money";
import type { Component } from "@ledgerboard/contracts/vocabulary";
import { compareRevisions } from "@ledgerboard/estimating";
import { nameOf } from "../features/estimates/drafts.ts";
import { visit } from "./acts.ts";
import type { Review } from "./findings.ts";
import { idAt } from "./random.ts";
import { type Draft, itemOf, type PlannedLine, type Revised, seenAs, writeRevision } from "./scope.ts";
import { born, moment, type Story, tell, zoneOf } from "./story.ts";
import type { Finding } from "./work.ts";
import type { Book, Member } from "./world.ts";

function found(line: PlannedLine, finding: Finding, book: Book): Omit<Draft, "lineageId" | "position"> {
  const { zoneId, zoneName, component, unit } = line;
  const of = finding.item === null ? null : itemOf(book, finding.item);
  const rates = finding.item === line.itemCode ? line.rates : (of?.rates ?? null);
  return {
    zoneId,
    zoneName,
    component: of?.component ?? component,
    action: of?.action ?? "keep",
    unit: of?.unit ?? unit,
    rates,
    itemCode: finding.item,
    quantity: String(finding.quantity),
    by: finding.by ?? "us",
    evidence: finding.concealed ? "concealed" : seenAs(of?.unit ?? unit),
    reasonCode: finding.code,
    reason: finding.reason,
    description: "",
    reviewed: true,
  };
}

function missedLine(
  story: Story,
  missed: Review["missed"][number],
  book: Book,
): Omit<Draft, "lineageId" | "position"> {
  const { id: zoneId, name: zoneName } = zoneOf(story, missed.zone);
  const nothing = {
    zoneId,
    zoneName,
    component: "decking" as Component,
    unit: "each" as const,
    itemCode: null,
    rates: null,
  };
  return found(nothing as unknown as PlannedLine, missed, book);
}

/**
 * The senior reviews the newest revision line by line and issues what he found. Left a draft, he has only come to the
 * first `looked` lines. A material change voids the signature and supersedes the quotes, as the service does it.
 */
export function siteReview(
  story: Story,
  day: string,
  { lines: findings, missed }: Review,
  options: { by?: Member; looked?: number } = {},
): void {
  const { random, estimators } = story.world;
  const by = options.by ?? estimators[0];
  const base = story.revisions.findLast((r) => r.issued);
  if (!base || !by)
    throw new Error(`${story.title}: there is no first pass to review, or nobody to review it.`);
  visit(story, day, { kind: "site_review", by, on: day, minutes: 13 * 60, lasts: 90, state: "done" });
  const { book } = base;
  const looked = options.looked ?? base.lines.length;
  const lines: Draft[] = base.lines.map(({ id: _, ...line }, index) => {
    if (index >= looked) return { ...line, reviewed: false, reasonCode: null, reason: null };
    const finding = findings[index];
    if (finding) return { ...line, ...found(base.lines[index] as PlannedLine, finding, book) };
    return { ...line, evidence: seenAs(line.unit), reviewed: true, reasonCode: null, reason: null };
  });
  if (options.looked === undefined) {
    for (const extra of missed) {
      lines.push({
        ...missedLine(story, extra, book),
        lineageId: idAt(story.lastMs, random),
        position: lines.length + 1,
      });
    }
  }
  moment(story, day, 13 * 60 + 20);
  const number = story.revisions.length + 1;
  const draft = { number, kind: "site_review" as const, basedOnId: base.id, book };
  const revision = writeRevision(story, day, by, draft, lines, options.looked === undefined);
  story.row.estimator_id = by.id;
  if (revision.issued) issueReview(story, day, by, base, revision);
}

function issueReview(story: Story, day: string, by: Member, base: Revised, revision: Revised): void {
  const { rows, random, policy } = story.world;
  const { ms, at } = moment(story, day);
  const compared = compareRevisions(
    { lines: base.lines, terms: base.book },
    { lines: revision.lines, terms: revision.book },
    policy,
  );
  const { bridge, verdict, hours } = compared;
  const delta = bridge.toCents - bridge.fromCents;
  const varianceId = idAt(ms, random);
  rows.add("variances", {
    id: varianceId,
    job_id: story.id,
    from_revision_id: base.id,
    to_revision_id: revision.id,
    policy_id: policy.id,
    material: verdict.material,
    delta_cents: delta,
    delta_hours: hours.delta,
    rules: verdict.rules,
    bridge,
    ...born(at),
  });
  rows.issue({ id: revision.id, issued_at: at, issued_by_id: by.id });
  const change = `, ${delta > 0 ? "+" : ""}${formatMoney(delta)}${verdict.material ? ": a material change" : ""}`;
  const said = `${nameOf(revision)} issued at ${formatMoney(revision.totals.priceCents)}${change}.`;
  tell(story, by, at, { action: "revision.issued", entity: "revision", id: revision.id, words: said });
  const why = verdict.rules.flatMap((rule) => (rule.fired ? [rule.words] : [])).join(" ");
  if (verdict.material) {
    tellSeller(story, day, at, varianceId, delta, why);
    story.paper?.voidSignature(at, by, varianceId, why);
  }
  story.paper?.end(at, by, "superseded", () => `${nameOf(revision)} changed the scope.`);
}

/** Mail older than this is not kept in the demo. */
const MAIL_KEPT_DAYS = 14;

/** The mail a material change brings the salesperson; kept, as it is where no mail server is set up. */
function tellSeller(
  story: Story,
  day: string,
  at: string,
  varianceId: string,
  delta: number,
  why: string,
): void {
  const { rows, random, days } = story.world;
  if (day < days.from(-MAIL_KEPT_DAYS)) return;
  const { numbered, title, seller } = story;
  const change = `${delta > 0 ? "+" : ""}${formatMoney(delta)}`;
  rows.add("outbox_messages", {
    id: idAt(Date.parse(at), random),
    kind: "material_change",
    recipient: seller.email,
    subject: () => `${numbered.number}: the site review changed the job by ${change}`,
    body: () =>
      [`${numbered.number}, ${title}`, "", why, "", "Send the customer the changed quote."].join("\n"),
    dedupe_key: `material_change:${varianceId}`,
    job_id: story.id,
    state: "kept",
    attempts: 0,
    ...born(at),
  });
}
