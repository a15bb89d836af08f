export { type DeckLayout, type DeckRow, type LaidBoards, type LaidRow, layBoards } from "./lay-boards.ts";
export { coverPacks, type Pack, type PackCover } from "./packs.ts";
export { type PlanOptions, planCuts } from "./plan.ts";
export type { CuttingOrder, CuttingPiece, CuttingStock } from "./problem.ts";
export type { CutBoard, CutPlan } from "./report.ts";
