import type { CodeCheck } from "@ledgerboard/rules";
import type { JobView, LineView, ZoneView } from "./view.ts";

export const SEVERITIES = ["blocking", "warning", "note"] as const;
/** `blocking`: cannot be true or cannot be priced; it needs a reason to pass. */
export type Severity = (typeof SEVERITIES)[number];

/** For rules that no document backs. */
export const PRACTICE = "Common practice, no source";

/** What a rule has to say of one place: a line, a zone, or the whole job where neither is named. */
export interface Remark {
  zone?: ZoneView;
  line?: LineView;
  /** The field of the form it is about, such as "quantity" or "geometry.guards[0].heightIn". */
  field: string | null;
  /** The numbers that decided; with the place they make the finding's key. */
  numbers: Record<string, string>;
  words: string;
  /** What stands there, without what to do about it: what a customer may be told. Only for conditions of the structure. */
  condition?: string;
  /** Where it differs from the rule's own. */
  severity?: Severity;
  source?: string;
}

export interface Rule {
  id: string;
  title: string;
  severity: Severity;
  source: string;
  check(job: JobView): Remark[];
}

export interface Finding {
  /**
   * The rule, the place and the deciding numbers: a reason given for a finding holds as long as the key is the same,
   * and not for other numbers.
   */
  key: string;
  ruleId: string;
  severity: Severity;
  zoneId: string | null;
  lineageId: string | null;
  field: string | null;
  numbers: Record<string, string>;
  words: string;
  /** What stands there, without what to do about it; null for remarks about the estimate. */
  condition: string | null;
  source: string;
}

/** A remark from a check against published limits; null where the limit is kept. */
export function fromCheck(
  check: CodeCheck | null,
  place: Pick<Remark, "zone" | "line" | "field">,
  advice: string,
): Remark[] {
  if (check === null || check.ok) return [];
  return [
    {
      ...place,
      numbers: { measured: String(check.measured), limit: String(check.limit) },
      words: `${check.words} ${advice} Local code decides.`,
      condition: check.words,
      source: sourceOf(check),
    },
  ];
}

export const sourceOf = ({ source, basis }: { source: string; basis: string }): string =>
  basis === "memory" ? `${source} (from memory)` : source;

export function findingOf(rule: Rule, remark: Remark): Finding {
  const { line, field, numbers, words } = remark;
  const zoneId = line?.zoneId ?? remark.zone?.id ?? null;
  const lineageId = line?.lineageId ?? null;
  const place = lineageId !== null ? `line:${lineageId}` : zoneId !== null ? `zone:${zoneId}` : "job";
  const decided = Object.keys(numbers)
    .sort()
    .map((name) => `${name}=${numbers[name]}`);
  return {
    key: [rule.id, place, field ?? "", ...decided].join("|"),
    ruleId: rule.id,
    severity: remark.severity ?? rule.severity,
    zoneId,
    lineageId,
    field,
    numbers,
    words,
    condition: remark.condition ?? null,
    source: remark.source ?? rule.source,
  };
}
