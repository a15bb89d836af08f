import { divide, MAX_CENTS, multiply, type Ratio, ratio, toCents } from "@ledgerboard/contracts/money";
import { EstimateInputError, type InputFinding } from "../input-error.ts";

/** Something that comes back: refinishing, washing, replacing. Due at the end of each year it falls in. */
export interface RecurringCost {
  words: string;
  costCents: number;
  /** Years between one time and the next, whole, 1 or more. */
  everyYears: number;
  /** End of the year it first falls due, whole, 1 or more. */
  firstYear: number;
}

/** Something that comes once, at the end of a year; 1 or more. */
export interface SingleCost {
  words: string;
  costCents: number;
  year: number;
}

/** The span of years looked at and the yearly rate at which later money counts less. */
export interface Horizon {
  /** Whole, 1 to 100. */
  years: number;
  /** Real rate, that is beyond inflation, in basis points, 0 to 3000. All costs are in the dollars of today. */
  discountBp: number;
}

export interface LifeCycle extends Horizon {
  initialCents: number;
  recurring?: readonly RecurringCost[];
  once?: readonly SingleCost[];
  /** What is left of its worth at the end of the last year; taken off. */
  residualCents?: number;
}

/** One amount at the end of a year, year 0 being now; below zero for money back. */
export interface Flow {
  year: number;
  words: string;
  costCents: number;
  presentCents: number;
}

export interface LifeCycleCost {
  /** All costs in today's worth: the sum of the rounded flows. */
  presentValueCents: number;
  nowCents: number;
  /** All costs as they are paid, not discounted. */
  overYearsCents: number;
  /** The same amount every year that comes to the present value. */
  annualEquivalentCents: number;
  /** By year, and within a year in the order given. */
  flows: Flow[];
}

const MAX_YEARS = 100;
/** A real rate above 30% a year is a slip. Common practice, no source. */
const MAX_DISCOUNT_BP = 3000;

const whole = (value: number, from: number, to: number) =>
  Number.isInteger(value) && value >= from && value <= to;

/** Faults of a horizon, each named by its field. */
export function horizonFindings({ years, discountBp }: Horizon): InputFinding[] {
  const findings: InputFinding[] = [];
  if (!whole(years, 1, MAX_YEARS))
    findings.push({ field: "years", words: `Must be whole years from 1 to ${MAX_YEARS}; got ${years}.` });
  if (!whole(discountBp, 0, MAX_DISCOUNT_BP))
    findings.push({
      field: "discountBp",
      words: `Must be from 0% to ${MAX_DISCOUNT_BP / 100}%, in whole basis points; got ${discountBp}.`,
    });
  return findings;
}

function centsFindings(field: string, cents: number): InputFinding[] {
  if (whole(cents, 0, MAX_CENTS)) return [];
  return [{ field, words: `Must be whole cents from 0 to ${MAX_CENTS}; got ${cents}.` }];
}

/** Faults of a year or interval that may lie beyond the horizon, and then costs nothing. */
export function yearFindings(field: string, year: number): InputFinding[] {
  if (whole(year, 1, MAX_YEARS)) return [];
  return [{ field, words: `Must be a whole year from 1 to ${MAX_YEARS}; got ${year}.` }];
}

function findingsOf({ initialCents, recurring = [], once = [], residualCents = 0, ...horizon }: LifeCycle) {
  return [
    ...horizonFindings(horizon),
    ...centsFindings("initialCents", initialCents),
    ...centsFindings("residualCents", residualCents),
    ...recurring.flatMap(({ costCents, everyYears, firstYear }, i) => [
      ...centsFindings(`recurring[${i}].costCents`, costCents),
      ...yearFindings(`recurring[${i}].everyYears`, everyYears),
      ...yearFindings(`recurring[${i}].firstYear`, firstYear),
    ]),
    ...once.flatMap(({ costCents, year }, i) => [
      ...centsFindings(`once[${i}].costCents`, costCents),
      ...yearFindings(`once[${i}].year`, year),
    ]),
  ];
}

/** (1 + rate)^years, exact. */
const growth = (discountBp: number, years: number): Ratio => ({
  num: BigInt(10_000 + discountBp) ** BigInt(years),
  den: 10_000n ** BigInt(years),
});

/** What an amount at the end of a year is worth today: amount / (1 + rate)^year, half-up to the cent. */
const presentCents = (costCents: number, year: number, discountBp: number): number =>
  toCents(divide(ratio(costCents), growth(discountBp, year)));

/** rate (1 + rate)^years / ((1 + rate)^years - 1): the yearly share of a present value, the uniform capital recovery. */
function capitalRecovery({ years, discountBp }: Horizon): Ratio {
  if (discountBp === 0) return { num: 1n, den: BigInt(years) };
  const { num, den } = growth(discountBp, years);
  return multiply({ num: BigInt(discountBp), den: 10_000n }, { num, den: num - den });
}

/**
 * Life-cycle cost by the present-value method: what is paid now and what is paid over the years, each amount at the
 * end of its year divided by (1 + rate)^year. Amounts are in the dollars of today and the rate is real, so that
 * inflation is left out of both. Costs due in the last year count; what lies beyond it does not.
 *
 * Each flow is rounded half-up to the cent once; present value and total are sums of the rounded flows; the annual
 * equivalent is the present value times the uniform capital recovery factor. Exact arithmetic throughout.
 *
 * Throws EstimateInputError naming each faulty field.
 *
 * Source: NIST Handbook 135, "Life-Cycle Costing Manual for the Federal Energy Management Program", 1995 edition;
 * ASTM E917 (both from memory).
 */
export function lifeCycleCost(input: LifeCycle): LifeCycleCost {
  const findings = findingsOf(input);
  if (findings.length > 0) throw new EstimateInputError(findings);
  const { initialCents, recurring = [], once = [], residualCents = 0, years, discountBp } = input;
  const flows: Flow[] = [];
  const add = (year: number, words: string, costCents: number) => {
    if (year <= years)
      flows.push({ year, words, costCents, presentCents: presentCents(costCents, year, discountBp) });
  };
  add(0, "Now", initialCents);
  for (const { words, costCents, everyYears, firstYear } of recurring)
    for (let year = firstYear; year <= years; year += everyYears) add(year, words, costCents);
  for (const { words, costCents, year } of once) add(year, words, costCents);
  if (residualCents > 0) add(years, "Worth left at the end", -residualCents);
  flows.sort((a, b) => a.year - b.year);
  const sum = (part: "costCents" | "presentCents") => flows.reduce((total, flow) => total + flow[part], 0);
  const presentValueCents = sum("presentCents");
  return {
    presentValueCents,
    nowCents: initialCents,
    overYearsCents: sum("costCents"),
    annualEquivalentCents: toCents(multiply(ratio(presentValueCents), capitalRecovery(input))),
    flows,
  };
}
