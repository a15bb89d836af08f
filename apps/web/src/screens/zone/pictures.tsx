import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { formatInches, lengthWords } from "@ledgerboard/contracts/measure";
import { takeoff } from "@ledgerboard/estimating";
import { plural } from "../../ui/format.ts";

const EMPTY: ZoneGeometry = {
  outline: null,
  cutouts: [],
  heightIn: null,
  framing: null,
  decking: null,
  stairs: [],
  guards: [],
};
const count = (geometry: ZoneGeometry) =>
  takeoff({ kind: "stair", geometry, lengthFt: null, widthFt: null, heightFt: null });

const WIDE = 340;
const HIGH = 190;
const LEFT = 16;
const TOP = 26;

/** A stair from the side, to scale: its rises and steps as they are counted. */
export function StairPicture({ stair, n }: { stair: ZoneGeometry["stairs"][number]; n: number }) {
  const [counted] = count({ ...EMPTY, stairs: [stair] }).stairs;
  if (!counted || stair.treadDepthIn === 0 || counted.treads === 0) return null;
  const { risers, riserHeightIn: rise, treads } = counted;
  const run = treads * stair.treadDepthIn;
  const scale = Math.min((WIDE - LEFT - 96) / run, (HIGH - TOP - 30) / stair.totalRiseIn);
  const [x, y] = [(inches: number) => LEFT + 26 + inches * scale, (inches: number) => TOP + inches * scale];
  const steps = Array.from(
    { length: treads },
    (_, i) => `V${y((i + 1) * rise)}H${x((i + 1) * stair.treadDepthIn)}`,
  ).join("");
  const ground = y(stair.totalRiseIn);
  return (
    <svg
      className="zone-picture"
      viewBox={`0 0 ${WIDE} ${ground + 30}`}
      role="img"
      aria-label={`Stair ${n} from the side: ${plural(risers, "rise")} of ${lengthWords(rise)} and ${plural(treads, "tread")} of ${lengthWords(stair.treadDepthIn)}, ${lengthWords(stair.totalRiseIn)} high and ${lengthWords(run)} long.`}
    >
      <path className="zone-wall" d={`M${LEFT} ${y(0)}H${x(0)}`} />
      <path className="zone-step" d={`M${x(0)} ${y(0)}${steps}V${ground}H${x(0)}Z`} />
      <path className="zone-wall" d={`M${LEFT} ${ground}H${x(run) + 26}`} />
      <text className="zone-dimension" x={x(run / 2)} y={ground + 20} textAnchor="middle">
        {formatInches(run)}
      </text>
      <text className="zone-dimension" x={x(run) + 12} y={(y(0) + ground) / 2 + 4}>
        {formatInches(stair.totalRiseIn)}
      </text>
      <text className="zone-note" x={LEFT} y={y(0) - 10}>
        {risers} × {formatInches(rise)}
      </text>
    </svg>
  );
}

const MOST_SHOWN = 60;

/** One section of a guard from the front, to scale: posts, rails, and balusters spread evenly. */
export function GuardPicture({ guard, n }: { guard: ZoneGeometry["guards"][number]; n: number }) {
  const [counted] = count({ ...EMPTY, guards: [guard] }).guards;
  if (!counted || counted.clearWidthIn <= 0 || guard.heightIn === 0) return null;
  const post = 3.5;
  const wide = counted.clearWidthIn + 2 * post;
  const scale = Math.min((WIDE - 116) / wide, (HIGH - 34) / guard.heightIn);
  const [x, y] = [(inches: number) => 10 + inches * scale, (inches: number) => 10 + inches * scale];
  const { balustersPerSection: balusters, balusterGapIn: gap } = counted;
  const thick = guard.balusterWidthIn;
  const rails = Array.from({ length: guard.rails }, (_, i) =>
    guard.rails === 1 ? 4 : 4 + (i * (guard.heightIn - 12)) / (guard.rails - 1),
  );
  const lattice = guard.infill === "lattice";
  return (
    <svg
      className="zone-picture"
      viewBox={`0 0 ${WIDE} ${y(guard.heightIn) + 26}`}
      role="img"
      aria-label={`One section of guard run ${n} from the front: ${lengthWords(counted.clearWidthIn)} between posts, ${lengthWords(guard.heightIn)} high${gap === null ? "" : `, ${plural(balusters, "baluster")} with ${lengthWords(gap)} between them`}.`}
    >
      {[0, wide - post].map((at) => (
        <rect
          key={at}
          className="zone-step"
          x={x(at)}
          y={y(0)}
          width={post * scale}
          height={guard.heightIn * scale}
        />
      ))}
      {rails.map((at) => (
        <rect
          key={at}
          className="zone-step"
          x={x(post)}
          y={y(at)}
          width={counted.clearWidthIn * scale}
          height={1.5 * scale}
        />
      ))}
      {gap !== null &&
        balusters <= MOST_SHOWN &&
        Array.from({ length: balusters }, (_, i) => post + gap + i * (gap + thick)).map((at) => (
          <rect
            key={at}
            className="zone-step"
            x={x(at)}
            y={y(4)}
            width={thick * scale}
            height={Math.max(1, guard.heightIn - 8) * scale}
          />
        ))}
      {lattice && (
        <path
          className="zone-lattice"
          d={Array.from({ length: 8 }, (_, i) => {
            const [a, b] = [
              x(post + (counted.clearWidthIn * i) / 8),
              x(post + (counted.clearWidthIn * (i + 1)) / 8),
            ];
            return `M${a} ${y(4)}L${b} ${y(guard.heightIn - 4)}M${b} ${y(4)}L${a} ${y(guard.heightIn - 4)}`;
          }).join("")}
        />
      )}
      {guard.cap && <path className="zone-cap" d={`M${x(-0.8)} ${y(0)}H${x(wide + 0.8)}`} />}
      <path className="zone-wall" d={`M4 ${y(guard.heightIn)}H${x(wide) + 6}`} />
      <text className="zone-dimension" x={x(wide / 2)} y={y(guard.heightIn) + 18} textAnchor="middle">
        {formatInches(counted.clearWidthIn)}
      </text>
      <text className="zone-dimension" x={x(wide) + 8} y={y(guard.heightIn / 2)}>
        {formatInches(guard.heightIn)}
      </text>
      {gap !== null && (
        <text className="zone-note" x={x(wide) + 8} y={y(guard.heightIn / 2) + 18}>
          gap {formatInches(gap)}
        </text>
      )}
    </svg>
  );
}
