import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import type { InputFinding } from "../input-error.ts";
import { countDecking, type DeckingCount } from "./decking.ts";
import { countFraming, type FramingCount } from "./framing.ts";
import { type CountedGuard, countGuard } from "./guards.ts";
import { type CountedStair, countStair } from "./stairs.ts";
import { feetToInches, measureSurface, type SurfaceTakeoff } from "./surface.ts";
import type { TakeoffZone } from "./types.ts";

/** Everything counted of a zone, part by part, before it is put into words. Lengths in inches. */
export interface Measured extends SurfaceTakeoff {
  geometry: ZoneGeometry | null;
  /** Whether the surface is floored with boards: as drawn, or because decks, porches and landings are. */
  floored: boolean;
  heightIn: number | null;
  frame: FramingCount | null;
  deck: DeckingCount | null;
  stairs: CountedStair[];
  guards: CountedGuard[];
  findings: InputFinding[];
}

const FLOORED: ReadonlySet<TakeoffZone["kind"]> = new Set(["deck", "porch", "landing"]);

function height(zone: TakeoffZone, findings: InputFinding[]): number | null {
  const written = feetToInches(zone.heightFt, "heightFt", findings);
  const drawn = zone.geometry?.heightIn ?? null;
  if (written !== null && drawn !== null && Math.abs(written - drawn) > 1)
    findings.push({
      field: "heightFt",
      words: "Differs from the height in the drawing; the drawing is counted.",
    });
  return drawn ?? written;
}

export function measure(zone: TakeoffZone): Measured {
  const findings: InputFinding[] = [];
  const surfaceTakeoff = measureSurface(zone, findings);
  const { surface } = surfaceTakeoff;
  const { geometry } = zone;
  const framing = geometry?.framing ?? null;
  const decking = geometry?.decking ?? null;
  const frame = surface && framing ? countFraming(surface, framing, findings) : null;
  return {
    ...surfaceTakeoff,
    geometry,
    floored: surface !== null && (decking !== null || FLOORED.has(zone.kind)),
    heightIn: height(zone, findings),
    frame,
    deck: surface && decking ? countDecking(surface, decking, framing, frame, findings) : null,
    stairs: (geometry?.stairs ?? []).flatMap(
      (s, i) => countStair(s, `geometry.stairs[${i}]`, findings) ?? [],
    ),
    guards: (geometry?.guards ?? []).flatMap(
      (g, i) => countGuard(g, `geometry.guards[${i}]`, findings) ?? [],
    ),
    findings,
  };
}
