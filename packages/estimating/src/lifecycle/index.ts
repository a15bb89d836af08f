export { type ComparedChoice, compareChoices, type MaterialChoice } from "./choices.ts";
export {
  type LifeCycle,
  type LifeCycleCost,
  lifeCycleCost,
} from "./cost.ts";
export { LIFE_CYCLE_DEFAULTS, LIVES } from "./defaults.ts";
export {
  type NewScope,
  priceRebuild,
  type RebuildAssembly,
} from "./rebuild.ts";
