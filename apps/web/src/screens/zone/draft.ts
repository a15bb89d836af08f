import type { Zone } from "@ledgerboard/contracts/jobs";
import type { Evidence } from "@ledgerboard/contracts/vocabulary";
import { useSyncExternalStore } from "react";
import { startOf } from "./starts.ts";
import { fromTyped, type TypedGeometry, type TypedOutline } from "./typed.ts";

/** What somebody drew of a zone and has not saved. Replaced, never written to. */
export interface ZoneDraft {
  typed: TypedGeometry;
  evidence: Evidence;
  /** Outlines of the shapes tried before, so that going back to one finds it as it was. */
  shelf: Partial<Record<TypedOutline["shape"], TypedOutline>>;
  /** The stored zone it began from, and its version. */
  base: string;
  version: number;
}

/** What of a zone this page changes; another version with the same measures is no conflict. */
export const measuresOf = (zone: Pick<Zone, "geometry" | "evidence">): string =>
  JSON.stringify([sorted(zone.geometry), zone.evidence]);

/** Keys in one order: the database keeps JSON in an order of its own. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== "object" || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([key, one]) => [key, sorted(one)]));
}

export const freshDraft = (zone: Zone): ZoneDraft => ({
  typed: startOf(zone),
  evidence: zone.evidence,
  shelf: {},
  base: measuresOf(zone),
  version: zone.version,
});

/** Whether the draft says something else than what it began from, or holds text that is no length. */
export function isChanged(draft: ZoneDraft, zone: Zone): boolean {
  const { geometry, faults } = fromTyped(draft.typed);
  if (faults.length > 0) return true;
  const mine = measuresOf({ geometry, evidence: draft.evidence });
  if (mine === draft.base) return false;
  const began = fromTyped(startOf(zone)).geometry;
  return zone.version !== draft.version || mine !== measuresOf({ geometry: began, evidence: zone.evidence });
}

const drafts = new Map<string, ZoneDraft | null>();
const listeners = new Set<() => void>();
const subscribe = (listener: () => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};
const keyOf = (zoneId: string, memberId: string) => `zone-draft:${zoneId}:${memberId}`;

/** The kept draft, also after the page was loaded anew in this tab; null when there is none. */
export function keptDraft(zoneId: string, memberId: string): ZoneDraft | null {
  const key = keyOf(zoneId, memberId);
  const known = drafts.get(key);
  if (known !== undefined) return known;
  let kept: ZoneDraft | null = null;
  try {
    kept = JSON.parse(sessionStorage.getItem(key) ?? "null");
  } catch {
    // A forbidden storage costs the safety net, not the work.
  }
  drafts.set(key, kept);
  return kept;
}

export function keepDraft(zoneId: string, memberId: string, draft: ZoneDraft | null): void {
  const key = keyOf(zoneId, memberId);
  drafts.set(key, draft);
  try {
    if (draft) sessionStorage.setItem(key, JSON.stringify(draft));
    else sessionStorage.removeItem(key);
  } catch {
    // As above: the page still has it.
  }
  for (const listener of listeners) listener();
}

export const useKeptDraft = (zoneId: string, memberId: string): ZoneDraft | null =>
  useSyncExternalStore(subscribe, () => keptDraft(zoneId, memberId));
