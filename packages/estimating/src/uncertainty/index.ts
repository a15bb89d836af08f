export { chanceOfLoss, priceAtChanceOfLoss } from "./odds.ts";
export {
  type SimulatedCost,
  type SimulationOptions,
  simulateCost,
} from "./simulate.ts";
