import type { Comparison } from "@ledgerboard/contracts/estimates";

export type Step = Comparison["bridge"][number]["step"];

export const STEP_NAMES: Record<Step, string> = {
  removed: "taken out",
  added: "added",
  action: "other work",
  quantity: "quantity",
  rate: "rate",
  allowance: "allowance",
  overhead_and_tax: "overhead, tax, margin",
  whole_job: "whole job",
};

/** One board of the bridge: a pier from the ground up, or a step between two levels. Cents. */
export interface Span {
  key: string;
  name: string;
  note: string;
  kind: "pier" | "laid" | "cut";
  low: number;
  high: number;
  /** The level the next board starts from. */
  level: number;
  /** The price of a pier, the difference of a step. */
  cents: number;
}

interface Side {
  name: string;
  cents: number;
  note: string;
}

/** The boards of the bridge in order; steps that moved nothing are left out. */
export function spans(
  from: Side,
  to: Side,
  steps: readonly { key: string; name: string; note: string; cents: number }[],
): Span[] {
  const pier = (key: string, side: Side): Span => ({
    ...side,
    key,
    kind: "pier",
    low: 0,
    high: side.cents,
    level: side.cents,
  });
  let level = from.cents;
  const boards = steps
    .filter(({ cents }) => cents !== 0)
    .map((step): Span => {
      const before = level;
      level += step.cents;
      return {
        ...step,
        kind: step.cents > 0 ? "laid" : "cut",
        low: Math.min(before, level),
        high: Math.max(before, level),
        level,
      };
    });
  return [pier("from", from), ...boards, pier("to", to)];
}

/** The boards of a bridge as the service gives it, and the names of the steps that moved nothing. */
export function boardsOf(
  from: Side,
  to: Side,
  bridge: Comparison["bridge"],
  noteOf: (step: Step) => string,
): { boards: Span[]; still: string[] } {
  const steps = bridge.map(({ step, delta }) => ({
    key: step,
    name: STEP_NAMES[step],
    note: noteOf(step),
    cents: delta.cents,
  }));
  return {
    boards: spans(from, to, steps),
    still: steps.filter(({ cents }) => cents === 0).map(({ name }) => name),
  };
}

/** Breaks text into lines of about `chars` characters, `most` at the utmost; the last one ends in an ellipsis. */
export function wrap(text: string, chars: number, most: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(" ").filter(Boolean)) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + word.length < chars) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  if (lines.length <= most) return lines;
  const kept = lines.slice(0, most);
  kept[most - 1] = `${kept[most - 1]}…`;
  return kept;
}
