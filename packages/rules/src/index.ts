export { type Cancellation, cancellation } from "./cancellation.ts";
export { type WorkCaution, workCautions } from "./cautions.ts";
export { type DepositCap, depositCap } from "./deposit-cap.ts";
export { type FederalHoliday, holidays } from "./holidays.ts";
