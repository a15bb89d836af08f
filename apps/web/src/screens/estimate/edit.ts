import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { words } from "@ledgerboard/contracts/vocabulary";
import { quantity } from "../../ui/format.ts";
import { type AllowanceEdit, allowanceFaults, sameTyped, wholeAllowance } from "./allowance.ts";
import { doerWords } from "./told.ts";

/** What a person decides about a scope line, in the order a conflict shows it. */
export const FIELDS = [
  "zoneId",
  "component",
  "action",
  "assemblyCode",
  "quantity",
  "unit",
  "evidence",
  "allowance",
  "by",
  "alternate",
  "description",
  "reasonCode",
  "reason",
] as const;
export type Field = (typeof FIELDS)[number];

/** A scope line as it stands in the fields. `quantity` is null while what is typed is no number. */
export interface Edit
  extends Omit<Pick<ScopeLine, Field>, "quantity" | "reason" | "alternate" | "allowance"> {
  quantity: string | null;
  /** Name of the optional extra; empty for the base scope. */
  alternate: string;
  /** Kept while somebody tries other evidence; it counts for concealed work only. */
  allowance: AllowanceEdit | null;
  reason: string;
}

export const toEdit = (line: ScopeLine): Edit => ({
  zoneId: line.zoneId,
  component: line.component,
  action: line.action,
  assemblyCode: line.assemblyCode,
  description: line.description,
  quantity: line.quantity,
  unit: line.unit,
  evidence: line.evidence,
  allowance: line.allowance,
  by: line.by,
  alternate: line.alternate ?? "",
  reasonCode: line.reasonCode,
  reason: line.reason ?? "",
});

/** One spelling for "no text", so that an emptied field and one never filled in are the same. */
const plain = (value: string | null): string | null => (value === null ? null : value.trim() || null);
const TEXTS: readonly Field[] = ["reason", "description", "alternate"];

/** The allowance that counts: concealed work has one, other work none. */
export const allowanceOf = (edit: Pick<Edit, "evidence" | "allowance">): AllowanceEdit | null =>
  edit.evidence === "concealed" ? edit.allowance : null;

function same(field: Field, edit: Edit, line: ScopeLine): boolean {
  if (field === "allowance") return sameTyped(allowanceOf(edit), line.allowance);
  if (TEXTS.includes(field))
    return plain(edit[field] as string | null) === plain(line[field] as string | null);
  return edit[field] === line[field];
}

/** The fields in which an edit differs from a stored line. */
export const changedFields = (edit: Edit, line: ScopeLine): Field[] =>
  FIELDS.filter((field) => !same(field, edit, line));

/** The request body that turns the stored line into the edit. */
export function changesOf(edit: Edit, line: ScopeLine): Record<string, unknown> {
  const value = (field: Field) => {
    if (field === "reason" || field === "alternate") return plain(edit[field]);
    if (field === "allowance") return wholeAllowance(allowanceOf(edit));
    return field === "description" ? edit.description.trim() : edit[field];
  };
  return Object.fromEntries(changedFields(edit, line).map((field) => [field, value(field)]));
}

type Work = Pick<Edit, "component" | "action" | "assemblyCode" | "unit">;
export const isOtherWork = (a: Work, b: Work): boolean =>
  a.component !== b.component ||
  a.action !== b.action ||
  a.assemblyCode !== b.assemblyCode ||
  a.unit !== b.unit;

/** Whether a line of a site review says something else than the one it was copied from. */
export const departs = (edit: Edit, base: ScopeLine): boolean =>
  isOtherWork(edit, base) ||
  edit.by !== base.by ||
  edit.quantity !== base.quantity ||
  !same("alternate", edit, base) ||
  !same("allowance", edit, base);

/** What keeps an edit from being saved, in words; null when nothing does. */
export function problemOf(edit: Edit, review: boolean, base: ScopeLine | null): string | null {
  if (edit.quantity === null) return "enter how much";
  if (Number(edit.quantity) <= 0) return "more than nothing; choose keep where nothing is done";
  const allowance = allowanceOf(edit);
  const fault = allowance && Object.values(allowanceFaults(allowance, edit.quantity))[0];
  if (fault) return fault;
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
  return `${words(action)}${much}${by === "us" ? "" : `, ${doerWords(by)}`}`;
}
