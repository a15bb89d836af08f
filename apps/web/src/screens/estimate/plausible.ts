import type { Finding } from "@ledgerboard/contracts/assessment";
import type { Revision } from "@ledgerboard/contracts/estimates";
import type { Job, Zone } from "@ledgerboard/contracts/jobs";
import type { PriceBook } from "@ledgerboard/contracts/price-book";
import { words } from "@ledgerboard/contracts/vocabulary";
import {
  assessPlausibility,
  EstimateInputError,
  type PlausibilityJob,
  type Takeoff,
  takeoff,
} from "@ledgerboard/estimating";
import { assemblyOf } from "./book.ts";
import type { Priced, Sheet } from "./prices.ts";

export type Severity = Finding["severity"];
export const SEVERITIES: readonly Severity[] = ["blocking", "warning", "note"];

const takeoffs = new WeakMap<Zone, Takeoff>();

/** What the drawing or the size of a zone counts to, worked out once for as long as the zone is the same. */
export function takeoffOf(zone: Zone): Takeoff {
  let known = takeoffs.get(zone);
  if (!known) {
    known = takeoff(zone);
    takeoffs.set(zone, known);
  }
  return known;
}

export interface Typed {
  job: Job;
  book: PriceBook | undefined;
  sheet: Sheet;
  /** The line that is being written and not added yet. */
  coming: Priced | null;
  today: string;
}

/** What the plausibility rules look at. What only the company's past can tell is left to the service. */
export function toPlausibility({ job, book, sheet, coming, today }: Typed): PlausibilityJob {
  const { saltExposure, yearBuilt } = job.property;
  const lines = [...sheet.priced.values(), ...(coming ? [coming] : [])];
  return {
    property: { saltExposure, yearBuilt },
    zones: job.zones.map((zone) => ({
      id: zone.id,
      name: zone.name,
      kind: zone.kind,
      geometry: zone.geometry,
      takeoff: takeoffOf(zone),
    })),
    lines: lines.map(({ line, price, standing }) => ({
      ...line,
      assemblyUnit: assemblyOf(book, line.assemblyCode)?.unit ?? null,
      price,
      standing,
    })),
    charges: sheet.whole.charges,
    past: null,
    today,
    newLumberDaysDry: null,
  };
}

/** What the rules say of the draft as it is typed; none where it cannot be read yet. */
export function remarksOf(typed: Typed): Finding[] {
  try {
    return assessPlausibility(toPlausibility(typed)).map((finding) => ({ ...finding, passed: null }));
  } catch (error) {
    if (error instanceof EstimateInputError || error instanceof RangeError) return [];
    throw error;
  }
}

/** Rules that set the work beside the company's own past, which only the service knows. */
export const RULES_OF_THE_PAST: readonly string[] = ["hours_outside_past", "price_outside_past"];

/**
 * What is typed decides which remarks stand; the service adds the reasons given for them, and what only the company's
 * past gives rise to. What that says of a line, zone or job that is being changed is left out until it is saved.
 */
export function mergeRemarks(
  typed: readonly Finding[],
  stored: readonly Finding[],
  changing: ReadonlySet<string>,
): Finding[] {
  const passes = new Map(stored.flatMap(({ key, passed }) => (passed ? [[key, passed] as const] : [])));
  const past = stored.filter(
    ({ ruleId, lineageId }) =>
      RULES_OF_THE_PAST.includes(ruleId) && (lineageId ? !changing.has(lineageId) : changing.size === 0),
  );
  const now = typed.map((finding) => ({ ...finding, passed: passes.get(finding.key) ?? null }));
  return [...now, ...past].sort((a, b) => SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity));
}

/** Blocking remarks nobody has given a reason for: with one of them the draft cannot be issued. */
export const standInTheWay = (findings: readonly Finding[]): Finding[] =>
  findings.filter(({ severity, passed }) => severity === "blocking" && passed === null);

export interface Count {
  severity: Severity;
  open: Finding[];
}

/** The remarks nobody has let pass, by how much they weigh. */
export const countOf = (findings: readonly Finding[]): Count[] =>
  SEVERITIES.map((severity) => ({
    severity,
    open: findings.filter((finding) => finding.severity === severity && finding.passed === null),
  })).filter(({ open }) => open.length > 0);

/** What is said of a line, of a zone as a whole, or of the job. */
export interface Places {
  line: (lineageId: string) => readonly Finding[];
  zone: (zoneId: string) => readonly Finding[];
  job: readonly Finding[];
}

const NONE: readonly Finding[] = [];
const alike = (a: Finding, b: Finding | undefined): boolean =>
  b !== undefined && a.key === b.key && a.words === b.words && a.passed?.why === b.passed?.why;

/** Sorts remarks to their places; a place of which the same is said as before keeps the same list. */
export function placer() {
  let before = new Map<string, Finding[]>();
  return (findings: readonly Finding[]): Places => {
    const now = new Map<string, Finding[]>();
    for (const finding of findings) {
      const place = finding.lineageId ?? finding.zoneId ?? "";
      now.set(place, [...(now.get(place) ?? []), finding]);
    }
    for (const [place, list] of now) {
      const old = before.get(place);
      if (old?.length === list.length && list.every((one, at) => alike(one, old[at]))) now.set(place, old);
    }
    before = now;
    return {
      line: (lineageId) => now.get(lineageId) ?? NONE,
      zone: (zoneId) => now.get(zoneId) ?? NONE,
      job: now.get("") ?? NONE,
    };
  };
}

/** "Lower deck, decking", "Lower deck", "The job". */
export function placeOf({ lineageId, zoneId }: Finding, job: Job, { lines }: Revision): string {
  const line = lines.find((one) => one.lineageId === lineageId);
  const zone = job.zones.find(({ id }) => id === (line?.zoneId ?? zoneId))?.name;
  if (line) return `${zone}, ${words(line.component)}`;
  return lineageId ? `${zone}, the line being written` : (zone ?? "The job");
}
