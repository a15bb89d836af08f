export { type Cancellation, cancellation } from "./cancellation.ts";
export { type WorkCaution, workCautions } from "./cautions.ts";
export { type Backing, CHECK_LOCAL_CODE, type CodeCheck } from "./code-values.ts";
export {
  mixedMetals,
  type NeededProtection,
  neededProtection,
  type Protection,
  protects,
} from "./corrosion.ts";
export { deckingWaste, joistSpacingCheck, maxJoistSpacing } from "./decking.ts";
export { type DepositCap, depositCap } from "./deposit-cap.ts";
export { type FinishWait, filmFinish, finishWait } from "./finishing.ts";
export { guardHeightCheck, guardNeeded, guardOpeningCheck } from "./guards.ts";
export { type FederalHoliday, holidays } from "./holidays.ts";
export {
  type LedgerEdges,
  type LedgerFastener,
  type LedgerSpacing,
  ledgerEdges,
  ledgerFastenerCount,
  ledgerFastenerSpacing,
} from "./ledger.ts";
export { type OverhangLimit, overhangCheck, overhangLimit } from "./overhang.ts";
export { type Joist, type JoistSpan, joistSpan, joistSpanCheck } from "./spans.ts";
export {
  handrailHeightCheck,
  handrailNeeded,
  openRiserCheck,
  riserCheck,
  stairWidthCheck,
  stringerSpacingCheck,
  stringerSpanCheck,
  treadCheck,
  variationCheck,
} from "./stairs.ts";
