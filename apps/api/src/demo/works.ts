import type { Template } from "./work.ts";
import { boathouse, hangers, ledgerDeck, newBoards, washAndStain, wholeDeck } from "./works-decks.ts";
import { balusters, framing, guards, mainStair, porchFloor, skirting, treadsOnly } from "./works-others.ts";

export const WORKS = {
  ledgerDeck,
  newBoards,
  mainStair,
  guards,
  porchFloor,
  framing,
  washAndStain,
  skirting,
  boathouse,
  wholeDeck,
  balusters,
  treadsOnly,
  hangers,
} as const satisfies Record<string, Template>;
export type WorkName = keyof typeof WORKS;
