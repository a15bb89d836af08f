import type { LumberGroup, ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { sentence } from "../../ui/format.ts";

/** What each field is called, by its path without the numbers of lists. */
const NAMES: Record<string, string> = {
  "geometry.outline": "Surface",
  "geometry.outline.shape": "Shape",
  "geometry.outline.lengthIn": "Along the house",
  "geometry.outline.widthIn": "Out from the house",
  "geometry.outline.notchLengthIn": "Missing corner, along the house",
  "geometry.outline.notchWidthIn": "Missing corner, out from the house",
  "geometry.outline.points": "Corners",
  "geometry.cutouts": "Cut-outs",
  "geometry.heightIn": "Height above the ground",
  "geometry.framing": "Framing",
  "geometry.framing.joistDirection": "Joists run",
  "geometry.framing.joistSpacingIn": "Joist spacing, on center",
  "geometry.framing.joistSize": "Joist size",
  "geometry.framing.lumber": "Lumber",
  "geometry.framing.ledger": "Ledger on the house",
  "geometry.framing.beams": "Lines of beam",
  "geometry.framing.posts": "Posts under them",
  "geometry.framing.overhangIn": "Joists past the last beam",
  "geometry.decking": "Decking",
  "geometry.decking.pattern": "Boards run",
  "geometry.decking.thickness": "Boards",
  "geometry.decking.boardWidthIn": "Board width",
  "geometry.decking.gapIn": "Gap between boards",
  "geometry.decking.borderRows": "Picture-frame border",
  "geometry.stairs": "Stairs",
  "geometry.stairs.totalRiseIn": "Total rise",
  "geometry.stairs.risers": "Rises counted",
  "geometry.stairs.treadDepthIn": "Depth of a step, nosing to nosing",
  "geometry.stairs.widthIn": "Width",
  "geometry.stairs.stringers": "Stringers",
  "geometry.stairs.boardsPerTread": "Boards in one tread",
  "geometry.stairs.closedRisers": "Closed with riser boards",
  "geometry.guards": "Guards",
  "geometry.guards.lengthIn": "Length, end post to end post",
  "geometry.guards.heightIn": "Height of the guard",
  "geometry.guards.onStair": "On a stair, measured along the slope",
  "geometry.guards.postSpacingIn": "Largest post spacing, on center",
  "geometry.guards.sharedPosts": "End posts counted with another run",
  "geometry.guards.infill": "Filled with",
  "geometry.guards.balusterWidthIn": "Baluster width",
  "geometry.guards.clearGapIn": "Clear gap between balusters",
  "geometry.guards.rails": "Rails in each section",
  "geometry.guards.cap": "Rail cap",
  "geometry.guards.gates": "Gates",
  "geometry.guards.gateWidthIn": "Width of a gate",
  lengthFt: "Rough length",
  heightFt: "Rough height",
};

const LISTS: Record<string, string> = { cutouts: "Cut-out", stairs: "Stair", guards: "Guard run" };
const plain = (path: string) => path.replace(/\[\d+\]/g, "");

/** The name of a field by its path, without saying which stair or run it belongs to. */
export function nameOf(path: string): string {
  const corner = /points\[(\d+)\](?:\.([xy]))?$/.exec(path);
  if (corner)
    return `Corner ${Number(corner[1]) + 1}${corner[2] ? (corner[2] === "x" ? ", along" : ", out") : ""}`;
  return NAMES[plain(path)] ?? plain(path).replace(/^geometry\./, "");
}

/** The name of a field in full: "Stair 2: total rise". */
export function fullName(path: string): string {
  const list = /^geometry\.(cutouts|stairs|guards)\[(\d+)\]/.exec(path);
  if (!list?.[1]) {
    const part = /^geometry\.(framing|decking)\./.exec(path)?.[1];
    const name = nameOf(path);
    return part && !name.toLowerCase().includes("joist") ? `${sentence(part)}: ${name.toLowerCase()}` : name;
  }
  const which = `${LISTS[list[1]]} ${Number(list[2]) + 1}`;
  return path === list[0] ? which : `${which}: ${nameOf(path).toLowerCase()}`;
}

type Framing = NonNullable<ZoneGeometry["framing"]>;
type Decking = NonNullable<ZoneGeometry["decking"]>;
type Guard = ZoneGeometry["guards"][number];

export const LUMBER: { value: LumberGroup; label: string }[] = [
  { value: "southern_pine", label: "Southern pine, most treated lumber in the East" },
  { value: "mixed_softwoods", label: "Hem-fir, spruce, ponderosa and other softwoods" },
  { value: "redwood_cedar", label: "Redwood or cedar" },
];
export const DIRECTIONS: { value: Framing["joistDirection"]; label: string }[] = [
  { value: "out", label: "Out from the house" },
  { value: "along", label: "Along the house" },
];
export const PATTERNS: { value: Decking["pattern"]; label: string }[] = [
  { value: "straight", label: "Straight across the joists" },
  { value: "diagonal", label: "At 45°" },
];
export const THICKNESSES: { value: Decking["thickness"]; label: string }[] = [
  { value: "five_quarter", label: "Five-quarter wood" },
  { value: "two_by", label: "Two-by wood" },
  { value: "composite", label: "Composite" },
];
export const FILLS: { value: Guard["infill"]; label: string }[] = [
  { value: "balusters", label: "Balusters" },
  { value: "lattice", label: "Lattice" },
  { value: "rails_only", label: "Rails only" },
  { value: "none", label: "Nothing" },
];

/** A value as a person reads it, for laying two drafts side by side. */
export function valueWords(path: string, value: string | undefined): string {
  if (value === undefined) return "–";
  if (value === "") return path.endsWith(".risers") ? "let the takeoff choose" : "nothing";
  if (value === "true") return "yes";
  if (value === "false") return "no";
  const choices = [...LUMBER, ...DIRECTIONS, ...PATTERNS, ...THICKNESSES, ...FILLS];
  return choices.find((one) => one.value === value)?.label ?? value.replaceAll("_", " ");
}
