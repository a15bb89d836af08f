import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { words } from "@ledgerboard/contracts/vocabulary";
import { quantity } from "../../ui/format.ts";

/** What a person decides about a scope line, in the order a conflict shows it. */
export const FIELDS = [
  "zoneId",
  "component",
  "action",
  "itemCode",
  "quantity",
  "unit",
  "evidence",
  "by",
  "description",
  "reasonCode",
  "reason",
] as const;
export type Field = (typeof FIELDS)[number];

/** A scope line as it stands in the fields. `quantity` is null while what is typed is no number. */
export interface Edit extends Omit<Pick<ScopeLine, Field>, "quantity" | "reason"> {
  quantity: string | null;
  reason: string;
}

export const toEdit = (line: ScopeLine): Edit => ({
  zoneId: line.zoneId,
  component: line.component,
  action: line.action,
  itemCode: line.itemCode,
  description: line.description,
  quantity: line.quantity,
  unit: line.unit,
  evidence: line.evidence,
  by: line.by,
  reasonCode: line.reasonCode,
  reason: line.reason ?? "",
});

/** One spelling for "no text", so that an emptied field and one never filled in are the same. */
const plain = (value: string | null): string | null => (value === null ? null : value.trim() || null);
const same = (field: Field, a: string | null, b: string | null): boolean =>
  field === "reason" || field === "description" ? plain(a) === plain(b) : a === b;

/** The fields in which an edit differs from a stored line. */
export const changedFields = (edit: Edit, line: ScopeLine): Field[] =>
  FIELDS.filter((field) => !same(field, edit[field], line[field]));

/** The request body that turns the stored line into the edit. */
export function changesOf(edit: Edit, line: ScopeLine): Record<string, string | null> {
  const value = (field: Field) => {
    if (field === "reason") return plain(edit.reason);
    return field === "description" ? edit.description.trim() : edit[field];
  };
  return Object.fromEntries(changedFields(edit, line).map((field) => [field, value(field)]));
}

type Work = Pick<Edit, "component" | "action" | "itemCode" | "unit">;
export const isOtherWork = (a: Work, b: Work): boolean =>
  a.component !== b.component || a.action !== b.action || a.itemCode !== b.itemCode || a.unit !== b.unit;

/** Whether a line of a site review says something else than the one it was copied from. */
export const departs = (edit: Edit, base: ScopeLine): boolean =>
  isOtherWork(edit, base) || edit.by !== base.by || edit.quantity !== base.quantity;

/** What keeps an edit from being saved, in words; null when nothing does. */
export function problemOf(edit: Edit, review: boolean, base: ScopeLine | null): string | null {
  if (edit.quantity === null) return "enter how much";
  if (Number(edit.quantity) <= 0) return "more than nothing; choose keep where nothing is done";
  if (review && (base === null || departs(edit, base))) {
    if (edit.reasonCode === null) return "choose why it differs";
    if (edit.reason.trim().length < 3) return "say why in a few words";
  }
  return null;
}

type Told = Pick<ScopeLine, "action" | "unit" | "by"> & { quantity: string | null };

/** "replace 26", "replace 214 sq ft, by owner". */
export function workWords({ action, quantity: amount, unit, by }: Told): string {
  const much = amount === null ? "" : ` ${quantity(amount, unit)}`;
  return `${words(action)}${much}${by === "us" ? "" : `, by ${by}`}`;
}

/** "by us", "by owner", "by others". */
export const doerWords = (by: ScopeLine["by"]): string => `by ${by}`;
