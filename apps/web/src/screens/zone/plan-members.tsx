import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { beamStrokes, boardStrokes, joistStrokes, postPlaces, type Stroke } from "./members.ts";
import type { Projection } from "./projection.ts";
import type { Bounds } from "./shape.ts";

/** Boards closer than this many pixels would fill the surface with ink. */
const FINEST = 2.5;

interface Props {
  geometry: ZoneGeometry;
  box: Bounds;
  projection: Projection;
}

const lines = (strokes: readonly Stroke[], { x, y }: Projection): string =>
  strokes
    .map(([a, b]) => `M${x(a.x).toFixed(1)} ${y(a.y).toFixed(1)}L${x(b.x).toFixed(1)} ${y(b.y).toFixed(1)}`)
    .join("");

/** Gaps between boards as light lines, the border rows laid over them. */
export function Boards({ geometry, box, projection: p, outline }: Props & { outline: string }) {
  const { decking, framing } = geometry;
  if (!decking) return null;
  const pitch = (decking.boardWidthIn + decking.gapIn) * p.scale;
  if (pitch < FINEST) return null;
  const rows = Array.from({ length: decking.borderRows }, (_, i) => decking.borderRows - i);
  return (
    <>
      <path className="zone-board-line" d={lines(boardStrokes(box, decking, framing), p)} />
      {/* A stroke is half inside the edge it follows, and the outside is cut off: twice the depth draws one row. */}
      {rows.map((row) => (
        <g key={row}>
          <path className="zone-border-line" d={outline} strokeWidth={2 * row * pitch + 1} />
          <path className="zone-border" d={outline} strokeWidth={2 * row * pitch - 1} />
        </g>
      ))}
    </>
  );
}

/** Joists as thin lines, beams and posts under them dashed: from above they are hidden. */
export function Frame({ geometry, box, projection: p }: Props) {
  const { framing } = geometry;
  if (!framing) return null;
  const beams = beamStrokes(box, framing);
  return (
    <>
      <path className="zone-joist" d={lines(joistStrokes(box, framing), p)} />
      <path className="zone-beam" d={lines(beams, p)} />
      {postPlaces(beams, framing.posts).map((at) => (
        <rect
          key={`${at.x} ${at.y}`}
          className="zone-post"
          x={p.x(at.x) - 4}
          y={p.y(at.y) - 4}
          width="8"
          height="8"
        />
      ))}
    </>
  );
}
