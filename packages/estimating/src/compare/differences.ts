import type {
  Action,
  BridgeStep,
  Component,
  Evidence,
  Reason,
  Unit,
} from "@ledgerboard/contracts/vocabulary";
import type { RevisionLine } from "../pricing/revision.ts";

/** A scope line as a revision holds it. `lineageId` is kept when a revision is copied; `id` is not. */
export interface ComparableLine extends RevisionLine {
  id: string;
  lineageId: string;
  zoneId: string;
  zoneName: string;
  component: Component;
  action: Action;
  assemblyCode: string | null;
  unit: Unit;
  evidence: Evidence;
  reasonCode: Reason | null;
  reason: string | null;
}

export type ChangeKind =
  | "unchanged"
  | "quantity"
  | "rate"
  | "action"
  | "allowance"
  | "evidence"
  | "added"
  | "removed";

/** What became of one line. Money in cents, hours as decimal text; `steps` holds the steps that moved money. */
export interface LineChange {
  kind: ChangeKind;
  before: ComparableLine | null;
  after: ComparableLine | null;
  beforeCents: number;
  afterCents: number;
  deltaCents: number;
  deltaHours: string;
  /** A component that carries load or keeps people from falling, on either side. */
  structural: boolean;
  steps: { step: BridgeStep; cents: number }[];
}

/** The way from one price to the other: all eight steps, zeros too; they sum to toCents - fromCents exactly. */
export interface Bridge {
  fromCents: number;
  toCents: number;
  steps: { step: BridgeStep; cents: number }[];
}

/** Everything that differs between two revisions, before anyone judges it. */
export interface Differences {
  changes: LineChange[];
  bridge: Bridge;
  /** Labor hours by us, decimal text with up to four places. */
  hours: { before: string; after: string; delta: string };
}
