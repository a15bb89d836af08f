import { Fragment, useId } from "react";
import { money, moneyChange, sentence } from "../../ui/format.ts";
import { type Span, wrap } from "./spans.ts";
import { Bolts, Wood } from "./wood.tsx";

const EDGE = 9;
const NAME = 22;
const BOARD = 24;
const NOTE = 17;
const GAP = 14;
const CHAR = 6.9;
const MIN_BOARD = 3;

/** The bridge on its side, for a narrow screen: one row a step, the ground at the left. */
export function BridgeDown({
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
  const x = (cents: number) => EDGE + (cents / top) * (width - EDGE - 3);
  let at = 2;
  const rows = boards.map((board) => {
    const notes = board.kind === "pier" ? [] : wrap(board.note, Math.floor((width - EDGE - 8) / CHAR), 2);
    const row = { board, notes, y: at };
    at += NAME + BOARD + (notes.length > 0 ? 3 + notes.length * NOTE : 0) + GAP;
    return row;
  });
  return (
    <svg
      className="bridge-picture"
      viewBox={`0 0 ${width} ${at}`}
      style={{ aspectRatio: `${width} / ${at}` }}
      role="img"
      aria-label={label}
    >
      <Wood id={id} turned />
      <rect x="0" y="0" width={EDGE} height={at - GAP + 4} fill={`url(#${id}-ground)`} />
      <path className="bridge-shore" d={`M${EDGE} 0V${at - GAP + 4}`} />
      {rows.map(({ board, notes, y }, index) => {
        const pier = board.kind === "pier";
        const low = x(board.low);
        const long = Math.max(MIN_BOARD, x(board.high) - low);
        const plank = y + NAME;
        const next = rows[index + 1];
        return (
          <Fragment key={board.key}>
            {next && (
              <path className="bridge-rail" d={`M${x(board.level)} ${plank + BOARD}V${next.y + NAME}`} />
            )}
            {!pier && (
              <path
                className="bridge-post"
                d={`M${EDGE} ${plank + 6}H${low}M${EDGE} ${plank + BOARD - 6}H${low}`}
              />
            )}
            <rect
              className={`bridge-board bridge-${board.kind}`}
              x={low}
              y={plank}
              width={long}
              height={BOARD}
              {...(pier && { fill: `url(#${id}-grain)` })}
            />
            {board.kind === "laid" && <Bolts x={low} y={plank} width={long} height={BOARD} />}
            {pier && (
              <path className="bridge-cap" d={`M${x(board.high)} ${plank - 5}V${plank + BOARD + 5}`} />
            )}
            <text className={pier ? "bridge-sum" : "bridge-name"} x={EDGE + 7} y={y + 15}>
              {sentence(board.name)}
            </text>
            <text className={pier ? "bridge-sum" : "bridge-move"} x={width - 2} y={y + 15} textAnchor="end">
              {pier ? money(board.cents) : moneyChange(board.cents)}
            </text>
            {notes.map((text, row) => (
              <text
                // biome-ignore lint/suspicious/noArrayIndexKey: lines of one wrapped text, redrawn as a whole
                key={row}
                className="bridge-note"
                x={EDGE + 7}
                y={plank + BOARD + 17 + row * NOTE}
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
