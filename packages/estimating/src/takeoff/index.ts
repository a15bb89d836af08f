export { existingQuantity } from "./existing.ts";
export { type NewScope, scopeForNew } from "./rebuild.ts";
export { type ScopedLine, type ScopeRow, scopeAgainstExisting } from "./scope.ts";
export { type ChosenPieces, piecesFor } from "./select.ts";
export { takeoff } from "./takeoff.ts";
export type {
  BoardRow,
  Counts,
  Existing,
  GuardCount,
  Piece,
  StairCount,
  Takeoff,
  TakeoffZone,
} from "./types.ts";
