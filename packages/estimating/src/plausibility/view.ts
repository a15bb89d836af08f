import { type Action, type Component, type Unit, words } from "@ledgerboard/contracts/vocabulary";
import type { PlausibilityJob, PlausibilityLine, PlausibilityZone } from "./job.ts";
import { type Hardware, hardwareReader } from "./materials.ts";

/**
 * Quantities in whole ten-thousandths of their unit: the four decimals that quantities may have, kept whole so that
 * sums do not depend on their order.
 */
export type Amount = number;
const SCALE = 10_000;
export const amountOf = (quantity: string): Amount => Math.round(Number(quantity) * SCALE);
export const toNumber = (amount: Amount): number => amount / SCALE;
export const amountText = (amount: Amount): string => String(amount / SCALE);

const separators = new Intl.NumberFormat("en-US", { maximumFractionDigits: 2 });
/** A number for people, with commas and at most two decimals. */
export const numberWords = (value: number): string => separators.format(value);

const PIECES: Partial<Record<Component, [one: string, many: string]>> = {
  decking: ["deck board", "deck boards"],
  flashing: ["piece of flashing", "pieces of flashing"],
  skirting: ["skirting board", "skirting boards"],
  lattice: ["lattice panel", "lattice panels"],
  finish: ["coat", "coats"],
};

/** An amount of a component for people: "9 joists", "24 ft of rail cap", "180 sq ft of decking". */
export function amountWords(amount: Amount, unit: Unit, component: Component): string {
  const value = toNumber(amount);
  const number = numberWords(value);
  const name = words(component);
  if (unit === "each") return `${number} ${pieceWords(component, value)}`;
  if (unit === "lf" || unit === "sqft") return `${number} ${words(unit)} of ${name}`;
  return `${number} ${unit}${value === 1 ? "" : "s"} of ${name}`;
}

/** "joist" or "joists", "deck board" or "deck boards". */
export function pieceWords(component: Component, count: number): string {
  const [one, many] = PIECES[component] ?? [words(component), `${words(component)}s`];
  return count === 1 ? one : many;
}

export interface LineView extends PlausibilityLine {
  amount: Amount;
  zone: ZoneView;
  hardware: readonly Hardware[];
}

export interface ZoneView extends PlausibilityZone {
  lines: LineView[];
  byComponent: ReadonlyMap<Component, LineView[]>;
  /** What the drawing says is there, by "component unit". */
  there: ReadonlyMap<string, Amount>;
}

export interface JobView extends Omit<PlausibilityJob, "zones" | "lines"> {
  zones: readonly ZoneView[];
  lines: readonly LineView[];
}

export const existing = (zone: ZoneView, component: Component, unit: Unit): Amount | null =>
  zone.there.get(`${component} ${unit}`) ?? null;

const NONE: readonly LineView[] = [];
export const linesOf = (zone: ZoneView, component: Component): readonly LineView[] =>
  zone.byComponent.get(component) ?? NONE;

function viewZone(zone: PlausibilityZone): ZoneView & { byComponent: Map<Component, LineView[]> } {
  const there = new Map<string, Amount>();
  for (const { component, unit, quantity } of zone.takeoff?.existing ?? []) {
    const key = `${component} ${unit}`;
    there.set(key, (there.get(key) ?? 0) + amountOf(quantity));
  }
  return { ...zone, there, lines: [], byComponent: new Map() };
}

/** Looks every line up once, so that a rule asks its zone and never searches the whole job. */
export function viewJob(job: PlausibilityJob): JobView {
  const zones = new Map(job.zones.map((zone) => [zone.id, viewZone(zone)]));
  const hardwareOf = hardwareReader();
  const lines = job.lines.map((line): LineView => {
    let zone = zones.get(line.zoneId);
    if (!zone) {
      zone = viewZone({
        id: line.zoneId,
        name: "Unknown zone",
        kind: "other",
        geometry: null,
        takeoff: null,
      });
      zones.set(zone.id, zone);
    }
    const view = { ...line, amount: amountOf(line.quantity), zone, hardware: hardwareOf(line) };
    zone.lines.push(view);
    const same = zone.byComponent.get(line.component);
    if (same) same.push(view);
    else zone.byComponent.set(line.component, [view]);
    return view;
  });
  return { ...job, zones: [...zones.values()], lines };
}

const NEW: ReadonlySet<Action> = new Set(["replace", "add"]);
const OUT: ReadonlySet<Action> = new Set(["replace", "remove"]);

/** The line brings in new pieces. */
export const bringsNew = (line: { action: Action }): boolean => NEW.has(line.action);
/** The line takes old pieces out. */
export const takesOut = (line: { action: Action }): boolean => OUT.has(line.action);

export const total = (lines: readonly LineView[]): Amount =>
  lines.reduce((sum, { amount }) => sum + amount, 0);

/** The line is in the base scope, whoever does it: an optional extra may never be built. */
export const inBase = (line: PlausibilityLine): boolean => line.alternate === null;

/** Lines of a component that are sure to be done when `line` is: in the base scope or in the same optional extra. */
export const alongside = (line: LineView, component: Component): LineView[] =>
  linesOf(line.zone, component).filter((other) => inBase(other) || other.alternate === line.alternate);

/** Of several lines, the one that findings about all of them hang on, whatever their order. */
export const firstOf = (lines: readonly LineView[]): LineView | undefined =>
  lines.reduce<LineView | undefined>(
    (first, line) => (!first || line.lineageId < first.lineageId ? line : first),
    undefined,
  );

/** The components of several lines, each once and in one order: "joist, post". */
export const componentList = (lines: readonly LineView[]): string =>
  [...new Set(lines.map(({ component }) => words(component)))].sort().join(", ");
