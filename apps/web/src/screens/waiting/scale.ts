import { addDays, daysBetween } from "@ledgerboard/contracts/dates";
import type { JobRow } from "@ledgerboard/contracts/jobs";
import { monthStarts } from "../../ui/days.ts";

/** The stretch of days the planks are drawn on; everything in percent of its width. */
export interface Scale {
  from: string;
  to: string;
  today: string;
  /** Where a day begins, 0 to 100; days outside are held at the edge. */
  at: (day: string) => number;
}

const PAST_WEEKS = [6, 9, 13, 18, 26, 39, 52, 78, 104];
const AHEAD_WEEKS = [5, 8, 13, 18, 26];
/** Least share of the past that is drawn ahead: there stands what is said of overdue jobs. */
const LEAST_AHEAD = 0.36;
/** Share of the jobs that must fit; the few older ones are drawn with a torn end. */
const FITTING = 0.85;

const smallest = (weeks: readonly number[], days: readonly number[]): number =>
  weeks.find((w) => days.filter((d) => d <= 7 * w).length >= FITTING * days.length) ?? weeks.at(-1) ?? 13;

type Dated = Pick<JobRow, "inquiryOn" | "promised" | "startOn">;

export function makeScale(rows: readonly Dated[], today: string): Scale {
  const past = smallest(
    PAST_WEEKS,
    rows.map((row) => daysBetween(row.inquiryOn, today)),
  );
  const ahead = smallest(
    AHEAD_WEEKS,
    rows.flatMap((row) =>
      [row.promised?.to, row.startOn].flatMap((on) => (on ? [daysBetween(today, on)] : [])),
    ),
  );
  const from = addDays(today, -7 * past - 2);
  const to = addDays(today, 7 * Math.max(ahead, Math.ceil(past * LEAST_AHEAD)));
  const span = daysBetween(from, to);
  const at = (day: string) => Math.min(100, Math.max(0, (100 * daysBetween(from, day)) / span));
  return { from, to, today, at };
}

export interface Tick {
  on: string;
  at: number;
  /** Left out where there is little room. */
  minor: boolean;
}

/** Beginnings of months along the scale, at most nine, none under the word "today". */
export function ticks(scale: Scale): Tick[] {
  const months = monthStarts(scale.from, scale.to);
  const every = Math.ceil(months.length / 9);
  const today = scale.at(scale.today);
  return months
    .filter((on) => (Number(on.slice(5, 7)) - 1) % every === 0)
    .map((on, n) => ({ on, at: scale.at(on), minor: n % 2 === 1 || Math.abs(scale.at(on) - today) < 14 }))
    .filter((tick) => Math.abs(tick.at - today) > 4.5 && tick.at < 97);
}

/** Shortest plank that is drawn. */
const LEAST = 0.8;

/** What is drawn for one job, in percent of the scale. */
export interface PlankShape {
  left: number;
  right: number;
  /** Where timber ends and the overdue part begins; equals `right` when nothing is overdue. */
  mark: number;
  /** Began before the scale does. */
  torn: boolean;
  notches: { at: number; stages: string[]; on: string }[];
  window: { left: number; right: number; beyond: boolean } | null;
  start: number | null;
}

export function shape(row: JobRow, scale: Scale): PlankShape {
  const end = addDays(row.inquiryOn, row.waitedDays);
  const right = scale.at(end);
  // Also an inquiry of today is to be seen.
  const left = Math.min(scale.at(row.inquiryOn), right - LEAST);
  const overdue = row.daysLate > 0 && row.promised;
  const days = new Map<string, string[]>();
  for (const { stage, on } of row.passed)
    if (on > row.inquiryOn && on > scale.from) days.set(on, [...(days.get(on) ?? []), stage]);
  const promised = row.promised;
  return {
    left,
    right,
    mark: overdue ? Math.min(right, Math.max(left, scale.at(addDays(overdue.to, 1)))) : right,
    torn: row.inquiryOn < scale.from,
    notches: [...days]
      .map(([on, stages]) => ({ on, stages, at: scale.at(on) }))
      .filter(({ at }) => at > left + 1 && at < right - 0.5),
    window: promised && {
      left: scale.at(promised.from),
      right: scale.at(addDays(promised.to, 1)),
      beyond: promised.to > scale.to,
    },
    start: row.startOn ? scale.at(row.startOn) : null,
  };
}
