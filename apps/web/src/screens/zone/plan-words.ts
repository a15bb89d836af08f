import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { lengthWords } from "@ledgerboard/contracts/measure";
import { plural } from "../../ui/format.ts";
import { placeGuards } from "./runs.ts";
import { ringOf, sidesOf } from "./shape.ts";

const SHAPES = { rectangle: "a rectangle", l_shape: "an L-shape", polygon: "an outline" } as const;

/** The plan in words, for whoever cannot see it. */
export function planWords(name: string, geometry: ZoneGeometry): string {
  const { outline, cutouts, framing, decking, stairs, guards } = geometry;
  if (!outline) return `${name}: no surface is drawn.`;
  const sides = sidesOf(ringOf(outline));
  const around = sides
    .map((side) => `${lengthWords(side.lengthIn)}${side.onHouse ? " along the house" : ""}`)
    .join(", ");
  const told = [`Plan of ${name}: ${SHAPES[outline.shape]} with sides of ${around}`];
  if (cutouts.length > 0) told.push(plural(cutouts.length, "cut-out"));
  if (framing) {
    const way = framing.joistDirection === "out" ? "out from the house" : "along the house";
    const held = framing.ledger ? ", on a ledger" : "";
    told.push(`joists ${way} ${lengthWords(framing.joistSpacingIn)} on center${held}`);
    told.push(`${plural(framing.beams, "line")} of beam on ${plural(framing.posts, "post")}`);
  }
  if (decking) {
    const border = decking.borderRows > 0 ? ` inside ${plural(decking.borderRows, "border row")}` : "";
    told.push(`boards ${decking.pattern === "diagonal" ? "at 45 degrees" : "across the joists"}${border}`);
  }
  const placed = placeGuards(sides, guards).size;
  if (placed > 0) told.push(`guards along ${plural(placed, "side")}`);
  if (stairs.length > 0) told.push(plural(stairs.length, "stair"));
  return `${told.join("; ")}.`;
}

/** What the drawing shows without knowing it, said below it. */
export function planCaveats(geometry: ZoneGeometry): string[] {
  const sides = sidesOf(ringOf(geometry.outline));
  const placed = new Set(placeGuards(sides, geometry.guards).values());
  const loose = geometry.guards.flatMap((guard, i) => (placed.has(i) ? [] : [{ guard, n: i + 1 }]));
  const said: string[] = [];
  if ((geometry.framing?.posts ?? 0) > 0 && (geometry.framing?.beams ?? 0) > 0)
    said.push("Posts are drawn evenly spread; only their number was given.");
  if (placed.size > 0) said.push("Each guard is drawn on the side of its length.");
  if (loose.length > 0)
    said.push(
      `Not on the plan: ${loose
        .map(
          ({ guard, n }) =>
            `guard run ${n}, ${lengthWords(guard.lengthIn)}${guard.onStair ? " on a stair" : ""}`,
        )
        .join("; ")}.`,
    );
  return said;
}
