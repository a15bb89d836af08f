import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { ringPath } from "./projection.ts";
import { boundsOf, ringOf } from "./shape.ts";
import "./thumb.css";

const SIZE = 64;
const WALL = 6;

/** A measured zone, small enough for a list. What it shows stands in words beside it. */
export function PlanThumb({ geometry }: { geometry: ZoneGeometry }) {
  const ring = ringOf(geometry.outline);
  if (ring.length === 0) return null;
  const { left, right, near, far } = boundsOf(ring);
  const scale = (SIZE - WALL - 2) / Math.max(right - left, far - near, 1);
  const [wide, deep] = [(right - left) * scale, (far - near) * scale];
  const x = (inches: number) => (SIZE - wide) / 2 + (inches - left) * scale;
  const y = (inches: number) => WALL + (inches - near) * scale;
  const projection = { width: SIZE, height: SIZE, scale, x, y, back: () => ({ x: 0, y: 0 }) };
  const holes = geometry.cutouts.map((one) => ringPath(one.points, projection));
  return (
    <svg className="zone-thumb" viewBox={`0 0 ${SIZE} ${deep + WALL + 2}`} aria-hidden="true">
      <path d={[ringPath(ring, projection), ...holes].join("")} fillRule="evenodd" />
      {near <= 0 && <path className="wall" d={`M${x(left) - 3} ${y(0) - 2}H${x(right) + 3}`} />}
    </svg>
  );
}
