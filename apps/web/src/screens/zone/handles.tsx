import { lengthWords } from "@ledgerboard/contracts/measure";
import { type KeyboardEvent, type PointerEvent, useRef } from "react";
import type { Projection } from "./projection.ts";
import type { Handle, Outline, Point } from "./shape.ts";

const SNAP_PX = 7;
const ARROWS: Record<string, Point> = {
  ArrowLeft: { x: -1, y: 0 },
  ArrowRight: { x: 1, y: 0 },
  ArrowUp: { x: 0, y: -1 },
  ArrowDown: { x: 0, y: 1 },
};

interface Props {
  handles: readonly Handle[];
  projection: Projection;
  onMove: (outline: Outline) => void;
  /** Taken hold of, or let go. */
  onHold: (held: boolean) => void;
}

const side = (inches: number, one: string, other: string) =>
  `${lengthWords(Math.abs(inches))} ${inches < 0 ? other : one}`;

/** Places on the drawing as buttons: dragged by pointer, moved by arrow keys an inch at a time, with Shift a foot. */
export function Handles({ handles, projection: p, onMove, onHold }: Props) {
  const grip = useRef<{ k: number; dx: number; dy: number } | null>(null);
  const others = (k: number) => handles.filter((_, i) => i !== k).map((one) => one.at);

  /** To the whole inch; in line with the house or another corner where it nearly is. */
  const snap = (k: number, to: Point): Point => {
    const near = (value: number, lines: number[]) =>
      lines.find((line) => Math.abs(line - value) * p.scale < SNAP_PX) ?? Math.round(value);
    const rest = others(k);
    return { x: near(to.x, [0, ...rest.map((o) => o.x)]), y: near(to.y, [0, ...rest.map((o) => o.y)]) };
  };
  const start = (event: PointerEvent<HTMLButtonElement>, k: number, at: Point) => {
    if (event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    grip.current = { k, dx: event.clientX - p.x(at.x), dy: event.clientY - p.y(at.y) };
    onHold(true);
  };
  const drag = (event: PointerEvent<HTMLButtonElement>) => {
    const held = grip.current;
    const handle = held && handles[held.k];
    if (!held || !handle) return;
    const to = snap(held.k, p.back(event.clientX - held.dx, event.clientY - held.dy));
    if (to.x !== handle.at.x || to.y !== handle.at.y) onMove(handle.move(to));
  };
  const stop = () => {
    if (!grip.current) return;
    grip.current = null;
    onHold(false);
  };
  const press = (event: KeyboardEvent, handle: Handle) => {
    const way = ARROWS[event.key];
    if (!way) return;
    event.preventDefault();
    const step = event.shiftKey ? 12 : event.altKey ? 1 / 16 : 1;
    onMove(handle.move({ x: handle.at.x + way.x * step, y: handle.at.y + way.y * step }));
  };
  return handles.map((handle, k) => (
    <button
      key={handle.name}
      type="button"
      className="zone-handle no-print"
      style={{
        left: `${(p.x(handle.at.x) / p.width) * 100}%`,
        top: `${(p.y(handle.at.y) / p.height) * 100}%`,
      }}
      aria-label={`${handle.name}: ${side(handle.at.x, "along the house", "back along the house")}, ${side(handle.at.y, "out", "behind the house line")}. Arrow keys move it an inch, with Shift a foot.`}
      onPointerDown={(event) => start(event, k, handle.at)}
      onPointerMove={drag}
      onPointerUp={stop}
      onPointerCancel={stop}
      onKeyDown={(event) => press(event, handle)}
    >
      <i aria-hidden="true" />
    </button>
  ));
}
