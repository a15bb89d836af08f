import { formatMoney } from "@ledgerboard/contracts/money";
import { compareRevisions } from "@ledgerboard/estimating";
import { nameOf, sayChange } from "../features/estimates/drafts.ts";
import { visit } from "./acts.ts";
import type { Review } from "./findings.ts";
import { idAt } from "./random.ts";
import { assemblyOf, type Draft, type PlannedLine, type Revised, seenAs, writeRevision } from "./scope.ts";
import { born, measureZones, moment, type Story, tell, zoneOf } from "./story.ts";
import type { Finding } from "./work.ts";
import type { Book, Member } from "./world.ts";

type Found = Omit<Draft, "lineageId" | "position">;

/** What becomes of a line, or of nothing, where the senior found something. */
function found(story: Story, line: PlaceOf & Partial<PlannedLine>, finding: Finding, book: Book): Found {
  const { zoneId, zoneName, assemblyCode = null } = line;
  const same = finding.assembly === assemblyCode;
  const of = finding.assembly === null ? null : assemblyOf(story, book, finding.assembly);
  const unit = of?.unit ?? line.unit ?? "each";
  const allowance = finding.allowance ?? null;
  return {
    zoneId,
    zoneName,
    component: of?.component ?? line.component ?? "decking",
    action: of?.action ?? "keep",
    unit,
    rates: same && line.rates ? line.rates : (of?.rates ?? null),
    assemblyCode: finding.assembly,
    quantity: String(finding.quantity),
    by: finding.by ?? "us",
    alternate: finding.alternate ?? null,
    allowance,
    evidence: seenAs(unit, allowance),
    reasonCode: finding.code,
    reason: finding.reason,
    description: finding.description ?? (same ? (line.description ?? "") : ""),
    reviewed: true,
  };
}

type PlaceOf = Pick<PlannedLine, "zoneId" | "zoneName">;

function missedLine(story: Story, missed: Review["missed"][number], book: Book): Found {
  const { id: zoneId, name: zoneName } = zoneOf(story, missed.zone);
  return found(story, { zoneId, zoneName }, missed, book);
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
  const { book, charges } = base;
  const looked = options.looked ?? base.lines.length;
  measureZones(story, moment(story, day, 13 * 60 + 10).at, by, base.lines.slice(0, looked));
  const lines = base.lines.map((line, index): Draft => {
    const { id: _, price: __, standing: ___, agreed: ____, ...copied } = line;
    if (index >= looked) return { ...copied, reviewed: false, reasonCode: null, reason: null };
    const finding = findings[index];
    if (finding) return { ...copied, ...found(story, line, finding, book) };
    const evidence = seenAs(line.unit, line.allowance);
    return { ...copied, evidence, reviewed: true, reasonCode: null, reason: null };
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
  const head = { number, kind: "site_review" as const, basedOnId: base.id, book, charges };
  const revision = writeRevision(story, day, by, head, lines, options.looked === undefined);
  story.row.estimator_id = by.id;
  if (revision.issued) issueReview(story, day, by, base, revision);
}

function issueReview(story: Story, day: string, by: Member, base: Revised, revision: Revised): void {
  const { rows, random, policy } = story.world;
  const { ms, at } = moment(story, day);
  const compared = compareRevisions(
    { lines: base.lines, charges: base.charges, terms: base.book },
    { lines: revision.lines, charges: revision.charges, terms: revision.book },
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
  const change = `, ${sayChange(delta, verdict.material)}`;
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
