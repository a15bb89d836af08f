import type { Comparison, ScopeLine } from "@ledgerboard/contracts/estimates";
import { hours, plural, quantity, words } from "../../ui/format.ts";
import { allowanceWords, doerWords } from "../estimate/told.ts";
import type { Step } from "./spans.ts";

export type Change = Comparison["changes"][number];
export type Kind = Change["kind"];

/** The groups of the table, in the order of the bridge; what did not change comes last. */
export const KINDS: readonly Kind[] = [
  "removed",
  "added",
  "action",
  "quantity",
  "rate",
  "allowance",
  "evidence",
  "unchanged",
];

export const KIND_NAMES: Record<Kind, string> = {
  removed: "Taken out",
  added: "Added",
  action: "Other work",
  quantity: "Other quantity",
  rate: "Other rate",
  allowance: "Other allowance",
  evidence: "Only known better",
  unchanged: "Unchanged",
};

/** "replace 26", "replace 214 sq ft by owner". */
export function lineWords(line: ScopeLine): string {
  const by = line.by === "us" ? "" : ` by ${line.by}`;
  const extra = line.alternate ? `, extra: ${line.alternate}` : "";
  const unseen = line.allowance ? `, ${allowanceWords(line.allowance, line.unit)}` : "";
  return `${words(line.action)} ${quantity(line.quantity, line.unit)}${by}${extra}${unseen}`;
}

/** The line that moved a step most, in a few words, for below its board. */
export function stepNote(step: Step, changes: readonly Change[]): string {
  if (step === "overhead_and_tax" || step === "whole_job") return "";
  const here = changes.filter(({ kind, delta }) => kind === step && delta.cents !== 0);
  const [most] = here.toSorted((a, b) => Math.abs(b.delta.cents) - Math.abs(a.delta.cents));
  const line = most?.after ?? most?.before;
  if (!most || !line) return "";
  const component = words(line.component);
  const { before, after } = most;
  const told =
    step === "quantity" && before && after
      ? `${component} ${quantity(before.quantity)}→${quantity(after.quantity, after.unit)}`
      : step === "action" && before && after
        ? `${component}: ${otherWork(before, after)}`
        : step === "allowance"
          ? component
          : `${component}, ${words(line.action)} ${quantity(line.quantity, line.unit)}`;
  return here.length === 1 ? told : `${told} and ${plural(here.length - 1, "more", "more")}`;
}

/** In what two lines are other work: action, doer, extra or assembly. */
function otherWork(before: ScopeLine, after: ScopeLine): string {
  if (before.action !== after.action) return `${words(before.action)}→${words(after.action)}`;
  if (before.by !== after.by) return `${doerWords(before.by)}→${doerWords(after.by)}`;
  if (before.alternate !== after.alternate) return after.alternate ? "now an extra" : "no extra any more";
  return "other assembly";
}

/** A revision as a side of the comparison: "first pass", or with its number where both are of a kind. */
export function sideNames({ from, to }: Pick<Comparison, "from" | "to">): [from: string, to: string] {
  if (from.kind !== to.kind) return [words(from.kind), words(to.kind)];
  return [`${words(from.kind)} ${from.number}`, `${words(to.kind)} ${to.number}`];
}

/** "9.6 h" as a difference: "+6 h", "−18.5 h", "0 h". */
export function hoursChange(delta: string): string {
  if (delta.startsWith("-")) return `−${hours(delta.slice(1))}`;
  return Number(delta) === 0 ? "0 h" : `+${hours(delta)}`;
}
