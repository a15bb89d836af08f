import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { formatInches } from "@ledgerboard/contracts/measure";
import type { Takeoff } from "@ledgerboard/estimating";
import { useId } from "react";
import { Boards, Frame } from "./plan-members.tsx";
import { type Projection, ringPath, scaleBar } from "./projection.ts";
import { placeGuards } from "./runs.ts";
import { boundsOf, type Point, ringOf, type Side, sidesOf } from "./shape.ts";

const WALL = 15;
/** From the edge to the middle of its dimension, and farther where a guard or the house stands between. */
const OFF = 17;
const GUARD_OFF = 7;
/** Width of a character of a note, measured by eye. */
const NOTE_CHAR_PX = 6.2;

interface Props {
  geometry: ZoneGeometry;
  /** Guards as counted, one for one with the drawing's; fewer where a run has no length. */
  guards: Takeoff["guards"];
  projection: Projection;
  label: string;
  /** Corners carry their numbers. */
  numbered?: boolean;
}

/** The plan: the house above, the surface below it, to scale, with its dimensions. */
export function Plan({ geometry, guards, projection: p, label, numbered = false }: Props) {
  const id = useId().replace(/[^a-zA-Z0-9]/g, "");
  const ring = ringOf(geometry.outline);
  const sides = sidesOf(ring);
  const placed = placeGuards(sides, geometry.guards);
  const box = boundsOf(ring);
  const holes = geometry.cutouts.map((one) => one.points);
  const outline = ringPath(ring, p);
  const surface = [outline, ...holes.map((hole) => ringPath(hole, p))].join("");
  const bar = scaleBar(p);
  const houseInSight = p.y(0) > 0;
  return (
    <svg className="zone-plan" viewBox={`0 0 ${p.width} ${p.height}`} role="img" aria-label={label}>
      <defs>
        <clipPath id={`${id}-surface`}>
          <path d={surface} clipRule="evenodd" />
        </clipPath>
        <pattern
          id={`${id}-hatch`}
          width="7"
          height="7"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path className="zone-hatch" d="M0 0V7" />
        </pattern>
      </defs>
      {houseInSight && (
        <House left={p.x(box.left)} right={p.x(box.right)} y={p.y(0)} fill={`url(#${id}-hatch)`} />
      )}
      <path className="zone-surface" d={surface} fillRule="evenodd" />
      <g clipPath={`url(#${id}-surface)`}>
        <Boards geometry={geometry} box={box} projection={p} outline={outline} />
        <Frame geometry={geometry} box={box} projection={p} />
      </g>
      {geometry.framing?.ledger &&
        sides
          .filter((side) => side.onHouse)
          .map(({ from, to }) => (
            <path
              key={`${from.x} ${to.x}`}
              className="zone-ledger"
              d={`M${p.x(from.x)} ${p.y(0) + 2.5}H${p.x(to.x)}`}
            />
          ))}
      {holes.map((hole, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: cut-outs are known by their number only
        <Hole key={i} points={hole} projection={p} />
      ))}
      <path className="zone-outline" d={outline} />
      {[...placed].map(([s, g]) => (
        <GuardLine key={s} side={sides[s]} sections={guards[g]?.sections ?? 1} projection={p} />
      ))}
      {sides.map((side, s) => {
        const guard = placed.get(s);
        return (
          <Dimension
            // biome-ignore lint/suspicious/noArrayIndexKey: sides are known by their number only
            key={s}
            side={side}
            projection={p}
            off={side.onHouse ? WALL + 13 : guard === undefined ? OFF : OFF + GUARD_OFF + 4}
            note={guard === undefined ? "" : ` guard ${guard + 1}`}
          />
        );
      })}
      {numbered &&
        ring.map((corner, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: corners are known by their number only
          <CornerNumber key={i} n={i + 1} at={corner} projection={p} sides={sides} />
        ))}
      <g transform={`translate(${p.x(box.left)} ${p.height - 12})`}>
        <path className="zone-bar" d={`M0 -5V0H${bar.length}V-5`} />
        <text className="zone-note" x={bar.length + 7} y="1">
          {bar.feet} ft
        </text>
      </g>
    </svg>
  );
}

