import type { Component, Doer, Reason, Unit, ZoneKind } from "@ledgerboard/contracts";
import type { LumberGroup, ZoneGeometry } from "@ledgerboard/contracts/geometry";
import {
  type Allowance,
  type Charge,
  existingQuantity,
  type Takeoff,
  takeoff,
} from "@ledgerboard/estimating";
import type { Random } from "./random.ts";
import type { BookAssembly } from "./world.ts";

export interface ZoneSpec {
  name: string;
  kind: ZoneKind;
  /** Feet. */
  length: number | null;
  width: number | null;
  height: number | null;
  /** Null where nobody has drawn it. */
  geometry: ZoneGeometry | null;
  /** What the drawing counts to. */
  existing: Takeoff["existing"];
}

/** What the first pass writes down: an assembly of the price book and how much of it. */
export interface Line {
  zone: string;
  /** Null: nothing is charged for it, and `work` says what it is. */
  assembly: string | null;
  quantity: number;
  work?: Pick<BookAssembly, "component" | "action" | "unit">;
  description?: string;
  by?: Doer;
  /** The optional extra it belongs to. */
  alternate?: string;
  allowance?: Allowance;
}

/** A job as sales sees it: where, and what to do there. Quantities follow from the zones' measures. */
export interface Work {
  title: string;
  zones: ZoneSpec[];
  lines: Line[];
  charges?: Charge[];
  /** The customer's words. */
  words: string;
}

/** What the senior found instead of a line, or beside the lines. */
export interface Finding {
  /** Null: it stays, without a price. */
  assembly: string | null;
  quantity: number;
  description?: string;
  by?: Doer;
  alternate?: string;
  /** Not seen until it is opened. */
  allowance?: Allowance;
  code: Reason;
  reason: string;
}

/** What a drawing counts to, but for single boards and their screws: laying those takes long, and no line asks for them. */
function countAll(kind: ZoneKind, geometry: ZoneGeometry | null): Takeoff["existing"] {
  if (!geometry) return [];
  const rough = { lengthFt: null, widthFt: null, heightFt: null };
  return takeoff({ kind, geometry: { ...geometry, decking: null }, ...rough }).existing;
}

const places = (feet: number | null): number | null => (feet === null ? null : Number(feet.toFixed(4)));

/** A zone by its sizes in feet, without a drawing. */
export const roughZone = (
  name: string,
  kind: ZoneKind,
  [length, width, height]: readonly [number | null, number | null, number | null],
  geometry: ZoneGeometry | null = null,
): ZoneSpec => {
  const sizes = { length: places(length), width: places(width), height: places(height) };
  return { name, kind, ...sizes, geometry, existing: countAll(kind, geometry) };
};

const span = (values: readonly number[]) => (Math.max(...values) - Math.min(...values)) / 12;

/** A zone as it is drawn. */
export function zone(name: string, kind: ZoneKind, geometry: ZoneGeometry): ZoneSpec {
  const { outline, heightIn } = geometry;
  const height = heightIn === null ? null : heightIn / 12;
  if (!outline) {
    const along = geometry.guards.reduce((sum, { lengthIn, onStair }) => sum + (onStair ? 0 : lengthIn), 0);
    const [stair] = geometry.stairs;
    return roughZone(name, kind, [along / 12 || null, stair ? stair.widthIn / 12 : null, height], geometry);
  }
  const [length, width] =
    outline.shape === "polygon"
      ? [span(outline.points.map(({ x }) => x)), span(outline.points.map(({ y }) => y))]
      : [outline.lengthIn / 12, outline.widthIn / 12];
  return roughZone(name, kind, [length, width, height], geometry);
}

/** How much of a component is in a zone, in whole units; null where the drawing does not tell. */
export function countOf({ existing }: ZoneSpec, component: Component, unit: Unit): number | null {
  const quantity = existingQuantity({ existing }, component, unit);
  return quantity === null ? null : Math.floor(Number(quantity));
}

/** As countOf, for what the drawing must tell. */
export function allOf(of: ZoneSpec, component: Component, unit: Unit): number {
  const count = countOf(of, component, unit);
  if (count === null) throw new Error(`${of.name}: its drawing has no ${component} by ${unit}.`);
  return count;
}

/** A job of a kind; `lumber` is what frames are built of where the company works. */
export type Template = (random: Random, lumber: LumberGroup) => Work;

/** Lines on one zone. */
export const lineOn =
  (zoneName: string) =>
  (assembly: string, quantity: number, more: Partial<Line> = {}): Line => ({
    zone: zoneName,
    assembly,
    quantity,
    ...more,
  });
