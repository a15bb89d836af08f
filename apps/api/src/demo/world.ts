import type { Role, Unit } from "@ledgerboard/contracts";
import type { LumberGroup } from "@ledgerboard/contracts/geometry";
import type { Action, Component } from "@ledgerboard/contracts/vocabulary";
import type { LineRates, MaterialityPolicy, PricingTerms } from "@ledgerboard/estimating";
import type { Days, Run } from "./calendar.ts";
import type { Habit } from "./findings.ts";
import type { Contact } from "./people.ts";
import type { Town } from "./places.ts";
import type { Random } from "./random.ts";
import type { Rows } from "./rows.ts";

export interface Member {
  id: string;
  name: string;
  email: string;
  roles: Role[];
}
export interface Seller extends Member {
  habit: Habit;
}

export interface BookAssembly {
  component: Component;
  action: Action;
  unit: Unit;
  rates: LineRates;
}
export interface Book extends PricingTerms {
  id: string;
  effectiveFrom: string;
  laborCorrelationBp: number;
  /** By their codes, with the rates of an ordinary place and of one exposed to salt. */
  assemblies: Record<"ordinary" | "salt", ReadonlyMap<string, BookAssembly>>;
}

export interface DemoCrew {
  id: string;
  name: string;
  size: number;
  runs: Run[];
}

/** One company while its story is being told. */
export interface World {
  random: Random;
  days: Days;
  timezone: string;
  prefix: string;
  state: string;
  depositShareBp: number;
  quoteValidDays: number;
  /** As it is printed on quotes. */
  letterhead: {
    name: string;
    address: string;
    phone: string | null;
    licenceLine: string;
    insuranceLine: string;
  };
  owner: Member;
  sales: Seller[];
  /** The first is the senior. */
  estimators: Member[];
  scheduler: Member;
  /** Who leads a crew, by the crew's id. */
  leads: ReadonlyMap<string, Member>;
  crews: DemoCrew[];
  /** Those that have begun, oldest first. */
  books: Book[];
  /** What frames are built of here. */
  lumber: LumberGroup;
  policy: MaterialityPolicy & { id: string };
  towns: readonly Town[];
  meet: (name?: string) => Contact;
  rows: Rows;
  /** Jobs and quotes that wait for their number, which follows the order in time. */
  unnumbered: Numbered[];
}

export interface Numbered {
  kind: "job" | "quote";
  /** The instant it came to be, and the local year its number carries. */
  ms: number;
  year: string;
  number: string;
}

/** Gives every job and quote its number in the order they came, as the service would have, and keeps the counters. */
export function giveNumbers(world: World): void {
  const last = new Map<string, number>();
  for (const one of [...world.unnumbered].sort((a, b) => a.ms - b.ms)) {
    const scope = `${one.kind === "job" ? world.prefix : "Q"}-${one.year}`;
    const next = (last.get(scope) ?? 0) + 1;
    last.set(scope, next);
    one.number = `${scope}-${String(next).padStart(4, "0")}`;
  }
  for (const [scope, count] of last) world.rows.add("number_sequences", { scope, last: count });
}
