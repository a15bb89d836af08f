import type { LineRisk } from "./risk.ts";
import { triangularMean } from "./triangular.ts";

/** Mean and variance in closed form, not rounded: cents and square cents. */
export interface ExactMoments {
  meanCents: number;
  varianceCents2: number;
}

/** Mean cents that the customer pays for found work. */
export function paidForFoundWork(risks: readonly LineRisk[]): number {
  return risks.reduce(
    (total, { chance, quantity, paidUnitCents, capQuantity }) =>
      total + chance * triangularMean(quantity, capQuantity, (q) => paidUnitCents * Math.min(q, capQuantity)),
    0,
  );
}

/**
 * Mean and variance of the sum of independent line risks whose labor factors share a common normal factor with
 * correlation `rho`: two lognormal factors of mean 1 have covariance exp(rho s t) - 1. Source: "Log-normal
 * distribution", Wikipedia, https://en.wikipedia.org/wiki/Log-normal_distribution (from memory).
 */
export function exactMoments(risks: readonly LineRisk[], fixedCents: number, rho: number): ExactMoments {
  let meanCents = fixedCents;
  let varianceCents2 = 0;
  const labor: { mean: number; spread: number }[] = [];
  for (const risk of risks) {
    const { chance, quantity, capQuantity, spread } = risk;
    const other = (q: number) => risk.otherUnitCents * q - risk.paidUnitCents * Math.min(q, risk.capQuantity);
    const laborCents = (q: number) => risk.laborUnitCents * q + risk.laborSetupCents;
    const mean = (f: (q: number) => number) => chance * triangularMean(quantity, capQuantity, f);
    const total = mean((q) => other(q) + laborCents(q));
    meanCents += total;
    // E[(other + labor x f)^2] = E[(other + labor)^2] + E[labor^2] (E[f^2] - 1), as f has mean 1. About the mean
    // from the start, so that nothing is lost where a large cost hardly varies.
    const about = mean((q) => (other(q) + laborCents(q) - total) ** 2) + (1 - chance) * total ** 2;
    varianceCents2 += about + mean((q) => laborCents(q) ** 2) * Math.expm1(spread ** 2);
    const laborMean = mean(laborCents);
    for (const before of labor)
      varianceCents2 += 2 * laborMean * before.mean * Math.expm1(rho * spread * before.spread);
    labor.push({ mean: laborMean, spread });
  }
  return { meanCents, varianceCents2 };
}
