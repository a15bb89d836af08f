import type { Zone } from "@ledgerboard/contracts/jobs";
import { words } from "@ledgerboard/contracts/vocabulary";
import type { Charge, LinePrice, PricedRevision } from "@ledgerboard/estimating";
import type { TypedLine } from "./prices.ts";

type Whole = PricedRevision<TypedLine, Charge>;
export interface Part {
  name: string;
  cents: number;
}

export const ADJUSTMENT_NAMES: Record<Whole["adjustments"][number]["kind"], string> = {
  whole_packs: "Whole packs, what is left over of them",
  minimum_charge: "Up to the minimum charge",
  rounding: "Rounded up",
};

const sum = (parts: readonly Part[]): number => parts.reduce((cents, part) => cents + part.cents, 0);

/** What the lines of each zone add to the price, in the order of the zones. */
export function byZone(whole: Whole, zones: readonly Zone[]): Part[] {
  const base = whole.lines.filter(({ standing }) => standing === "base");
  return zones.flatMap(({ id, name }) => {
    const cents = base.reduce((all, line) => all + (line.zoneId === id ? line.price.priceCents : 0), 0);
    return cents === 0 ? [] : [{ name, cents }];
  });
}

/** Everything in the price with what `take` reads from it; nothing is left out but zeros. */
function partsBy(whole: Whole, zones: readonly Zone[], take: (price: LinePrice) => number): Part[] {
  const zoneName = (id: string) => zones.find((zone) => zone.id === id)?.name ?? "";
  return [
    ...whole.lines.flatMap((line) =>
      line.standing === "base"
        ? { name: lineName(line, zoneName(line.zoneId)), cents: take(line.price) }
        : [],
    ),
    ...whole.charges.map((charge) => ({ name: charge.words, cents: take(charge.price) })),
    ...whole.adjustments.flatMap(({ kind, price }) =>
      kind === "whole_packs" ? { name: ADJUSTMENT_NAMES[kind], cents: take(price) } : [],
    ),
  ].filter(({ cents }) => cents !== 0);
}

export const lineName = ({ component, action }: TypedLine, zone: string): string =>
  `${zone}: ${words(component)}, ${words(action)}`;

export interface MadeOf {
  key: "material" | "tax" | "labor" | "disposal" | "equipment" | "overhead" | "margin" | "reaching";
  cents: number;
  parts: Part[];
}

/**
 * What the price is made of: costs, margin, and what the minimum charge and rounding add. Each with where it comes from;
 * the parts sum to it to the cent, and all of them to the price. What is nothing is left out, margin aside.
 */
export function madeOf(whole: Whole, zones: readonly Zone[]): MadeOf[] {
  const of = (key: MadeOf["key"], take: (price: LinePrice) => number): MadeOf => {
    const parts = partsBy(whole, zones, take);
    return { key, cents: sum(parts), parts };
  };
  const reaching = whole.adjustments.flatMap(({ kind, price }) =>
    kind === "whole_packs" ? [] : { name: ADJUSTMENT_NAMES[kind], cents: price.priceCents },
  );
  return [
    of("material", (price) => price.materialCents),
    of("tax", (price) => price.taxCents),
    of("labor", (price) => price.laborCents),
    of("disposal", (price) => price.disposalCents),
    of("equipment", (price) => price.equipmentCents),
    of("overhead", (price) => price.overheadCents),
    of("margin", (price) => price.priceCents - price.costCents),
    { key: "reaching" as const, cents: sum(reaching), parts: reaching },
  ].filter(({ key, cents }) => cents !== 0 || key === "margin");
}
