import type { Action, Component } from "@ledgerboard/contracts/vocabulary";
import type { Remark } from "../rule.ts";
import { alongside, amountText, firstOf, type LineView, linesOf, type ZoneView } from "../view.ts";

/** What has been done to a thing, in words: "12 joists are sistered". */
export const DONE: Record<Action, string> = {
  keep: "kept",
  clean: "cleaned",
  finish: "finished",
  refasten: "refastened",
  treat: "treated",
  reinforce: "reinforced",
  sister: "sistered",
  repair: "repaired",
  replace: "replaced",
  add: "added",
  remove: "removed",
  open_up: "opened up",
};

export function groupBy<T>(all: readonly T[], keyOf: (one: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const one of all) {
    const key = keyOf(one);
    const group = groups.get(key);
    if (group) group.push(one);
    else groups.set(key, [one]);
  }
  return groups;
}

/** For each zone the first line of a component that a condition picks, if there is one. */
export const perZone =
  (
    component: Component,
    picks: (line: LineView) => boolean,
    say: (line: LineView, all: LineView[]) => Remark | null,
  ) =>
  ({ zones }: { zones: readonly ZoneView[] }): Remark[] =>
    zones.flatMap((zone) => {
      const all = linesOf(zone, component).filter(picks);
      const line = firstOf(all);
      const remark = line && say(line, all);
      return remark ? [remark] : [];
    });

export const anyOf = (line: LineView, component: Component, actions?: readonly Action[]): boolean =>
  alongside(line, component).some((other) => !actions || actions.includes(other.action));

export const needs = (line: LineView, words: string): Remark => ({
  line,
  field: "component",
  numbers: { quantity: amountText(line.amount), unit: line.unit },
  words,
});

/** The count of one drawn part. Parts that cannot be counted are missing from the takeoff, and then none can be told apart. */
export const counted = <C, D>(
  counts: readonly C[] | undefined,
  drawn: readonly D[] | undefined,
  i: number,
) => (counts?.length === drawn?.length ? counts?.[i] : undefined);
