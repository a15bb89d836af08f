import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import type { Action, Component, Doer, Evidence, Unit, ZoneKind } from "@ledgerboard/contracts/vocabulary";
import type { Allowance } from "../pricing/allowance.ts";
import type { LinePrice } from "../pricing/line.ts";
import type { LineRates } from "../pricing/rates.ts";
import type { Charge, Standing } from "../pricing/revision.ts";
import type { Takeoff } from "../takeoff/types.ts";

export interface PlausibilityZone {
  id: string;
  name: string;
  kind: ZoneKind;
  geometry: ZoneGeometry | null;
  /** What the drawing counts to; null where nobody has drawn or measured. */
  takeoff: Pick<Takeoff, "findings" | "areaSqft" | "existing" | "stairs" | "guards"> | null;
}

/** A priced scope line. Quantity is decimal text in its unit. */
export interface PlausibilityLine {
  /** The same across the revisions a line was copied through; one line of a revision has it. */
  lineageId: string;
  zoneId: string;
  component: Component;
  action: Action;
  assemblyCode: string | null;
  /** The unit its assembly is priced in; null without an assembly. */
  assemblyUnit: Unit | null;
  description: string;
  quantity: string;
  unit: Unit;
  evidence: Evidence;
  by: Doer;
  rates: LineRates | null;
  price: LinePrice;
  standing: Standing;
  allowance: Allowance | null;
  /** Name of the optional extra it belongs to; null for the base scope. */
  alternate: string | null;
}

/** The company's own finished jobs. Hours are decimal text, money is cents for a square foot. */
export interface CompanyPast {
  hoursPerUnit: readonly {
    component: Component;
    action: Action;
    unit: Unit;
    jobs: number;
    meanHours: string;
    sdHours: string;
  }[];
  pricePerSqft: readonly { zoneKind: ZoneKind; jobs: number; p10Cents: number; p90Cents: number }[];
}

/** All that the rules look at: one revision of a job, priced, with its property and the company's past. */
export interface PlausibilityJob {
  /** Near salt water; year the house was built, null when nobody knows. */
  property: { saltExposure: boolean; yearBuilt: number | null };
  zones: readonly PlausibilityZone[];
  lines: readonly PlausibilityLine[];
  charges: readonly Pick<Charge, "kind">[];
  /** Null until the company has finished jobs. */
  past: CompanyPast | null;
  /** Local day, 'YYYY-MM-DD'. */
  today: string;
  /** Days planned between building with new lumber and finishing it; null when nobody has planned them. */
  newLumberDaysDry: number | null;
}
