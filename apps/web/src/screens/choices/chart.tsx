import { money, plural } from "../../ui/format.ts";
import { useWidth } from "../compare/use-width.ts";
import { cumulative, type Life, ticks, type Worth } from "./cumulative.ts";

const HIGH = 320;
const TOP = 14;
const BOTTOM = 34;
const LEFT = 66;
const RIGHT = 16;

/** What each choice has cost by each year, as steps; told apart by line and mark, not by colour alone. */
export function CostChart({
  choices,
  years,
  worth,
}: {
  choices: readonly Life[];
  years: number;
  worth: Worth;
}) {
  const [frame, width] = useWidth<HTMLDivElement>(720);
  const sums = choices.map((choice) => cumulative(choice, years, worth));
  const marks = ticks(Math.min(0, ...sums.flat()), Math.max(...sums.flat()));
  const [low, high] = [marks[0] ?? 0, marks.at(-1) ?? 1];
  const x = (year: number) => LEFT + (year / years) * (width - LEFT - RIGHT);
  const y = (cents: number) => TOP + (1 - (cents - low) / Math.max(1, high - low)) * (HIGH - TOP - BOTTOM);
  const every = [1, 2, 5, 10, 20].find((n) => (years / n) * 58 <= width - LEFT - RIGHT) ?? 20;
  const marked = Array.from({ length: Math.floor(years / every) + 1 }, (_, i) => i * every);
  const label = choices
    .map(
      ({ name, now }, i) =>
        `${name}: ${money(now)} now, ${money(sums[i]?.at(-1) ?? 0)} after ${plural(years, "year")}`,
    )
    .join("; ");
  return (
    <div ref={frame} className="choices-chart">
      <svg viewBox={`0 0 ${width} ${HIGH}`} role="img" aria-label={`Cost by the end of each year. ${label}.`}>
        {marks.map((cents) => (
          <g key={cents}>
            <path className="choices-rule" d={`M${LEFT} ${y(cents)}H${width - RIGHT}`} />
            <text x={LEFT - 8} y={y(cents)} textAnchor="end" dominantBaseline="central">
              {money(cents)}
            </text>
          </g>
        ))}
        {marked.map((year) => (
          <text key={year} x={x(year)} y={HIGH - 12} textAnchor="middle">
            {year === 0 ? "now" : year}
          </text>
        ))}
        {sums.map((line, i) => (
          <g key={choices[i]?.name} className={`choices-line n${i % 4}`}>
            <path d={stepPath(line, x, y)} />
            {marked.map((year) => (
              <Mark key={year} kind={i} x={x(year)} y={y(line[year] ?? 0)} />
            ))}
          </g>
        ))}
      </svg>
      <ul className="plain choices-key">
        {choices.map(({ name }, i) => (
          <li key={name} className={`choices-line n${i % 4}`}>
            <svg viewBox="0 0 44 14" aria-hidden="true">
              <path d="M0 7H44" />
              <Mark kind={i} x={22} y={7} />
            </svg>
            {name}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** A sum stays until the end of the year in which something more is paid. */
const stepPath = (
  line: readonly number[],
  x: (year: number) => number,
  y: (cents: number) => number,
): string =>
  line.map((cents, year) => (year === 0 ? `M${x(0)} ${y(cents)}` : `H${x(year)}V${y(cents)}`)).join("");

function Mark({ kind, x, y }: { kind: number; x: number; y: number }) {
  if (kind % 4 === 0) return <circle cx={x} cy={y} r="4.5" />;
  if (kind % 4 === 1) return <rect x={x - 4.5} y={y - 4.5} width="9" height="9" />;
  if (kind % 4 === 2)
    return <path className="solid" d={`M${x} ${y - 6}L${x + 5.5} ${y + 4.5}H${x - 5.5}Z`} />;
  return <path className="solid" d={`M${x} ${y - 6}L${x + 6} ${y}L${x} ${y + 6}L${x - 6} ${y}Z`} />;
}
