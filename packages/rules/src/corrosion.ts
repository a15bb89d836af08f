import { type Backing, backing, CODE_VALUES } from "./code-values.ts";

/** Protection of nails, screws, bolts and hangers, from the least to the most. */
export const PROTECTIONS = ["plain", "electroplated", "hot_dip_galvanized", "stainless"] as const;
export type Protection = (typeof PROTECTIONS)[number];

/** Feet from a salt-water shoreline within which stainless is asked for. Source: IRC 2018 R507.2.3, from memory. */
const SALT_WATER_FEET = CODE_VALUES.salt_water_distance.value;

export interface NeededProtection extends Backing {
  least: Protection;
  words: string;
}

/**
 * The least protection for fasteners and hangers in treated wood outdoors. Electroplated zinc does only where its listing
 * says so. Sources: DCA 6, IBC 2018 2304.10.5.1, IRC 2018 R507.2.3, in shared/deck-code.json.
 */
export function neededProtection(where: { nearSaltWater: boolean }): NeededProtection {
  if (where.nearSaltWater)
    return {
      least: "stainless",
      words: `Within ${SALT_WATER_FEET} ft of salt water, fasteners and hangers are stainless steel.`,
      ...backing("salt_water_distance"),
    };
  return {
    least: "hot_dip_galvanized",
    words: "In treated wood, fasteners are hot-dip galvanized or better; hangers have a G185 zinc coat.",
    ...backing("fastener_coating_treated_wood"),
  };
}

/** Whether a protection is enough where another is the least. */
export const protects = (has: Protection, least: Protection): boolean =>
  PROTECTIONS.indexOf(has) >= PROTECTIONS.indexOf(least);

/** Why stainless and galvanized parts do not go into one connection. Source: fastener guidance, from memory. */
export const mixedMetals = (): Backing & { words: string } => ({
  words: "Stainless and galvanized parts do not go into one connection.",
  ...backing("old_hangers_rule"),
});
