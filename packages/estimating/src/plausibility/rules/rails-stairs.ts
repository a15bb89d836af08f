import type { Rule } from "../rule.ts";
import { PRACTICE } from "../rule.ts";
import {
  alongside,
  amountText,
  amountWords,
  bringsNew,
  existing,
  inBase,
  linesOf,
  numberWords,
  toNumber,
  total,
} from "../view.ts";
import { anyOf, needs, perZone } from "./shared.ts";

export const treadsWithoutStringers: Rule = {
  id: "treads_without_stringers",
  title: "Treads with no stringers to carry them",
  severity: "warning",
  source: PRACTICE,
  check: perZone("tread", bringsNew, (line) => {
    const stairs = line.zone.geometry?.stairs ?? [];
    const carried =
      stairs.length > 0 ? stairs.some(({ stringers }) => stringers > 0) : line.action === "replace";
    if (carried || anyOf(line, "stringer")) return null;
    return needs(
      line,
      `${amountWords(line.amount, line.unit, "tread")} on ${line.zone.name} and no stringers under them, drawn or listed. Add the stringers, or draw the stair.`,
    );
  }),
};

export const stringersWithoutTreads: Rule = {
  id: "stringers_without_treads",
  title: "Stringers replaced, treads kept",
  severity: "warning",
  source: PRACTICE,
  check: perZone(
    "stringer",
    ({ action }) => action === "replace",
    (line) =>
      anyOf(line, "tread", ["replace", "add", "remove", "refasten"])
        ? null
        : needs(
            line,
            `${amountWords(line.amount, line.unit, "stringer")} replaced on ${line.zone.name}, and the treads stay. Treads come off with the stringers and seldom go back whole: add them.`,
          ),
  ),
};

export const guardPostsWithoutRails: Rule = {
  id: "guard_posts_without_rails",
  title: "Guard posts replaced, rails not mentioned",
  severity: "note",
  source: PRACTICE,
  check: perZone(
    "guard_post",
    ({ action }) => action === "replace",
    (line) =>
      (["rail", "rail_cap", "baluster"] as const).some((c) =>
        alongside(line, c).some(({ action }) => action !== "keep"),
      )
        ? null
        : needs(
            line,
            `${amountWords(line.amount, line.unit, "guard_post")} replaced on ${line.zone.name}: the rails come off and go back on. Add refitting or new rails.`,
          ),
  ),
};

export const balustersShortOfRun: Rule = {
  id: "balusters_short_of_run",
  title: "Too few balusters for the run",
  severity: "warning",
  source: "Arithmetic on IRC 2018 R312.1.3: openings that a 4 in sphere does not pass",
  check: perZone(
    "baluster",
    (line) => line.unit === "each" && inBase(line) && line.action !== "remove",
    (line, all) => {
      const needed = existing(line.zone, "baluster", "each");
      const [railing, rails] = [existing(line.zone, "rail", "lf"), linesOf(line.zone, "rail")];
      const renewed = total(rails.filter((l) => bringsNew(l) && inBase(l) && l.unit === "lf"));
      const counted = total(all);
      if (needed === null || counted >= needed) return null;
      // A few balusters added among old ones are no whole run.
      const added = total(all.filter((l) => l.action === "add"));
      const wholeRun =
        (railing !== null && renewed >= 0.95 * railing) ||
        (added > 0 && (added >= needed / 2 || all.some((l) => l.action === "keep")));
      if (!wholeRun) return null;
      return {
        line,
        field: "quantity",
        numbers: { counted: amountText(counted), needed: amountText(needed) },
        words: `The run on ${line.zone.name} takes ${amountWords(needed, "each", "baluster")} by the drawing; the lines have ${numberWords(toNumber(counted))}. The gaps would let a 4 in sphere through. Local code decides.`,
      };
    },
  ),
};
