import type { getCutPlan } from "@ledgerboard/contracts/assessment";
import { formatInches, lengthWords } from "@ledgerboard/contracts/measure";
import type { Output } from "../../api/wire.ts";
import { money, percent, plural, quantity, words } from "../../ui/format.ts";

export type CutPlan = Output<typeof getCutPlan>;
export type CutSection = CutPlan["sections"][number];
export type CutBoard = CutSection["boards"][number];
type Purchase = CutPlan["packs"][number];

/** How good the plan is known to be, in plain words. */
export function proofWords({ proved, gapBp, bound }: Pick<CutSection, "proved" | "gapBp" | "bound">): string {
  if (proved) return "Proved: no cheaper plan exists for these pieces.";
  return `Within ${percent(gapBp)} of the best possible: no plan for these pieces costs less than ${money(bound)}.`;
}

/** Whether another split of the rows of decking could be cheaper; null where there are no rows. */
export function layoutWords({ cost, layoutBound }: Pick<CutSection, "cost" | "layoutBound">): string | null {
  if (!layoutBound) return null;
  const more = cost.cents - layoutBound.cents;
  return more === 0
    ? "No other way of splitting the rows over the joists costs less."
    : `Another way of splitting the rows over the joists would save ${money(more)} at most.`;
}

/** What the estimate charges for the material beside what the plan buys. */
export function estimateWords({ cost, estimated }: Pick<CutSection, "cost" | "estimated">): string {
  const more = estimated.cents - cost.cents;
  const charged = `The estimate charges ${money(estimated)} for it, waste included`;
  if (more === 0) return `${charged}: the same.`;
  return `${charged}: ${money(Math.abs(more))} ${more > 0 ? "more" : "less"} than this plan buys.`;
}

/** Cuts of one board with equal ones counted, longest first: "3 × 4' 2 1/2"". */
export function cutWords(cuts: CutBoard["cuts"]): { text: string; lengthIn: number; for: string }[] {
  const groups = new Map<string, { lengthIn: number; for: string; count: number }>();
  for (const cut of cuts) {
    const key = `${cut.lengthIn} ${cut.for}`;
    const group = groups.get(key) ?? { ...cut, count: 0 };
    groups.set(key, { ...group, count: group.count + 1 });
  }
  return [...groups.values()]
    .sort((a, b) => b.lengthIn - a.lengthIn)
    .map(({ count, lengthIn, for: what }) => ({
      text: count === 1 ? formatInches(lengthIn) : `${count} × ${formatInches(lengthIn)}`,
      lengthIn,
      for: what,
    }));
}

/** A board and its cuts for whoever does not see the bar. */
export function boardWords({ stockIn, count, cuts, leftIn }: CutBoard): string {
  const said = cutWords(cuts).map((cut) => `${cut.text} for ${cut.for}`);
  const left = leftIn > 0 ? `; ${lengthWords(leftIn)} left over` : "";
  return `${plural(count, "board")} of ${lengthWords(stockIn)}: ${said.join(", ")}${left}.`;
}

/** Boards as a carpenter takes them: longest stock first, and of one stock those cut alike most often first. */
export const inCuttingOrder = (boards: readonly CutBoard[]): CutBoard[] =>
  boards.toSorted((a, b) => b.stockIn - a.stockIn || b.count - a.count || a.leftIn - b.leftIn);

/** "2 × 350, 1 × 100", "21": the packs of a purchase, in the unit they are counted in. */
export const packWords = ({ packs, unit }: Purchase): string =>
  packs
    .filter(({ count }) => count > 0)
    .map(({ count, size }) =>
      size === "1" ? quantity(`${count}`, unit) : `${count} × ${quantity(size, unit)}`,
    )
    .join(", ");

/** The plan's money and boards in a sentence. */
export function planLead({ sections, cost }: CutPlan): string {
  const boards = sections.flatMap(({ buy }) => buy).reduce((sum, { count }) => sum + count, 0);
  return `${plural(boards, "board")} and all packs for ${money(cost)}`;
}

/** A section by what it is: "2x8" beside its material. */
export const sectionName = ({ material, section }: CutSection): string =>
  material.includes(section) ? material : `${material}, ${words(section)}`;
