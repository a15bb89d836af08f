export { type Comparison, compareRevisions, type PricedScope } from "./compare/compare.ts";
export type {
  Bridge,
  ChangeKind,
  ComparableLine,
  Differences,
  LineChange,
} from "./compare/differences.ts";
export type { MaterialityPolicy, RuleFinding, Verdict } from "./compare/materiality.ts";
export {
  type CutPlan,
  type CuttingOrder,
  coverPacks,
  type DeckLayout,
  type LaidBoards,
  layBoards,
  planCuts,
} from "./cutting/index.ts";
export { EstimateInputError, type InputFinding } from "./input-error.ts";
export {
  type ComparedChoice,
  compareChoices,
  LIFE_CYCLE_DEFAULTS,
  LIVES,
  type LifeCycle,
  type LifeCycleCost,
  lifeCycleCost,
  type MaterialChoice,
  priceRebuild,
  type RebuildAssembly,
} from "./lifecycle/index.ts";
export {
  assessPlausibility,
  type CompanyPast,
  type Finding,
  PLAUSIBILITY_RULES,
  type PlausibilityJob,
  type PlausibilityLine,
  type PlausibilityZone,
} from "./plausibility/index.ts";
export {
  type AgreedPrice,
  type Allowance,
  allowanceFindings,
  expectedQuantity,
  sameAllowance,
} from "./pricing/allowance.ts";
export { type Recipe, type RecipeBook, resolveRecipe } from "./pricing/assembly.ts";
export { type LinePrice, type PriceableLine, priceLine, totalPrice } from "./pricing/line.ts";
export { MAX_MARGIN_BP, marginFromMarkup, markupFromMargin, priceAtMargin } from "./pricing/margin.ts";
export type { Purchase } from "./pricing/purchases.ts";
export {
  type BookMaterial,
  type LaborUse,
  type LineRates,
  type MaterialUse,
  type Pack,
  sameRates,
} from "./pricing/rates.ts";
export {
  type Adjustment,
  type Charge,
  marginForPrice,
  type PricedRevision,
  type PricingTerms,
  priceRevision,
  type RevisionLine,
  type Standing,
} from "./pricing/revision.ts";
export { type UnfoldedRow, unfoldAdjustment, unfoldCharge, unfoldLine } from "./pricing/unfold.ts";
export {
  existingQuantity,
  type Piece,
  piecesFor,
  type ScopeRow,
  scopeAgainstExisting,
  scopeForNew,
  type Takeoff,
  type TakeoffZone,
  takeoff,
} from "./takeoff/index.ts";
export {
  chanceOfLoss,
  priceAtChanceOfLoss,
  type SimulatedCost,
  simulateCost,
} from "./uncertainty/index.ts";
