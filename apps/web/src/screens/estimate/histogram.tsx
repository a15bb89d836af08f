import type { SimulatedCost } from "@ledgerboard/estimating";
import { useId } from "react";
import { money } from "../../ui/format.ts";
import { useWidth } from "../compare/use-width.ts";

const HEIGHT = 132;
const TOP = 40;
const FOOT = 24;
const EDGE = 2;

/**
 * How often the job costs how much. What lies beyond the price is a loss: hatched, and named. The price is a flag that
 * stands in the ground, the three tenths are notches below it.
 */
export function Histogram({
  spread,
  priceCents,
  label,
}: {
  spread: SimulatedCost;
  priceCents: number;
  label: string;
}) {
  const [frame, width] = useWidth<HTMLDivElement>(320);
  const id = useId().replace(/[^a-zA-Z0-9]/g, "");
  const { histogram } = spread;
  const least = Math.min(histogram[0]?.fromCents ?? 0, priceCents);
  const most = Math.max(histogram.at(-1)?.toCents ?? 1, priceCents);
  const x = (cents: number) => EDGE + ((cents - least) / Math.max(1, most - least)) * (width - 2 * EDGE);
  const highest = Math.max(1, ...histogram.map(({ count }) => count));
  const ground = TOP + HEIGHT;
  const at = x(priceCents);
  const right = at > width / 2;
  const bars = histogram.map(({ fromCents, toCents, count }) => {
    const high = (count / highest) * HEIGHT;
    return {
      key: fromCents,
      x: x(fromCents) + 0.5,
      y: ground - high,
      width: Math.max(1, x(toCents) - x(fromCents) - 1),
      height: high,
    };
  });
  const notches = [
    { name: "P10", cents: spread.p10Cents },
    { name: "P50", cents: spread.p50Cents },
    { name: "P90", cents: spread.p90Cents },
  ];
  return (
    <div ref={frame}>
      <svg
        className="est-chart"
        viewBox={`0 0 ${width} ${ground + FOOT}`}
        style={{ aspectRatio: `${width} / ${ground + FOOT}` }}
        role="img"
        aria-label={label}
      >
        <defs>
          <pattern
            id={`${id}-loss`}
            width="6"
            height="6"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <rect width="6" height="6" className="est-chart-loss-ground" />
            <path className="est-chart-loss" d="M1 0V6" />
          </pattern>
          <clipPath id={`${id}-gain`}>
            <rect x="0" y="0" width={at} height={ground} />
          </clipPath>
          <clipPath id={`${id}-beyond`}>
            <rect x={at} y="0" width={Math.max(0, width - at)} height={ground} />
          </clipPath>
        </defs>
        <g clipPath={`url(#${id}-gain)`} className="est-chart-bars">
          {bars.map(({ key, ...bar }) => (
            <rect key={key} {...bar} />
          ))}
        </g>
        <g clipPath={`url(#${id}-beyond)`} className="est-chart-beyond">
          {bars.map(({ key, ...bar }) => (
            <rect key={key} {...bar} fill={`url(#${id}-loss)`} />
          ))}
        </g>
        <path className="est-chart-ground" d={`M0 ${ground}H${width}`} />
        {notches.map(({ name, cents }) => (
          <g key={name}>
            <path className="est-chart-notch" d={`M${x(cents)} ${ground}v7`} />
            <text className="est-chart-name" x={x(cents)} y={ground + 20} textAnchor="middle">
              {name}
            </text>
          </g>
        ))}
        <path className="est-chart-price" d={`M${at} ${ground}V${TOP - 28}`} />
        <text
          className="est-chart-flag"
          x={right ? at - 7 : at + 7}
          y={TOP - 17}
          textAnchor={right ? "end" : "start"}
        >
          price {money(priceCents)}
        </text>
        {width - at > 52 && (
          <text className="est-chart-name loss" x={at + 7} y={right ? TOP - 17 : TOP} textAnchor="start">
            loss
          </text>
        )}
      </svg>
    </div>
  );
}
