import { Fragment, useId } from "react";
import { money, moneyChange } from "../../ui/format.ts";
import { type Span, wrap } from "./spans.ts";
import { Bolts, Wood } from "./wood.tsx";

const TOP = 54;
const HEIGHT = 310;
const GROUND = TOP + HEIGHT;
const LINE = 17;
/** Mean width of a character at the size of the notes; common practice, measured by eye. */
const CHAR = 6.7;
const MIN_BOARD = 3;

/** The bridge as it is walked: from the left bank to the right. */
export function BridgeAcross({
  boards,
  width,
  label,
}: {
  boards: readonly Span[];
  width: number;
  label: string;
}) {
  const id = useId().replace(/[^a-zA-Z0-9]/g, "");
  const top = Math.max(1, ...boards.map(({ high }) => high));
  const y = (cents: number) => GROUND - (cents / top) * HEIGHT;
  const column = width / boards.length;
  const thick = Math.min(132, column * 0.66);
  const left = (at: number) => column * at + (column - thick) / 2;
  const chars = Math.floor((column - 10) / CHAR);
  const notes = boards.map(({ note }) => wrap(note, chars, 3));
  const names = boards.map(({ name }) => wrap(name, chars, 2));
  const below = Math.max(...boards.map((_, at) => (names[at]?.length ?? 0) + (notes[at]?.length ?? 0)));
  const bottom = GROUND + 26 + below * LINE + 6;
  return (
    <svg
      className="bridge-picture"
      viewBox={`0 0 ${width} ${bottom}`}
      style={{ aspectRatio: `${width} / ${bottom}` }}
      role="img"
      aria-label={label}
    >
      <Wood id={id} />
      <rect x="0" y={GROUND} width={width} height="9" fill={`url(#${id}-ground)`} />
      <path className="bridge-shore" d={`M0 ${GROUND}H${width}`} />
      {boards.map((board, at) => {
        const x = left(at);
        const high = y(board.high);
        const height = Math.max(MIN_BOARD, y(board.low) - high);
        const middle = x + thick / 2;
        const pier = board.kind === "pier";
        const last = at === boards.length - 1;
        const label = high - 11;
        return (
          <Fragment key={board.key}>
            {!pier && (
              <path
                className="bridge-post"
                d={`M${x + 6} ${high + height}V${GROUND}M${x + thick - 6} ${high + height}V${GROUND}`}
              />
            )}
            {!last && <path className="bridge-rail" d={`M${x + thick} ${y(board.level)}H${left(at + 1)}`} />}
            <rect
              className={`bridge-board bridge-${board.kind}`}
              x={x}
              y={high}
              width={thick}
              height={height}
              {...(pier && { fill: `url(#${id}-grain)` })}
            />
            {board.kind === "laid" && <Bolts x={x} y={high} width={thick} height={height} />}
            {pier && <path className="bridge-cap" d={`M${x - 7} ${high}H${x + thick + 7}`} />}
            <text className={pier ? "bridge-sum" : "bridge-move"} x={middle} y={label} textAnchor="middle">
              {pier ? money(board.cents) : moneyChange(board.cents)}
            </text>
            {!pier && <Arrow up={board.kind === "laid"} x={middle} y={label - 26} />}
            {[...(names[at] ?? []), ...(notes[at] ?? [])].map((text, row) => (
              <text
                // biome-ignore lint/suspicious/noArrayIndexKey: lines of one wrapped text, redrawn as a whole
                key={row}
                className={row < (names[at]?.length ?? 0) ? "bridge-name" : "bridge-note"}
                x={middle}
                y={GROUND + 30 + row * LINE}
                textAnchor="middle"
              >
                {text}
              </text>
            ))}
          </Fragment>
        );
      })}
    </svg>
  );
}

/** Which way a step goes, for eyes that do not read the sign. */
const Arrow = ({ up, x, y }: { up: boolean; x: number; y: number }) => (
  <path className="bridge-arrow" d={up ? `M${x - 5} ${y + 6}l5 -6l5 6` : `M${x - 5} ${y}l5 6l5 -6`} />
);
