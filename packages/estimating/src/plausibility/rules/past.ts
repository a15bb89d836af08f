import { formatMoney } from "@ledgerboard/contracts/money";
import { words } from "@ledgerboard/contracts/vocabulary";
import type { Remark, Rule } from "../rule.ts";
import { type JobView, type LineView, numberWords, toNumber } from "../view.ts";
import { DONE } from "./shared.ts";

/** Fewer finished jobs than this say little about the next one. Own choice, no source. */
const ENOUGH_JOBS = 5;
/** Standard deviations from the mean: about one line in twenty lies beyond by chance alone. */
const FAR = 2;
/** A spread below this share of the mean is chance: few jobs can look alike. Own choice, no source. */
const LEAST_SPREAD = 0.15;

const OWN_PAST = "The company's own finished jobs";

/** Hours for one unit of the line, setting up included; null for lines without labor or quantity. */
function hoursPerUnit({ rates, amount }: LineView): number | null {
  if (!rates || rates.labor.length === 0 || amount === 0) return null;
  return rates.labor.reduce(
    (sum, { hoursPerUnit: each, setupHours }) => sum + Number(each) + Number(setupHours) / toNumber(amount),
    0,
  );
}

/** To three places, so that the order in which labor rates are added does not show. */
const rounded = (value: number) => String(Math.round(value * 1000) / 1000);

export const hoursOutsidePast: Rule = {
  id: "hours_outside_past",
  title: "Hours outside the company's own past",
  severity: "warning",
  source: OWN_PAST,
  check({ lines, past }: JobView) {
    const known = new Map(
      (past?.hoursPerUnit ?? [])
        .filter(({ jobs }) => jobs >= ENOUGH_JOBS)
        .map((row) => [`${row.component} ${row.action} ${row.unit}`, row]),
    );
    if (known.size === 0) return [];
    return lines.flatMap((line): Remark[] => {
      const row = known.get(`${line.component} ${line.action} ${line.unit}`);
      const hours = line.by === "us" ? hoursPerUnit(line) : null;
      if (!row || hours === null) return [];
      const mean = Number(row.meanHours);
      const spread = Math.max(Number(row.sdHours), LEAST_SPREAD * mean);
      if (Math.abs(hours - mean) <= FAR * spread) return [];
      return [
        {
          line,
          field: "assemblyCode",
          numbers: { hours: rounded(hours), mean: rounded(mean), jobs: String(row.jobs) },
          words: `${words(line.component)} ${DONE[line.action]}: ${numberWords(hours)} h a unit here, but ${numberWords(mean)} h on your last ${row.jobs} jobs. ${hours > mean ? "Is something special about it?" : "Who would do it so fast?"}`,
        },
      ];
    });
  },
};

export const priceOutsidePast: Rule = {
  id: "price_outside_past",
  title: "Price per square foot outside the company's own past",
  severity: "warning",
  source: OWN_PAST,
  check({ zones, past }: JobView) {
    const known = new Map(
      (past?.pricePerSqft ?? []).filter(({ jobs }) => jobs >= ENOUGH_JOBS).map((row) => [row.zoneKind, row]),
    );
    return zones.flatMap((zone): Remark[] => {
      const row = known.get(zone.kind);
      const area = Number(zone.takeoff?.areaSqft ?? 0);
      const cents = zone.lines.reduce((sum, l) => sum + (l.standing === "base" ? l.price.priceCents : 0), 0);
      if (!row || !(area > 0) || cents === 0) return [];
      const each = Math.round(cents / area);
      if (each >= row.p10Cents && each <= row.p90Cents) return [];
      return [
        {
          zone,
          field: null,
          numbers: { centsPerSqft: String(each), p10: String(row.p10Cents), p90: String(row.p90Cents) },
          words: `${zone.name} comes to ${formatMoney(each)} a square foot; eight in ten of your last ${row.jobs} jobs like it lay between ${formatMoney(row.p10Cents)} and ${formatMoney(row.p90Cents)}. Is something missing, or counted twice?`,
        },
      ];
    });
  },
};
