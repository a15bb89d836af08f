export { type ComparedChoice, compareChoices, type MaterialChoice } from "./choices.ts";
export {
  type Flow,
  type Horizon,
  type LifeCycle,
  type LifeCycleCost,
  lifeCycleCost,
  type RecurringCost,
  type SingleCost,
} from "./cost.ts";
export { LIFE_CYCLE_DEFAULTS, LIVES, type Life } from "./defaults.ts";
export {
  type Beside,
  type NewScope,
  type PricedRepair,
  priceRebuild,
  type Rebuild,
  type RebuildAssembly,
  type RebuildLine,
} from "./rebuild.ts";
