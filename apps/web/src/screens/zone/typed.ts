import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { formatInches } from "@ledgerboard/contracts/measure";
import { type BareUnit, readInches, writeInches } from "../../ui/inches.ts";

type Field<K, T> = K extends `${string}In` | "x" | "y"
  ? string
  : T extends number
    ? number | null
    : T extends readonly (infer E)[]
      ? Typed<E>[]
      : T extends object
        ? Typed<T>
        : T;
/** A part of the geometry as it stands in the fields: lengths as the text typed, counts null while none is typed. */
type Typed<T> = T extends unknown ? { [K in keyof T]: Field<K, T[K]> } : never;

export type TypedGeometry = Typed<ZoneGeometry>;
export type TypedOutline = NonNullable<TypedGeometry["outline"]>;
export type TypedPoint = TypedGeometry["cutouts"][number]["points"][number];
export type TypedFraming = NonNullable<TypedGeometry["framing"]>;
export type TypedDecking = NonNullable<TypedGeometry["decking"]>;
export type TypedStair = TypedGeometry["stairs"][number];
export type TypedGuard = TypedGeometry["guards"][number];

/** A fault or finding of one field; `field` is a path such as "geometry.stairs[0].totalRiseIn". */
export interface FieldWords {
  field: string;
  words: string;
}

const isLength = (key: string) => key === "x" || key === "y" || key.endsWith("In");
const COUNTS: ReadonlySet<string> = new Set([
  "beams",
  "posts",
  "stringers",
  "boardsPerTread",
  "borderRows",
  "rails",
  "gates",
  "sharedPosts",
]);

const IN_FEET =
  /^geometry\.(heightIn$|outline\.|cutouts\[)|^geometry\.guards\[\d+\]\.(lengthIn|postSpacingIn)$/;
/** Large measures are given in feet, those of boards, steps and rails in inches. */
export const unitAt = (path: string): BareUnit => (IN_FEET.test(path) ? "ft" : "in");
/** Places on the plan may lie to either side of where one began to measure. */
export const isSigned = (path: string): boolean => /\.[xy]$/.test(path);

function write(value: unknown, key: string, path: string): unknown {
  if (isLength(key)) return typeof value === "number" ? writeInches(value, unitAt(path)) : "";
  if (Array.isArray(value)) return value.map((one, i) => write(one, "", `${path}[${i}]`));
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, write(v, k, `${path}.${k}`)]));
}

/** Geometry as its fields show it. */
export const toTyped = (geometry: ZoneGeometry): TypedGeometry =>
  write(geometry, "", "geometry") as TypedGeometry;
export const typedOutline = (outline: NonNullable<ZoneGeometry["outline"]>): TypedOutline =>
  write(outline, "", "geometry.outline") as TypedOutline;
export const typedPoint = (x: number, y: number): TypedPoint => ({ x: formatInches(x), y: formatInches(y) });

function read(value: unknown, key: string, path: string, faults: FieldWords[]): unknown {
  if (isLength(key)) {
    const nothing = path === "geometry.heightIn" ? null : 0;
    const text = String(value);
    if (text.trim() === "") return nothing;
    const inches = readInches(text, unitAt(path), isSigned(path));
    if (inches === null) faults.push({ field: path, words: `“${text.trim()}” is not read as a length.` });
    return inches ?? nothing;
  }
  if (COUNTS.has(key)) return value ?? 0;
  if (Array.isArray(value)) return value.map((one, i) => read(one, "", `${path}[${i}]`, faults));
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, v]) => v !== undefined)
      .map(([k, v]) => [k, read(v, k, `${path}.${k}`, faults)]),
  );
}

/**
 * The geometry that the fields stand for. What is left empty is zero (no height at all for the zone), which the takeoff
 * reports at its field; text that is no length is a fault, and zero so long.
 */
export function fromTyped(typed: TypedGeometry): { geometry: ZoneGeometry; faults: FieldWords[] } {
  const faults: FieldWords[] = [];
  return { geometry: read(typed, "", "geometry", faults) as ZoneGeometry, faults };
}

/** Every field by its path with what stands in it, for laying two drafts side by side. */
export function flatten(value: unknown, path = "geometry", into = new Map<string, string>()) {
  if (Array.isArray(value)) for (const [i, one] of value.entries()) flatten(one, `${path}[${i}]`, into);
  else if (typeof value === "object" && value !== null)
    for (const [k, v] of Object.entries(value)) flatten(v, `${path}.${k}`, into);
  else if (value !== undefined) into.set(path, value === null ? "" : String(value));
  return into;
}
