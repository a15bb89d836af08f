import { type Component, type Unit, words } from "@ledgerboard/contracts/vocabulary";
import { USUAL_UNIT } from "../../takeoff/units.ts";
import type { Remark, Rule } from "../rule.ts";
import { PRACTICE } from "../rule.ts";
import {
  type Amount,
  amountText,
  amountWords,
  bringsNew,
  existing,
  firstOf,
  inBase,
  type LineView,
  linesOf,
  numberWords,
  takesOut,
  toNumber,
  total,
  type ZoneView,
} from "../view.ts";
import { DONE, groupBy } from "./shared.ts";

/** Lengths and areas are measured to a foot at best: two parts in a hundred, and at least one, are no contradiction. */
const slack = (unit: Unit, there: Amount): Amount =>
  unit === "lf" || unit === "sqft" ? Math.max(10_000, there * 0.02) : 0;

interface Together {
  component: Component;
  unit: Unit;
  there: Amount;
  lines: LineView[];
}

/** The unit a component's lines are added up in, of those the drawing counts it in: the trade's own where it is there. */
function mainUnit(component: Component, units: readonly Unit[]): Unit | undefined {
  const usual = USUAL_UNIT[component];
  return units.includes(usual) ? usual : [...units].sort()[0];
}

/**
 * Lines of one zone and component that are done together: the base scope, or one optional extra by itself. Lines in
 * several units that the drawing counts are brought to one: half of all joists is half of their feet.
 */
function together(zone: ZoneView): Together[] {
  const groups: Together[] = [];
  for (const [component, all] of zone.byComponent)
    for (const lines of groupBy(all, (line) => line.alternate ?? "").values()) {
      const there = new Map<Unit, Amount>();
      for (const { unit } of lines) {
        const amount = existing(zone, component, unit);
        if (amount !== null && amount > 0) there.set(unit, amount);
      }
      const unit = mainUnit(component, [...there.keys()]);
      const inMain = unit && there.get(unit);
      if (!unit || !inMain) {
        // Nothing of it in any unit: whatever is done to it is more than there is.
        for (const [bare, counted] of groupBy(lines, (line) => line.unit))
          if (existing(zone, component, bare as Unit) === 0)
            groups.push({ component, unit: bare as Unit, there: 0, lines: counted });
        continue;
      }
      const converted = lines.flatMap((line) => {
        const own = there.get(line.unit);
        if (own === undefined) return [];
        return [line.unit === unit ? line : { ...line, amount: Math.round((line.amount * inMain) / own) }];
      });
      groups.push({ component, unit, there: inMain, lines: converted });
    }
  return groups;
}

function overMuch(
  zone: ZoneView,
  groups: readonly Together[],
  which: (line: LineView) => boolean,
  say: (w: OverMuch) => string,
): Remark[] {
  const remarks: Remark[] = [];
  for (const { component, unit, there, lines } of groups) {
    const worked = lines.filter(which);
    const sum = total(worked);
    if (worked.length === 0 || sum <= there + slack(unit, there)) continue;
    const line = firstOf(worked);
    if (!line) continue;
    remarks.push({
      line,
      field: "quantity",
      numbers: { worked: amountText(sum), there: amountText(there), unit },
      words: say({
        zone: zone.name,
        worked: amountWords(sum, unit, component),
        there: numberWords(toNumber(there)),
        lines: worked.length,
        done: DONE[line.action],
      }),
    });
  }
  return remarks;
}

interface OverMuch {
  zone: string;
  worked: string;
  there: string;
  lines: number;
  done: string;
}

export const moreReplacedThanExists: Rule = {
  id: "more_replaced_than_exists",
  title: "More is replaced than exists",
  severity: "blocking",
  source: "Arithmetic: what the drawing of the zone counts",
  check: ({ zones }) =>
    zones.flatMap((zone) =>
      overMuch(
        zone,
        together(zone),
        takesOut,
        ({ zone: name, worked, there, lines }) =>
          `${worked} come out of ${name}${lines > 1 ? ` over ${lines} lines` : ""}; it has only ${there}. Count again, or correct the drawing.`,
      ),
    ),
};

const WORKED_IN_PLACE = ["repair", "refasten", "treat", "clean", "finish", "open_up", "keep"] as const;

export const moreWorkedThanExists: Rule = {
  id: "more_worked_than_exists",
  title: "More is worked on than exists",
  severity: "warning",
  source: "Arithmetic: what the drawing of the zone counts",
  check: ({ zones }) =>
    zones.flatMap((zone) => {
      const groups = together(zone);
      return WORKED_IN_PLACE.flatMap((action) =>
        overMuch(
          zone,
          groups,
          (line) => line.action === action,
          ({ zone: name, worked, there, done }) =>
            `${worked} ${done} on ${name}; it has only ${there}. Count again, or correct the drawing.`,
        ),
      );
    }),
};

