import { EstimateInputError, type InputFinding } from "../input-error.ts";
import { drawCosts } from "./draw.ts";
import { type ExactMoments, exactMoments, paidForFoundWork } from "./exact.ts";
import { type Bin, histogram } from "./histogram.ts";
import { quantile } from "./odds.ts";
import { type CostedRevision, lineRisks } from "./risk.ts";

export interface SimulationOptions {
  /** 100 to 1,000,000, whole. */
  draws: number;
  /** Whole, 0 to 4,294,967,295. */
  seed: number;
  /** How far the labor of two lines goes over or under together; DEFAULT_LABOR_CORRELATION_BP where it is not given. */
  laborCorrelationBp?: number;
}

/** Simulated net cost: what the job costs less what the customer pays for found work. Whole cents. */
export interface SimulatedCost {
  draws: number;
  seed: number;
  meanCents: number;
  standardDeviationCents: number;
  p10Cents: number;
  p50Cents: number;
  p90Cents: number;
  /** What the customer pays on average for found work; it is taken off the cost. */
  paidForFoundWorkCents: number;
  /** Labor hours as decimal text with up to two places. */
  hours: { mean: string; p10: string; p50: string; p90: string };
  histogram: Bin[];
  /** Closed forms of the same model, not rounded. */
  exact: ExactMoments;
  /** Net cost of every draw in cents, ascending, not rounded. */
  sortedCents: Float64Array;
}

/** One crew and one site carry part of any miss through the whole job. Common practice, no source. */
export const DEFAULT_LABOR_CORRELATION_BP = 3000;

const whole = (value: number, from: number, to: number) =>
  Number.isInteger(value) && value >= from && value <= to;

function checkOptions({ draws, seed }: SimulationOptions, correlationBp: number): void {
  const findings: InputFinding[] = [];
  if (!whole(draws, 100, 1_000_000))
    findings.push({ field: "draws", words: `Must be whole, from 100 to 1,000,000; got ${draws}.` });
  if (!whole(seed, 0, 0xffffffff))
    findings.push({ field: "seed", words: `Must be whole, from 0 to 4,294,967,295; got ${seed}.` });
  if (!whole(correlationBp, 0, 10_000))
    findings.push({
      field: "laborCorrelationBp",
      words: `Must be from 0% to 100%, in whole basis points; got ${correlationBp}.`,
    });
  if (findings.length > 0) throw new EstimateInputError(findings);
}

const cents = (value: number) => Math.round(value);
const hoursText = (value: number) => String(Math.round(value * 100) / 100);

function meanAndDeviation(values: Float64Array): [mean: number, deviation: number] {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  const squares = values.reduce((total, value) => total + (value - mean) ** 2, 0);
  return [mean, Math.sqrt(squares / (values.length - 1))];
}

/**
 * Draws the cost of a revision many times over, from a seed (Monte Carlo): how much it may cost, and how likely a
 * fixed price loses money (see chanceOfLoss and priceAtChanceOfLoss). `priced` is what priceRevision gives.
 *
 * The model:
 * - A line of known quantity costs what it was priced at, except that its labor is lognormal about its mean with the
 *   line's coefficient of variation. Overhead is a share of direct cost, as in pricing, so labor that runs over takes
 *   its overhead with it.
 * - Labor of different lines is correlated through one common normal factor g: line i has the factor
 *   exp(s z - s^2 / 2) with z = sqrt(rho) g + sqrt(1 - rho) e_i and s^2 = ln(1 + cv^2), whose mean is 1.
 * - A line with an allowance has something with its chance; then its quantity is triangular between least and most
 *   about the likeliest, and costs material, tax, labor, disposal, equipment and overhead by the unit, and its set-up
 *   once. Where it is charged only if found, the customer pays the agreed unit price up to the cap, which is taken
 *   off the cost. Amounts are not rounded inside a draw.
 * - Charges and what is left over of whole packs are fixed. Optional extras are left out.
 *
 * The mean of a job with an allowance inside the price may lie a little below its priced cost: the price carries the
 * set-up hours of the allowance in full, the draws only where there is something.
 *
 * Same input and seed give the same result bit for bit in one JavaScript engine; another engine's exp and log may
 * differ in the last bit. Throws EstimateInputError naming each faulty field.
 */
export function simulateCost(priced: CostedRevision, options: SimulationOptions): SimulatedCost {
  const { draws, seed, laborCorrelationBp = DEFAULT_LABOR_CORRELATION_BP } = options;
  checkOptions(options, laborCorrelationBp);
  const risks = lineRisks(priced);
  const fixedCents = [...priced.charges, ...priced.adjustments].reduce((a, b) => a + b.price.costCents, 0);
  const rho = laborCorrelationBp / 10_000;
  const drawn = drawCosts(risks, fixedCents, { draws, seed, rho });
  const sortedCents = drawn.cents.sort();
  const hours = drawn.hours.sort();
  const [mean, deviation] = meanAndDeviation(sortedCents);
  return {
    draws,
    seed,
    meanCents: cents(mean),
    standardDeviationCents: cents(deviation),
    p10Cents: cents(quantile(sortedCents, 1000)),
    p50Cents: cents(quantile(sortedCents, 5000)),
    p90Cents: cents(quantile(sortedCents, 9000)),
    paidForFoundWorkCents: cents(paidForFoundWork(risks)),
    hours: {
      mean: hoursText(meanAndDeviation(hours)[0]),
      p10: hoursText(quantile(hours, 1000)),
      p50: hoursText(quantile(hours, 5000)),
      p90: hoursText(quantile(hours, 9000)),
    },
    histogram: histogram(sortedCents),
    exact: exactMoments(risks, fixedCents, rho),
    sortedCents,
  };
}
