import { add, multiply, type Ratio, ratio, toDecimal } from "@ledgerboard/contracts/money";
import { coverPacks } from "../cutting/packs.ts";
import { materialCents, type PriceableLine } from "./line.ts";
import { type MaterialUse, type Pack, purchaseKey, unitOfMaterial } from "./rates.ts";

/** What a revision takes of one material, and the packs to buy for it. Amounts are decimal text in its unit. */
export interface Purchase {
  code: string;
  name: string;
  unit: string;
  section: string | null;
  wholePacks: boolean;
  /** With waste, rounded up to four places. */
  needed: string;
  /** What the lines are charged for it, in cents. */
  usedCents: number;
  /** The cheapest whole packs that cover the need; empty where the material has no price. */
  packs: (Pack & { count: number })[];
  packsCents: number;
  /** What the packs cost above what the lines use, in cents, where whole packs are bought for the job; else 0. */
  leftoverCents: number;
}

interface Need {
  use: MaterialUse;
  needed: Ratio;
  usedCents: number;
}

/** Rounded up, so that the packs always cover the exact need. */
function roundedUp(value: Ratio): string {
  const scaled = value.num * 10_000n;
  const up = (scaled + value.den - 1n) / value.den;
  return toDecimal({ num: up, den: 10_000n }, 4);
}

/** Adds up the materials of lines by code and price, in the order they first appear. Lines not by us take none. */
export function purchasesOf(lines: readonly PriceableLine[]): Purchase[] {
  const needs = new Map<string, Need>();
  for (const { by, quantity, rates } of lines) {
    if (by !== "us" || !rates) continue;
    const exact = ratio(quantity);
    const cents = materialCents(exact, rates);
    for (const [i, use] of rates.materials.entries()) {
      const key = purchaseKey(use);
      const known = needs.get(key) ?? { use, needed: ratio(0), usedCents: 0 };
      known.needed = add(known.needed, multiply(exact, unitOfMaterial(use).needed));
      known.usedCents += cents[i] ?? 0;
      needs.set(key, known);
    }
  }
  return [...needs.values()].map(({ use, needed, usedCents }) => {
    const { code, name, unit, section, wholePacks } = use;
    const text = roundedUp(needed);
    const cover = use.packs.length > 0 ? coverPacks(text, use.packs) : { packs: [], cents: 0 };
    const leftoverCents = wholePacks ? Math.max(0, cover.cents - usedCents) : 0;
    return {
      code,
      name,
      unit,
      section,
      wholePacks,
      needed: text,
      usedCents,
      packs: cover.packs,
      packsCents: cover.cents,
      leftoverCents,
    };
  });
}

/** What whole packs cost above what the lines use, in cents. */
export const wholePackCents = (purchases: readonly Purchase[]): number =>
  purchases.reduce((total, purchase) => total + purchase.leftoverCents, 0);
