export { type Comparison, compareRevisions, type PricedScope } from "./compare.ts";
export {
  BRIDGE_STEPS,
  type Bridge,
  type BridgeStep,
  type ChangeKind,
  type ComparableLine,
  type Differences,
  type LineChange,
} from "./differences.ts";
export { MAX_MARGIN_BP, marginFromMarkup, markupFromMargin, priceAtMargin } from "./margin.ts";
export type { MaterialityPolicy, RuleFinding, Verdict } from "./materiality.ts";
export {
  type LinePrice,
  type LineRates,
  type PriceableLine,
  type PricingTerms,
  priceLine,
  priceRevision,
  totalPrice,
} from "./pricing.ts";
export { type UnfoldedRow, unfoldLine } from "./unfold.ts";
