import type { getChoices } from "@ledgerboard/contracts/assessment";
import type { Output } from "../../api/wire.ts";
import { money, plural } from "../../ui/format.ts";

export type Choices = Output<typeof getChoices>;
export type Life = Choices["choices"][number];

/** As the money is paid, or each amount at what it is worth today. */
export type Worth = "paid" | "present";

/** What a choice has cost by the end of each year, year 0 being now; cents. */
export function cumulative({ flows }: Pick<Life, "flows">, years: number, worth: Worth): number[] {
  let sum = 0;
  return Array.from({ length: years + 1 }, (_, year) => {
    for (const flow of flows)
      if (flow.year === year) sum += worth === "paid" ? flow.cost.cents : flow.present.cents;
    return sum;
  });
}

/** When the dearer start has paid for itself, in words; the one that is cheapest now is what others are set against. */
export function breakEvenWords(choice: Life, choices: readonly Life[], years: number): string {
  const cheapest = choices.reduce((a, b) => (b.now.cents < a.now.cents ? b : a));
  if (choice.now.cents === cheapest.now.cents) return "Costs least now.";
  const more = `${money(choice.now.cents - cheapest.now.cents)} more now`;
  if (choice.breakEvenYear === null)
    return `${more}, and not made up for within ${plural(years, "year")}, in today's worth.`;
  return `${more}; made up for by the end of year ${choice.breakEvenYear}, in today's worth.`;
}

/** Round figures for the money axis, from the lowest to the highest sum. */
export function ticks(low: number, high: number): number[] {
  const span = Math.max(100, high - low);
  const rough = span / 4;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((k) => k * power).find((k) => k >= rough) ?? rough;
  const from = Math.floor(low / step);
  const to = Math.ceil(high / step);
  return Array.from({ length: to - from + 1 }, (_, i) => (from + i) * step);
}
