export { type DeckLayout, type LaidBoards, layBoards } from "./lay-boards.ts";
export { coverPacks } from "./packs.ts";
export { planCuts } from "./plan.ts";
export type { CuttingOrder } from "./problem.ts";
export type { CutPlan } from "./report.ts";