const SAVED: ReadonlySet<string> = new Set(["repair", "sister", "reinforce", "treat", "refasten"]);

export const countDisagrees: Rule = {
  id: "count_disagrees",
  title: "Kept and replaced do not add up to what exists",
  severity: "warning",
  source: "Arithmetic: what the drawing of the zone counts",
  check: ({ zones }) =>
    zones.flatMap((zone) => {
      const remarks: Remark[] = [];
      for (const { component, unit, there, lines } of together(zone)) {
        const kept = lines.filter((line) => line.action === "keep");
        const [line, out] = [firstOf(kept), total(lines.filter(takesOut))];
        const least = total(kept) + out;
        const most = least + total(lines.filter(({ action }) => SAVED.has(action)));
        const room = slack(unit, there);
        if (!line || (there >= least - room && there <= most + room)) continue;
        remarks.push({
          line,
          field: "quantity",
          numbers: { kept: amountText(total(kept)), out: amountText(out), there: amountText(there) },
          words:
            `${zone.name} has ${amountWords(there, unit, component)} by the drawing, but ` +
            `${numberWords(toNumber(total(kept)))} kept and ${numberWords(toNumber(out))} taken out make ${numberWords(toNumber(least))}. One of the counts is wrong.`,
        });
      }
      return remarks;
    }),
};

export const fastenersOffCrossings: Rule = {
  id: "fasteners_off_crossings",
  title: "Fasteners do not match the board crossings",
  severity: "warning",
  source:
    "IRC 2018 R507.7: two fasteners at each bearing; the allowed difference is common practice, no source",
  check: ({ zones }) =>
    zones.flatMap((zone): Remark[] => {
      const boards = linesOf(zone, "decking").filter((l) => bringsNew(l) && inBase(l) && l.unit === "sqft");
      const screws = linesOf(zone, "fastener").filter(
        (l) =>
          bringsNew(l) &&
          inBase(l) &&
          l.unit === "each" &&
          !/struct|ledger|bolt|lag|hanger/i.test(l.description),
      );
      const [area, all] = [existing(zone, "decking", "sqft"), existing(zone, "fastener", "each")];
      const line = firstOf(screws);
      if (!line || boards.length === 0 || !area || !all) return [];
      const needed = Math.round((toNumber(all) * Math.min(area, total(boards))) / area);
      const counted = toNumber(total(screws));
      if (counted >= 0.75 * needed && counted <= 1.5 * needed) return [];
      return [
        {
          line,
          field: "quantity",
          numbers: { counted: String(counted), needed: String(needed) },
          words: `${numberWords(toNumber(total(boards)))} sq ft of new boards take about ${numberWords(needed)} fasteners, two at each crossing; the line has ${numberWords(counted)}.`,
        },
      ];
    }),
};

/** Beyond this a quantity on one zone of a house is rather a slipped decimal point. Own choice, no source. */
const SELDOM_ABOVE: Partial<Record<`${Component} ${Unit}`, number>> = {
  "decking sqft": 2500,
  "decking each": 600,
  "joist each": 150,
  "joist lf": 2500,
  "rim_joist lf": 300,
  "beam lf": 300,
  "post each": 60,
  "footing each": 60,
  "ledger lf": 120,
  "joist_hanger each": 300,
  "guard_post each": 100,
  "rail lf": 500,
  "rail_cap lf": 500,
  "baluster each": 1500,
  "gate each": 6,
  "stringer each": 40,
  "tread each": 100,
  "riser each": 100,
  "skirting sqft": 1500,
  "lattice sqft": 1000,
  "flashing lf": 300,
  "fastener each": 10_000,
};

export const quantitySlip: Rule = {
  id: "quantity_slip",
  title: "A quantity far above what a house has",
  severity: "warning",
  source: PRACTICE,
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] => {
      const { component, unit, amount, zone } = line;
      const there = existing(zone, component, unit);
      const beyondDrawing = there !== null && line.action === "add" && amount > 10 * there;
      const most = beyondDrawing ? toNumber(there) * 10 : SELDOM_ABOVE[`${component} ${unit}`];
      if (most === undefined || toNumber(amount) <= most) return [];
      return [
        {
          line,
          field: "quantity",
          numbers: { quantity: amountText(amount), seldomAbove: numberWords(most), unit },
          words: `${amountWords(amount, unit, component)} on ${zone.name}: that is far more than a house has. Look for a slipped decimal point.`,
        },
      ];
    }),
};

export const partOfAPiece: Rule = {
  id: "part_of_a_piece",
  title: "Part of a piece is counted",
  severity: "note",
  source: PRACTICE,
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] =>
      line.unit !== "each" || line.allowance !== null || line.amount % 10_000 === 0
        ? []
        : [
            {
              line,
              field: "quantity",
              numbers: { quantity: amountText(line.amount) },
              words: `${amountWords(line.amount, "each", line.component)}: count whole pieces, or price ${words(line.component)} by the foot.`,
            },
          ],
    ),
};
