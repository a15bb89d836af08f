import type { countJobs, JobRow } from "@ledgerboard/contracts/jobs";
import type { Output } from "../../api/wire.ts";
import { count, day, dayInWords, dayRange, plural, sentence, words } from "../../ui/format.ts";

/** The views of the list; `all` is for searches only. */
export const VIEWS = ["waiting", "booked", "under_way", "finished", "closed"] as const;
export type View = (typeof VIEWS)[number];
export const WAITING_STAGES = ["inquiry", "first_pass", "site_review", "quoted", "accepted"] as const;
export type WaitingStage = (typeof WAITING_STAGES)[number];

type Counts = Output<typeof countJobs>;

export const inStage = (counts: Counts | undefined, stage: string): number =>
  counts?.stages.find((one) => one.stage === stage)?.count ?? 0;

/** How the list is headed: "41 customers waiting". */
export function heading(view: View, counts: Counts): string {
  if (view === "waiting") return sentence(`${plural(counts.waiting, "customer")} waiting`);
  return sentence(`${plural(inStage(counts, view), "job")} ${words(view)}`);
}

/** The state of the house in two or three sentences. */
export function summary(counts: Counts): string {
  const crews = counts.bookedTo
    ? `${plural(counts.crews, "crew")} ${counts.crews === 1 ? "is" : "are"} booked to ${dayInWords(counts.bookedTo)}.`
    : counts.crews > 0
      ? "No crew is booked yet."
      : "There are no crews yet.";
  const late =
    counts.late === 0
      ? "No job is past the start it was promised"
      : counts.late === 1
        ? "One job is past the start it was promised"
        : `${sentence(count(counts.late))} jobs are past the start they were promised`;
  const more = [
    counts.hazards > 0 && `${count(counts.hazards)} ${counts.hazards === 1 ? "reports" : "report"} a danger`,
    counts.materialOpen > 0 &&
      `${plural(counts.materialOpen, "material change")} ${counts.materialOpen === 1 ? "waits" : "wait"} to be settled`,
  ].filter(Boolean);
  return `${sentence(crews)} ${[late, ...more].join("; ")}.`;
}

const days = (n: number): string => `${n} ${n === 1 ? "day" : "days"}`;

/** What the window mark says beside it. */
export function windowWords(row: JobRow, today: string): string | null {
  const parts = [
    row.promised && `promised ${dayRange(row.promised.from, row.promised.to)}`,
    row.startOn && `crew starts ${day(row.startOn, today)}`,
  ].filter(Boolean);
  return parts.length > 0 ? parts.join(", ") : null;
}

export const lateWords = (row: JobRow): string | null =>
  row.daysLate > 0 ? `${days(row.daysLate)} late` : null;

/** "57 days", "new today". */
export const waitedWords = (row: JobRow): string =>
  row.waitedDays === 0 ? "new today" : days(row.waitedDays);

export const isChanged = (row: JobRow): boolean =>
  row.holds.some(({ hold }) => hold === "material_variance_unresolved");

const HOLDING = ["accepted", "booked", "under_way"];
/** Holds worth a word: from the signature on, and where no flag shows them already. */
export const plainHolds = (row: JobRow): string[] =>
  HOLDING.includes(row.stage)
    ? row.holds.filter(({ hold }) => hold !== "material_variance_unresolved").map(({ hold }) => words(hold))
    : [];

/** Who owes the next act, and what it is. */
export function nextAct({ next }: JobRow): { who: string | null; task: string } {
  const who = next.owedBy && sentence(words(next.owedBy));
  return {
    who,
    task: who && next.words.startsWith(`${who}: `) ? next.words.slice(who.length + 2) : next.words,
  };
}

/** The whole row as it would be told over the phone. */
export function told(row: JobRow, today: string): string {
  const { who, task } = nextAct(row);
  const window = [windowWords(row, today), lateWords(row)].filter(Boolean).join(", ");
  return [
    `${row.number} ${row.customerName}, ${row.title}, ${row.city}.`,
    row.hazard && `Danger: ${row.hazard}.`,
    row.pinnedWhy && `Pinned: ${row.pinnedWhy}.`,
    isChanged(row) && "Changed by the site review, not settled.",
    `${sentence(words(row.stage))}, ${row.waitedDays === 0 ? "" : "waited "}${waitedWords(row)}${window ? `, ${window}` : ""}.`,
    plainHolds(row).length > 0 && `Held: ${plainHolds(row).join(", ")}.`,
    `Next, ${who ? `${who.toLowerCase()}: ` : ""}${task}.`,
  ]
    .filter(Boolean)
    .join(" ");
}
