import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { percent, quantity, words } from "../../ui/format.ts";
import type { AllowanceEdit } from "./allowance.ts";

/** "by us", "by owner", "by others". */
export const doerWords = (by: ScopeLine["by"]): string => (by === "owner" ? "by owner" : words(by));

/** "20% chance of 2 to 8 ft, only if found, at most 8": what is known of concealed work and how it is charged. */
export function allowanceWords(edit: AllowanceEdit, unit: string): string {
  const much = (value: string | null, its?: string) => (value === null ? "…" : quantity(value, its));
  const chance = edit.chanceBp === null ? "…" : percent(edit.chanceBp);
  const charged =
    edit.charge === "included"
      ? "in the price at its expected amount"
      : `only if found, at most ${much(edit.capQuantity)}`;
  return `${chance} chance of ${much(edit.lowQuantity)} to ${much(edit.highQuantity, unit)}, ${charged}`;
}
