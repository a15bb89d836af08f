import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { type Edit, FIELDS } from "./edit.ts";

/** What is typed and not saved, kept through a reload of the page; gone when the tab is closed. */
export interface Kept {
  edit: Edit;
  seen: ScopeLine;
}

/** What an earlier build of the page kept may lack fields of this one. */
const isReadable = ([, { edit, seen }]: [string, Kept]): boolean =>
  FIELDS.every((field) => field in edit && field in seen);

export function readKept(key: string): [string, Kept][] {
  try {
    const found: unknown = JSON.parse(sessionStorage.getItem(key) ?? "[]");
    return Array.isArray(found) ? (found as [string, Kept][]).filter(isReadable) : [];
  } catch {
    return [];
  }
}

export function writeKept(key: string, kept: readonly [string, Kept][]): void {
  try {
    if (kept.length === 0) sessionStorage.removeItem(key);
    else sessionStorage.setItem(key, JSON.stringify(kept));
  } catch {
    // A full or forbidden storage costs the safety net, not the work: the page still has it.
  }
}
