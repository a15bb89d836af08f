import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { type Allowance, allowanceFindings, expectedQuantity } from "@ledgerboard/estimating";

export type Charged = Allowance["charge"];

/** An allowance as it stands in the fields: a part is null while what is typed is no number. */
export interface AllowanceEdit {
  chanceBp: number | null;
  lowQuantity: string | null;
  highQuantity: string | null;
  capQuantity: string | null;
  charge: Charged;
}
export type AllowancePart = keyof AllowanceEdit;

export const noAllowance = (charge: Charged): AllowanceEdit => ({
  chanceBp: null,
  lowQuantity: null,
  highQuantity: null,
  capQuantity: null,
  charge,
});

/** The allowance once every part of it is known; null before. */
export function wholeAllowance(edit: AllowanceEdit | null): Allowance | null {
  if (!edit) return null;
  const { chanceBp, lowQuantity, highQuantity, capQuantity, charge } = edit;
  if (chanceBp === null || lowQuantity === null || highQuantity === null || capQuantity === null) return null;
  return { chanceBp, lowQuantity, highQuantity, capQuantity, charge };
}

/** The most that is thought possible is also the first cap that comes to mind, until another is typed. */
export function withMost(edit: AllowanceEdit, highQuantity: string | null): AllowanceEdit {
  const follows = edit.capQuantity === null || edit.capQuantity === edit.highQuantity;
  return { ...edit, highQuantity, capQuantity: follows ? highQuantity : edit.capQuantity };
}

const ASKED: [AllowancePart, string][] = [
  ["chanceBp", "say how likely it is that there is anything"],
  ["lowQuantity", "say how little it may be"],
  ["highQuantity", "say how much it may be at most"],
  ["capQuantity", "say up to how much the customer agrees to pay"],
];

/** Faults of a typed allowance by its part, in words that go on from "not saved yet:". */
export function allowanceFaults(
  edit: AllowanceEdit,
  quantity: string | null,
): Partial<Record<AllowancePart, string>> {
  const faults: Partial<Record<AllowancePart, string>> = {};
  for (const [part, words] of ASKED) if (edit[part] === null) faults[part] = words;
  const whole = wholeAllowance(edit);
  if (!whole || quantity === null) return faults;
  for (const { field, words } of allowanceFindings(quantity, whole))
    faults[field.replace("allowance.", "") as AllowancePart] ??= words;
  if (Number(whole.highQuantity) <= 0) faults.highQuantity ??= "The most must be more than nothing.";
  return faults;
}

/** What contradicts itself is said at its field at once; what is only missing is left for later. */
export function contradictions(
  edit: AllowanceEdit | null,
  quantity: string | null,
): Partial<Record<AllowancePart, string>> {
  if (!edit) return {};
  const faults = Object.entries(allowanceFaults(edit, quantity)) as [AllowancePart, string][];
  return Object.fromEntries(faults.filter(([part]) => edit[part] !== null));
}

/** What is expected of concealed work: chance times the mean of its bounds; null while something is missing. */
export function expectedOf(edit: AllowanceEdit, quantity: string | null): string | null {
  const whole = wholeAllowance(edit);
  return whole && quantity !== null ? expectedQuantity(quantity, whole) : null;
}

/** Whether what is typed is what is stored. */
export function sameTyped(a: AllowanceEdit | null, b: ScopeLine["allowance"]): boolean {
  if (a === null || b === null) return a === b;
  return (
    a.charge === b.charge &&
    a.chanceBp === b.chanceBp &&
    a.lowQuantity === b.lowQuantity &&
    a.highQuantity === b.highQuantity &&
    a.capQuantity === b.capQuantity
  );
}
