import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import type { Takeoff } from "@ledgerboard/estimating";
import { useState } from "react";
import { Segment } from "../../ui/choices.tsx";
import { useWidth } from "../compare/use-width.ts";
import { Handles } from "./handles.tsx";
import { Plan } from "./plan.tsx";
import { planCaveats, planWords } from "./plan-words.ts";
import { boxOf, fit, type Projection } from "./projection.ts";
import { handlesOf, type Outline, ringOf } from "./shape.ts";

interface Props {
  name: string;
  geometry: ZoneGeometry;
  counted: Takeoff;
  /** Absent: only to look at. */
  onOutline?: ((outline: Outline) => void) | undefined;
  onCutout?: ((i: number, points: { x: number; y: number }[]) => void) | undefined;
}

/** Beside the fields it leaves room for what it comes to; on a phone for the thumb that scrolls on. */
const tallest = (width: number) =>
  width > 560 ? Math.min(560, Math.max(360, window.innerHeight * 0.56)) : 430;

/** The drawing with the places on it that can be dragged, or moved by arrow keys. */
export function Board({ name, geometry, counted, onOutline, onCutout }: Props) {
  const [frame, width] = useWidth<HTMLDivElement>(640);
  const [held, setHeld] = useState<Projection | null>(null);
  const [part, setPart] = useState("outline");
  const ring = ringOf(geometry.outline);
  if (!geometry.outline || ring.length === 0)
    return (
      <div ref={frame} className="zone-empty">
        <p>
          <b>Nothing is drawn yet.</b>
        </p>
        <p className="quiet">
          Choose a shape and give it its lengths; the plan appears here. Stairs and guards need no plan.
        </p>
      </div>
    );
  // While a corner is under the finger the scale stays, or it would slip away from it.
  const projection = held?.width === width ? held : fit(boxOf(ring), width, tallest(width));
  const holes = geometry.cutouts.map((_, i) => ({ value: `${i}`, label: `cut-out ${i + 1}` }));
  const hole = geometry.cutouts[Number(part)];
  const handles = hole
    ? handlesOf({ shape: "polygon", points: hole.points }).map((one) => ({
        ...one,
        name: `Cut-out ${Number(part) + 1}, ${one.name.toLowerCase()}`,
      }))
    : handlesOf(geometry.outline);
  const moved = (outline: Outline) => {
    if (!hole) onOutline?.(outline);
    else if (outline.shape === "polygon") onCutout?.(Number(part), outline.points);
  };
  const caveats = planCaveats(geometry);
  return (
    <figure className="zone-board">
      {onOutline && holes.length > 0 && (
        <div className="no-print">
          <Segment
            label="What is dragged"
            options={[{ value: "outline", label: "outline" }, ...holes]}
            value={hole ? part : "outline"}
            onChange={setPart}
          />
        </div>
      )}
      <div ref={frame} className="zone-sheet">
        <Plan
          geometry={geometry}
          guards={counted.guards}
          projection={projection}
          label={planWords(name, geometry)}
          numbered={geometry.outline.shape === "polygon"}
        />
        {onOutline && (
          <Handles
            handles={handles}
            projection={projection}
            onMove={moved}
            onHold={(on) => setHeld(on ? projection : null)}
          />
        )}
      </div>
      {caveats.length > 0 && (
        <figcaption>
          <small className="quiet">{caveats.join(" ")}</small>
        </figcaption>
      )}
    </figure>
  );
}
