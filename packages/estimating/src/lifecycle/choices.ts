import { divide, MAX_CENTS, multiply, type Ratio, ratio, toCents } from "@ledgerboard/contracts/money";
import { EstimateInputError, type InputFinding } from "../input-error.ts";
import {
  type Flow,
  type Horizon,
  horizonFindings,
  type LifeCycleCost,
  lifeCycleCost,
  yearFindings,
} from "./cost.ts";

/** One material a customer may choose. Costs are decimal cents for one unit, from priced assemblies. */
export interface MaterialChoice {
  name: string;
  unitCents: string;
  /** What it asks for over the years: refinishing, washing. */
  upkeep: readonly { words: string; unitCents: string; everyYears: number; firstYear: number }[];
  /** After how many years it is replaced; null where it outlasts the horizon. */
  service: { years: number; replaceUnitCents: string } | null;
}

export interface ComparedChoice extends LifeCycleCost {
  name: string;
  /** 1 for the lowest present value; equal values share a rank. */
  rank: number;
  /**
   * The first year by whose end this choice has cost less, in today's worth, than the one that is cheapest now; null
   * where it never does within the horizon, and for the one that is cheapest now.
   */
  breakEvenYear: number | null;
}

function amountFindings(field: string, text: string): InputFinding[] {
  try {
    if (ratio(text).num >= 0n) return [];
  } catch {
    // Falls through to the same words as for an amount below zero.
  }
  return [{ field, words: `Must be an amount such as 12.5, not below 0; got "${text}".` }];
}

const isTooMuch = ({ num, den }: Ratio) => num > BigInt(MAX_CENTS) * den;

function findingsOf(choices: readonly MaterialChoice[], quantity: string, horizon: Horizon): InputFinding[] {
  const findings = [...horizonFindings(horizon), ...amountFindings("quantity", quantity)];
  if (choices.length === 0) findings.push({ field: "choices", words: "Give at least one material." });
  for (const [i, { unitCents, upkeep, service }] of choices.entries()) {
    const at = `choices[${i}]`;
    findings.push(...amountFindings(`${at}.unitCents`, unitCents));
    for (const [k, item] of upkeep.entries()) {
      findings.push(...amountFindings(`${at}.upkeep[${k}].unitCents`, item.unitCents));
      findings.push(...yearFindings(`${at}.upkeep[${k}].everyYears`, item.everyYears));
      findings.push(...yearFindings(`${at}.upkeep[${k}].firstYear`, item.firstYear));
    }
    if (!service) continue;
    findings.push(...yearFindings(`${at}.service.years`, service.years));
    findings.push(...amountFindings(`${at}.service.replaceUnitCents`, service.replaceUnitCents));
  }
  return findings;
}

/** Cost of a choice: replaced each time its service ends before the horizon does; what is left of the last is credited. */
function costOf(
  { unitCents, upkeep, service }: MaterialChoice,
  quantity: Ratio,
  horizon: Horizon,
): LifeCycleCost {
  const total = (cents: string) => toCents(multiply(quantity, ratio(cents)));
  const recurring = upkeep.map(({ words, unitCents: each, everyYears, firstYear }) => {
    return { words, costCents: total(each), everyYears, firstYear };
  });
  const base = { initialCents: total(unitCents), recurring, ...horizon };
  if (!service) return lifeCycleCost(base);
  const { years } = horizon;
  const replacements = Math.ceil(years / service.years) - 1;
  const once = Array.from({ length: replacements }, (_, i) => ({
    words: "Replacing",
    costCents: total(service.replaceUnitCents),
    year: (i + 1) * service.years,
  }));
  const left = (replacements + 1) * service.years - years;
  const last = replacements > 0 ? total(service.replaceUnitCents) : base.initialCents;
  const residualCents = toCents(divide(multiply(ratio(last), ratio(left)), ratio(service.years)));
  return lifeCycleCost({ ...base, once, residualCents });
}

/** Present cost up to the end of each year from 0 to the horizon. */
function cumulative(flows: readonly Flow[], years: number): number[] {
  let sum = 0;
  return Array.from({ length: years + 1 }, (_, year) => {
    for (const flow of flows) if (flow.year === year) sum += flow.presentCents;
    return sum;
  });
}

/**
 * Materials side by side for `quantity` units (decimal text): what each costs now and over the years in today's worth,
 * lowest present value first, equal ones in the order given. A choice with a service life is replaced at its end, for
 * what replacing costs, and what is left of the last one at the horizon is credited in proportion to the years left:
 * only so do materials that last unlike long compare. Upkeep keeps to its own years throughout.
 *
 * Throws EstimateInputError naming each faulty field. Source: see lifeCycleCost; the residual value in proportion to
 * remaining life is the handbook's approximation (from memory). Lives and defaults: shared/life-cycle.json.
 */
export function compareChoices(
  input: { choices: readonly MaterialChoice[]; quantity: string } & Horizon,
): ComparedChoice[] {
  const { choices, quantity, years, discountBp } = input;
  const horizon = { years, discountBp };
  const findings = findingsOf(choices, quantity, horizon);
  if (findings.length > 0) throw new EstimateInputError(findings);
  const tooMuch = choices.flatMap(({ unitCents, upkeep, service }, i): InputFinding[] => {
    const dearest = [unitCents, ...upkeep.map((u) => u.unitCents), service?.replaceUnitCents ?? "0"];
    return dearest.some((cents) => isTooMuch(multiply(ratio(quantity), ratio(cents))))
      ? [
          {
            field: `choices[${i}]`,
            words: "Comes to more than $10,000,000; check the quantity and unit costs.",
          },
        ]
      : [];
  });
  if (tooMuch.length > 0) throw new EstimateInputError(tooMuch);
  const costs = choices.map((choice) => ({ name: choice.name, ...costOf(choice, ratio(quantity), horizon) }));
  const cheapestNow = costs.reduce((a, b) => (b.nowCents < a.nowCents ? b : a));
  const reference = cumulative(cheapestNow.flows, years);
  return costs
    .map((cost) => {
      const year =
        cost.nowCents > cheapestNow.nowCents
          ? cumulative(cost.flows, years).findIndex((cents, y) => cents < (reference[y] ?? 0))
          : -1;
      const rank = 1 + costs.filter((c) => c.presentValueCents < cost.presentValueCents).length;
      return { ...cost, rank, breakEvenYear: year < 0 ? null : year };
    })
    .sort((a, b) => a.rank - b.rank);
}
