export type { Bin } from "./histogram.ts";
export { chanceOfLoss, type DrawnCosts, priceAtChanceOfLoss } from "./odds.ts";
export type { CostedRevision } from "./risk.ts";
export {
  DEFAULT_LABOR_CORRELATION_BP,
  type SimulatedCost,
  type SimulationOptions,
  simulateCost,
} from "./simulate.ts";