function House({ left, right, y, fill }: { left: number; right: number; y: number; fill: string }) {
  const [from, to] = [Math.max(2, left - 40), right + 40];
  return (
    <g>
      <rect x={from} y={y - WALL} width={to - from} height={WALL} fill={fill} />
      <path className="zone-wall" d={`M${from} ${y}H${to}`} />
      <text className="zone-note" x={from + 1} y={y - WALL - 5}>
        house
      </text>
    </g>
  );
}

/** A length beside its side, turned with it but never upside down. */
function Dimension({
  side,
  projection: p,
  off,
  note,
}: {
  side: Side;
  projection: Projection;
  off: number;
  note: string;
}) {
  if (side.lengthIn === 0) return null;
  const [x, y] = [p.x(side.middle.x) + side.out.x * off, p.y(side.middle.y) + side.out.y * off];
  let angle = (Math.atan2(side.to.y - side.from.y, side.to.x - side.from.x) * 180) / Math.PI;
  if (angle > 90) angle -= 180;
  if (angle <= -90) angle += 180;
  return (
    <text
      className="zone-dimension"
      x={x}
      y={y}
      textAnchor="middle"
      dominantBaseline="central"
      transform={`rotate(${angle.toFixed(1)} ${x.toFixed(1)} ${y.toFixed(1)})`}
    >
      {formatInches(side.lengthIn)}
      {note && <tspan className="zone-note">{note}</tspan>}
    </text>
  );
}

function Hole({ points, projection: p }: { points: Point[]; projection: Projection }) {
  if (points.length < 3) return null;
  const { left, right, near, far } = boundsOf(points);
  const [x, y] = [p.x((left + right) / 2), p.y((near + far) / 2)];
  const box = points.length === 4;
  const size = `${formatInches(right - left)} × ${formatInches(far - near)}`;
  return (
    <g>
      <path className="zone-hole" d={ringPath(points, p)} />
      {box && (
        <path
          className="zone-cross"
          d={`M${p.x(left)} ${p.y(near)}L${p.x(right)} ${p.y(far)}M${p.x(right)} ${p.y(near)}L${p.x(left)} ${p.y(far)}`}
        />
      )}
      {(right - left) * p.scale > size.length * NOTE_CHAR_PX && (
        <text className="zone-note" x={x} y={y} textAnchor="middle" dominantBaseline="central">
          {size}
        </text>
      )}
    </g>
  );
}

/** A railing from above: a line along the side with its posts. */
function GuardLine({
  side,
  sections,
  projection: p,
}: {
  side: Side | undefined;
  sections: number;
  projection: Projection;
}) {
  if (!side) return null;
  const at = (t: number) => ({
    x: p.x(side.from.x + (side.to.x - side.from.x) * t) + side.out.x * GUARD_OFF,
    y: p.y(side.from.y + (side.to.y - side.from.y) * t) + side.out.y * GUARD_OFF,
  });
  const [from, to] = [at(0), at(1)];
  const posts = Array.from({ length: sections + 1 }, (_, i) => at(i / Math.max(1, sections)));
  return (
    <g className="zone-guard">
      <path d={`M${from.x} ${from.y}L${to.x} ${to.y}`} />
      {posts.map(({ x, y }) => (
        <rect key={`${x} ${y}`} x={x - 3} y={y - 3} width="6" height="6" />
      ))}
    </g>
  );
}

/** The number of a corner, inside of it, so that lengths stay legible outside. */
function CornerNumber({
  n,
  at,
  sides,
  projection: p,
}: {
  n: number;
  at: Point;
  sides: readonly Side[];
  projection: Projection;
}) {
  const [before, after] = [sides.at(n - 2), sides[n - 1]];
  const out = {
    x: (before?.out.x ?? 0) + (after?.out.x ?? 0),
    y: (before?.out.y ?? 0) + (after?.out.y ?? 0),
  };
  const long = Math.hypot(out.x, out.y) || 1;
  return (
    <text
      className="zone-corner-label"
      x={p.x(at.x) - (out.x / long) * 22}
      y={p.y(at.y) - (out.y / long) * 22}
      textAnchor="middle"
      dominantBaseline="central"
    >
      {n}
    </text>
  );
}
