/* A ledger on a house wall with joists in their hangers, drawn to scale: 9 units an inch, joists 16 in on center. */
const INCH = 9;
const SPACING = 16 * INCH;
const TOP = 300;
const DEPTH = 7.25 * INCH;
const THICK = 1.5 * INCH;
const WIDTH = 760;
const MIDDLE = 34 + SPACING + THICK / 2;
const JOISTS = Array.from({ length: 6 }, (_, n) => 34 + n * SPACING);

export function LedgerDrawing() {
  const bottom = TOP + DEPTH;
  return (
    <svg
      className="drawing"
      viewBox={`0 0 ${WIDTH} 640`}
      preserveAspectRatio="xMidYMid slice"
      aria-hidden="true"
    >
      <g className="d-siding">
        {Array.from({ length: 9 }, (_, row) => TOP - 24 - row * 36).map((y) => (
          <path key={y} d={`M0 ${y}H${WIDTH}`} />
        ))}
        {Array.from({ length: 9 }, (_, row) => bottom + 60 + row * 36).map((y) => (
          <path key={y} d={`M0 ${y}H${WIDTH}`} />
        ))}
      </g>
      <rect className="d-board" x="-4" y={TOP} width={WIDTH + 8} height={DEPTH} />
      <g className="d-grain">
        <path d={`M0 ${TOP + 11}C180 ${TOP + 4} 340 ${TOP + 19} 760 ${TOP + 9}`} />
        <path
          d={`M0 ${TOP + 27}C220 ${TOP + 21} 260 ${TOP + 35} 420 ${TOP + 29}S640 ${TOP + 22} 760 ${TOP + 29}`}
        />
        <path d={`M0 ${TOP + 42}C150 ${TOP + 48} 420 ${TOP + 35} 760 ${TOP + 46}`} />
        <path d={`M0 ${TOP + 56}C260 ${TOP + 50} 480 ${TOP + 60} 760 ${TOP + 54}`} />
      </g>
      {JOISTS.map((x, n) => (
        <g key={x}>
          <g transform={`translate(${x + SPACING / 2 + THICK / 2} ${n % 2 ? bottom - 18 : TOP + 18})`}>
            <circle className="d-washer" r="9" />
            <path className="d-bolt" d="M-5 -2.9V2.9L0 5.8 5 2.9V-2.9L0 -5.8Z" />
          </g>
          <rect className="d-joist" x={x} y={TOP} width={THICK} height={DEPTH} />
          <path
            className="d-rings"
            d={`M${x} ${TOP + 20}q7 24 ${THICK} 3M${x} ${TOP + 36}q7 20 ${THICK} 3`}
          />
          <path className="d-hanger" d={`M${x - 3} ${TOP + 14}V${bottom + 4}H${x + THICK + 3}V${TOP + 14}`} />
        </g>
      ))}
      <path className="d-flashing" d={`M-4 ${TOP - 46}V${TOP - 4}H${WIDTH + 4}`} />
      <rect className="d-board" x="-4" y={TOP - INCH - 4} width={WIDTH + 8} height={INCH} />
      <g className="d-measure">
        <path d={`M${MIDDLE} ${bottom + 12}v42M${MIDDLE + SPACING} ${bottom + 12}v42`} />
        <path d={`M${MIDDLE} ${bottom + 42}h${SPACING}m-7 5 14 -10m-${SPACING} 0 -14 10`} />
        <text x={MIDDLE + SPACING / 2} y={bottom + 34} textAnchor="middle">
          16 in on center
        </text>
      </g>
    </svg>
  );
}
