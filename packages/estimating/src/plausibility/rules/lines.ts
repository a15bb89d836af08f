import { type Component, type Unit, words } from "@ledgerboard/contracts/vocabulary";
import type { Remark, Rule } from "../rule.ts";
import { PRACTICE } from "../rule.ts";
import {
  amountText,
  amountWords,
  existing,
  firstOf,
  inBase,
  type LineView,
  numberWords,
  toNumber,
  total,
  type ZoneView,
} from "../view.ts";
import { DONE, groupBy } from "./shared.ts";

const LENGTH_OR_PIECE: readonly Unit[] = ["lf", "each"];
const AREA_TOO: readonly Unit[] = ["sqft", "lf", "each"];
/** The units each component is counted in, besides hours and lump sums. Common practice, no source. */
const UNITS_OF: Record<Component, readonly Unit[]> = {
  decking: AREA_TOO,
  joist: LENGTH_OR_PIECE,
  rim_joist: LENGTH_OR_PIECE,
  band: LENGTH_OR_PIECE,
  beam: LENGTH_OR_PIECE,
  post: LENGTH_OR_PIECE,
  footing: ["each"],
  ledger: LENGTH_OR_PIECE,
  joist_hanger: ["each"],
  guard_post: LENGTH_OR_PIECE,
  rail_cap: LENGTH_OR_PIECE,
  rail: LENGTH_OR_PIECE,
  baluster: LENGTH_OR_PIECE,
  gate: ["each"],
  stringer: LENGTH_OR_PIECE,
  tread: AREA_TOO,
  riser: AREA_TOO,
  skirting: AREA_TOO,
  lattice: AREA_TOO,
  flashing: LENGTH_OR_PIECE,
  fastener: AREA_TOO,
  finish: AREA_TOO,
};
/** Coats and washing go by area whatever the component. */
const BY_AREA: ReadonlySet<string> = new Set(["clean", "finish", "treat"]);

const fits = ({ component, action, unit }: LineView) =>
  unit === "hour" ||
  unit === "lot" ||
  UNITS_OF[component].includes(unit) ||
  (unit === "sqft" && BY_AREA.has(action));

export const unitNotForComponent: Rule = {
  id: "unit_not_for_component",
  title: "A unit the component is not counted in",
  severity: "blocking",
  source: PRACTICE,
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] =>
      fits(line)
        ? []
        : [
            {
              line,
              field: "unit",
              numbers: { unit: line.unit, component: line.component },
              words: `${words(line.component)} is counted ${UNITS_OF[line.component].map(words).join(" or ")}, not ${words(line.unit)}. Choose the unit again.`,
            },
          ],
    ),
};

export const unitNotOfAssembly: Rule = {
  id: "unit_not_of_assembly",
  title: "A unit other than the assembly is priced in",
  severity: "blocking",
  source: "Arithmetic: a price for one unit cannot be multiplied by another",
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] =>
      line.assemblyUnit === null || line.assemblyUnit === line.unit
        ? []
        : [
            {
              line,
              field: "unit",
              numbers: { unit: line.unit, assemblyUnit: line.assemblyUnit },
              words: `${line.assemblyCode ?? "The assembly"} is priced by ${words(line.assemblyUnit)}, the line counts ${words(line.unit)}. Use ${words(line.assemblyUnit)}, or another assembly.`,
            },
          ],
    ),
};

export const unitsMixed: Rule = {
  id: "units_mixed",
  title: "One component counted in two units",
  severity: "note",
  source: PRACTICE,
  check: ({ zones }) =>
    zones.flatMap((zone) =>
      [...zone.byComponent].flatMap(([component, all]): Remark[] => {
        const byAction = groupBy(all, ({ action }) => action);
        return [...byAction.values()].flatMap((lines): Remark[] => {
          const units = [...new Set(lines.map(({ unit }) => unit))].filter(
            (u) => u !== "hour" && u !== "lot",
          );
          const line = firstOf(lines);
          if (units.length < 2 || !line) return [];
          const said = units.sort().map(words).join(" and ");
          return [
            {
              line,
              field: "unit",
              numbers: { units: units.join(",") },
              words: `${words(component)} on ${zone.name} is ${DONE[line.action]} in ${said}: the same parts may be counted twice. Use one unit.`,
            },
          ];
        });
      }),
    ),
};

/** The same work twice: nothing tells the lines apart but, perhaps, the quantity. */
const sameWork = (line: LineView) =>
  [line.component, line.action, line.alternate ?? "", line.by, line.assemblyCode ?? ""].join("|");

export const duplicateLines: Rule = {
  id: "duplicate_lines",
  title: "The same work twice",
  severity: "warning",
  source: PRACTICE,
  check: ({ zones }) =>
    zones.flatMap((zone) =>
      [...groupBy(zone.lines, sameWork).values()].flatMap((lines): Remark[] => {
        const line = firstOf(lines);
        if (lines.length < 2 || !line) return [];
        const twins = new Set(lines.map(({ amount, unit }) => `${amount} ${unit}`)).size < lines.length;
        const quantities = lines.map((l) => `${amountText(l.amount)} ${l.unit}`).sort();
        const what = `${words(line.component)} on ${zone.name} is ${DONE[line.action]} in ${lines.length} lines`;
        return [
          {
            line,
            field: "component",
            numbers: { quantities: quantities.join(", ") },
            severity: twins ? "warning" : "note",
            words: twins
              ? `${what}, two of them alike. Take one out if it is the same work.`
              : `${what}. Put them together unless they are different places.`,
          },
        ];
      }),
    ),
};

function repeats(zone: ZoneView, line: LineView, base: readonly LineView[]): Remark[] {
  const { component, action, unit } = line;
  const same = base.filter((b) => b.component === component && b.action === action && b.unit === unit);
  const inside = total(same);
  if (same.length === 0) return [];
  const there = existing(zone, component, unit);
  if (there === null ? !same.some((b) => b.amount === line.amount) : inside + line.amount <= there) return [];
  const known = there === null ? "" : `, and ${zone.name} has ${numberWords(toNumber(there))}`;
  return [
    {
      line,
      field: "alternate",
      numbers: {
        base: amountText(inside),
        extra: amountText(line.amount),
        there: there === null ? "unknown" : amountText(there),
      },
      words: `The extra "${line.alternate}" has ${amountWords(line.amount, unit, component)} ${DONE[action]} that the base scope already has ${numberWords(toNumber(inside))} of${known}. The customer would pay twice.`,
    },
  ];
}

export const alternateRepeatsBase: Rule = {
  id: "alternate_repeats_base",
  title: "An optional extra repeats the base scope",
  severity: "warning",
  source: "Arithmetic: what the drawing of the zone counts",
  check: ({ zones }) =>
    zones.flatMap((zone) => {
      const base = zone.lines.filter(inBase);
      return zone.lines.flatMap((line) => (inBase(line) ? [] : repeats(zone, line, base)));
    }),
};
