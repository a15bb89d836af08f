import type { PlausibilityJob } from "./job.ts";
import { type Finding, findingOf, SEVERITIES } from "./rule.ts";
import { RULES } from "./rules.ts";
import { viewJob } from "./view.ts";

/** The rules for a page that lists them: what each looks for and what stands behind it. */
export const PLAUSIBILITY_RULES: readonly { id: string; title: string; severity: string; source: string }[] =
  RULES.map(({ id, title, severity, source }) => ({ id, title, severity, source }));

const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

/**
 * What a senior estimator would remark about a priced job: blocking findings first, then warnings, then notes, each
 * with the numbers that decided. Findings do not depend on the order of zones, lines or materials, and a finding keeps
 * its key as long as its place and its numbers stay. Never throws on a job whose quantities are decimal text.
 *
 * A remark on safety or code is a reference check: local code and licensed practice decide.
 */
export function assessPlausibility(job: PlausibilityJob): Finding[] {
  const view = viewJob(job);
  const findings = new Map<string, Finding>();
  for (const rule of RULES)
    for (const remark of rule.check(view)) {
      const finding = findingOf(rule, remark);
      const known = findings.get(finding.key);
      if (!known || finding.words < known.words) findings.set(finding.key, finding);
    }
  return mergeAlike([...findings.values()].sort((a, b) => compare(a.key, b.key))).sort(
    (a, b) => SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity) || compare(a.key, b.key),
  );
}

/** The same said of several fields of one zone, such as five runs of a guard, is said once with how often. */
function mergeAlike(findings: readonly Finding[]): Finding[] {
  const groups = new Map<string, Finding[]>();
  for (const finding of findings) {
    const { ruleId, zoneId, lineageId, words } = finding;
    const alike = JSON.stringify([ruleId, zoneId, lineageId, words]);
    groups.set(alike, [...(groups.get(alike) ?? []), finding]);
  }
  return [...groups.values()].flatMap((group) => {
    const [first, ...others] = group;
    if (!first || others.length === 0) return group;
    const places = String(group.length);
    return [
      {
        ...first,
        key: `${first.key}|places=${places}`,
        numbers: { ...first.numbers, places },
        words: `${first.words} In ${places} places.`,
        condition: first.condition && `${first.condition} In ${places} places.`,
      },
    ];
  });
}
