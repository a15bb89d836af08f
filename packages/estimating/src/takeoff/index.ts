export { existingQuantity } from "./existing.ts";
export { scopeForNew } from "./rebuild.ts";
export { type ScopedLine, type ScopeRow, scopeAgainstExisting } from "./scope.ts";
export { piecesFor } from "./select.ts";
export { takeoff } from "./takeoff.ts";
export type {
  Piece,
  Takeoff,
  TakeoffZone,
} from "./types.ts";
