import { formatInches } from "@ledgerboard/contracts/measure";
import { useId } from "react";
import { boardWords, type CutBoard } from "./tell.ts";

const HIGH = 40;
/** A figure of this many characters' width fits between two cuts; measured by eye. */
const CHAR_PX = 7.6;

interface Props {
  board: CutBoard;
  /** Pixels of the longest board. */
  width: number;
  longestIn: number;
}

/** One board to scale: its cuts in order from the left, what is left over hatched. */
export function BoardBar({ board, width, longestIn }: Props) {
  const id = useId().replace(/[^a-zA-Z0-9]/g, "");
  const scale = Math.max(0, width - 2) / longestIn;
  const long = board.stockIn * scale;
  let at = 0;
  const cuts = board.cuts
    .toSorted((a, b) => b.lengthIn - a.lengthIn)
    .map((cut) => {
      const x = at;
      at += cut.lengthIn * scale;
      return { x, wide: cut.lengthIn * scale, text: formatInches(cut.lengthIn) };
    });
  return (
    <svg
      className="cut-bar"
      viewBox={`-1 0 ${width} ${HIGH}`}
      style={{ aspectRatio: `${width} / ${HIGH}` }}
      role="img"
      aria-label={boardWords(board)}
    >
      <defs>
        <pattern id={id} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path className="cut-hatch" d="M0 0V7" />
        </pattern>
      </defs>
      <rect className="cut-left" x="0" y="4" width={long} height={HIGH - 8} fill={`url(#${id})`} />
      {cuts.map(({ x, wide, text }, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: cuts of one board are known by their order only
        <g key={i}>
          <rect className="cut-piece" x={x} y="4" width={Math.max(0, wide)} height={HIGH - 8} />
          {wide > text.length * CHAR_PX + 8 && (
            <text x={x + wide / 2} y={HIGH / 2} textAnchor="middle" dominantBaseline="central">
              {text}
            </text>
          )}
        </g>
      ))}
      {long - at > formatInches(board.leftIn).length * CHAR_PX + 10 && board.leftIn > 0 && (
        <text
          className="cut-left-text"
          x={(at + long) / 2}
          y={HIGH / 2}
          textAnchor="middle"
          dominantBaseline="central"
        >
          {formatInches(board.leftIn)}
        </text>
      )}
      <rect className="cut-board" x="0" y="4" width={long} height={HIGH - 8} />
    </svg>
  );
}
