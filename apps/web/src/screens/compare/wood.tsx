/** Fills of the drawing: the grain of a pier, and the ground it stands on. */
export function Wood({ id, turned }: { id: string; turned?: boolean }) {
  return (
    <defs>
      <pattern
        id={`${id}-grain`}
        width="46"
        height="120"
        patternUnits="userSpaceOnUse"
        patternTransform={turned ? "rotate(90)" : undefined}
      >
        <rect width="46" height="120" className="bridge-wood" />
        <path
          className="bridge-grain"
          d="M6 0V120M15 0C15 30 11 40 12 62S17 96 15 120M24 0C25 34 30 44 30 60S25 92 24 120M24 24C20 42 20 78 24 98M24 40C22.5 52 22.5 70 24 82M37 0V120M42 0V120"
        />
      </pattern>
      <pattern
        id={`${id}-ground`}
        width="7"
        height="7"
        patternUnits="userSpaceOnUse"
        patternTransform="rotate(45)"
      >
        <path className="bridge-hatch" d="M0 0V7" />
      </pattern>
    </defs>
  );
}

/** Two bolts through a board, staggered as a ledger is bolted. */
export function Bolts({ x, y, width, height }: { x: number; y: number; width: number; height: number }) {
  if (width < 34 || height < 20) return null;
  return (
    <>
      <circle className="bridge-bolt" cx={x + 10} cy={y + Math.min(10, height / 2)} r="2" />
      <circle className="bridge-bolt" cx={x + width - 10} cy={y + Math.min(14, height / 2 + 4)} r="2" />
    </>
  );
}
