/** A triangular distribution: least, likeliest and most. */
export interface Triangle {
  low: number;
  likely: number;
  high: number;
}

/**
 * The quantity below which a share `u` (0 to 1) of the distribution lies. Source: "Triangular distribution",
 * Wikipedia, https://en.wikipedia.org/wiki/Triangular_distribution (from memory).
 */
export function triangularQuantile(u: number, { low, likely, high }: Triangle): number {
  const span = high - low;
  if (span === 0) return low;
  const left = likely - low;
  if (u * span < left) return low + Math.sqrt(u * span * left);
  return high - Math.sqrt((1 - u) * span * (high - likely));
}

/** Both points of the two-point Gauss-Legendre rule lie this far from the middle of -1 to 1. */
const POINT = 1 / Math.sqrt(3);

/**
 * Exact mean of `f` of a triangular quantity, where `f` is at most quadratic on either side of `bend`. Density times
 * `f` is then a cubic on each piece, which the two-point Gauss-Legendre rule integrates exactly. Source:
 * "Gauss-Legendre quadrature", Wikipedia, https://en.wikipedia.org/wiki/Gauss%E2%80%93Legendre_quadrature (from memory).
 */
export function triangularMean(triangle: Triangle, bend: number, f: (quantity: number) => number): number {
  const { low, likely, high } = triangle;
  const span = high - low;
  if (span === 0) return f(low);
  const density = (q: number) =>
    q < likely ? (2 * (q - low)) / (span * (likely - low)) : (2 * (high - q)) / (span * (high - likely));
  const ends = [low, likely, Math.min(Math.max(bend, low), high), high].sort((a, b) => a - b);
  let mean = 0;
  for (let i = 1; i < ends.length; i++) {
    const [from, to] = [ends[i - 1] as number, ends[i] as number];
    if (to === from) continue;
    const [middle, half] = [(from + to) / 2, (to - from) / 2];
    for (const q of [middle - POINT * half, middle + POINT * half]) mean += half * density(q) * f(q);
  }
  return mean;
}
