import type { Protection } from "@ledgerboard/rules";
import type { MaterialUse } from "../pricing/rates.ts";
import type { PlausibilityLine } from "./job.ts";

/*
 * A price book knows a material by code and name alone, so what it is made of is read from its name: "stainless",
 * "hot-dip", "electroplated" and the like. A name that says nothing is taken as unknown.
 */

const textOf = (material: MaterialUse) => `${material.name} ${material.code.replaceAll(/[-_]/g, " ")}`;

const HARDWARE =
  /\b(hanger|screw|nail|bolt|lag|fastener|connector|washer|bracket|strap|tie|angle|hinge|clip|anchor|(post|column) (base|cap))s?\b/i;
const SMALL_HARDWARE = /\b(screw|nail|bolt|lag|fastener|clip)s?\b/i;

/** A nail, a hanger or the like, with the protection its name claims. */
export interface Hardware extends MaterialUse {
  protection: Protection | null;
}

export const isHardware = (material: MaterialUse): boolean => HARDWARE.test(textOf(material));
export const isFastener = (material: MaterialUse): boolean => SMALL_HARDWARE.test(textOf(material));

/** The protection a material's name claims; null where it says nothing. Bronze and copper stand beside stainless in DCA 6. */
function protectionOf(material: MaterialUse): Protection | null {
  const text = textOf(material);
  if (/\b(stainless|type 30[45]|type 316|silicon bronze|copper)\b/i.test(text)) return "stainless";
  if (/\b(electro[- ]?(plated|galvanized)|zinc[- ]plated)\b/i.test(text)) return "electroplated";
  if (/\b(hot[- ]?dip(ped)?|hdg|g-?185)\b/i.test(text)) return "hot_dip_galvanized";
  if (/\b(plain|bright|uncoated|drywall)\b/i.test(text)) return "plain";
  return null;
}

export const materialsOf = (line: Pick<PlausibilityLine, "rates">): readonly MaterialUse[] =>
  line.rates?.materials ?? [];

/** Whether a line's description or one of its materials names something. */
export const mentions = (line: PlausibilityLine, what: RegExp): boolean =>
  what.test(line.description) || materialsOf(line).some((material) => what.test(textOf(material)));

/** Reads names for one job: lines share their materials, so each name is read once. */
export function hardwareReader(): (line: PlausibilityLine) => Hardware[] {
  const known = new Map<string, Protection | null | undefined>();
  return (line) =>
    materialsOf(line).flatMap((material) => {
      const key = `${material.code} ${material.name}`;
      if (!known.has(key)) known.set(key, isHardware(material) ? protectionOf(material) : undefined);
      const protection = known.get(key);
      return protection === undefined ? [] : [{ ...material, protection }];
    });
}
