import type { Component } from "@ledgerboard/contracts/vocabulary";
import { filmFinish, finishWait, mixedMetals, neededProtection, protects } from "@ledgerboard/rules";
import type { MaterialUse } from "../../pricing/rates.ts";
import { type Hardware, materialsOf, mentions } from "../materials.ts";
import { PRACTICE, type Remark, type Rule, sourceOf } from "../rule.ts";
import { amountText, bringsNew, firstOf, type LineView, linesOf, type ZoneView } from "../view.ts";

const namesOf = (materials: readonly MaterialUse[]) => [...new Set(materials.map(({ name }) => name))].sort();
const codesOf = (materials: readonly MaterialUse[]) =>
  [...new Set(materials.map(({ code }) => code))].sort().join(",");

/** Lines of ours with the hardware that a condition picks, where there is some. */
function picked(lines: readonly LineView[], picks: (hardware: Hardware) => boolean) {
  return lines.flatMap((line) => {
    const found = line.by === "us" ? line.hardware.filter(picks) : [];
    return found.length > 0 ? [{ line, found }] : [];
  });
}

export const saltHardware: Rule = {
  id: "salt_hardware",
  title: "Hardware near salt water that is not stainless",
  severity: "warning",
  source: "IRC 2018 R507.2.3 (from memory)",
  check({ lines, property }) {
    if (!property.saltExposure) return [];
    const needed = neededProtection({ nearSaltWater: true });
    const weak = ({ protection }: Hardware) => protection === null || !protects(protection, needed.least);
    return picked(lines, weak).map(({ line, found }) => ({
      line,
      field: "assemblyCode",
      numbers: { materials: codesOf(found) },
      words: `${needed.words} By its name this is not: ${namesOf(found).join(", ")}. Choose stainless, or have the name say it. Local code decides.`,
      source: sourceOf(needed),
    }));
  },
};

export const plainFasteners: Rule = {
  id: "plain_fasteners",
  title: "Plain or electroplated fasteners in treated lumber",
  severity: "warning",
  source: "AWC DCA 6, general requirements",
  check({ lines }) {
    const needed = neededProtection({ nearSaltWater: false });
    const weak = ({ protection }: Hardware) => protection !== null && !protects(protection, needed.least);
    return picked(lines, weak).map(({ line, found }) => ({
      line,
      field: "assemblyCode",
      numbers: { materials: codesOf(found) },
      words: `${needed.words} This rusts out: ${namesOf(found).join(", ")}. Choose hot-dip galvanized or stainless. The listing and local code decide.`,
      source: sourceOf(needed),
    }));
  },
};

export const mixedMetal: Rule = {
  id: "mixed_metals",
  title: "Stainless and galvanized in one connection",
  severity: "warning",
  source: "Fastener guidance of AWC, WWPI and SFPA (from memory)",
  check({ lines }) {
    const rule = mixedMetals();
    return picked(lines, ({ protection }) => protection !== null).flatMap(({ line, found }): Remark[] => {
      const kinds = new Set(found.map(({ protection }) => protection));
      if (!kinds.has("stainless") || (!kinds.has("hot_dip_galvanized") && !kinds.has("electroplated")))
        return [];
      return [
        {
          line,
          field: "assemblyCode",
          numbers: { materials: codesOf(found) },
          words: `${rule.words} This line has both: ${namesOf(found).join(", ")}. Choose one. Local code decides.`,
          source: sourceOf(rule),
        },
      ];
    });
  },
};

export const aluminumFlashing: Rule = {
  id: "aluminum_flashing",
  title: "Aluminum against treated lumber",
  severity: "warning",
  source: PRACTICE,
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] => {
      if (line.component !== "flashing") return [];
      const aluminum = materialsOf(line).filter(({ name, code }) => /alumin/i.test(`${name} ${code}`));
      if (aluminum.length === 0) return [];
      return [
        {
          line,
          field: "assemblyCode",
          numbers: { materials: codesOf(aluminum) },
          words: `The copper in treated lumber eats aluminum: ${namesOf(aluminum).join(", ")}. Use vinyl, copper or coated steel, or a membrane between.`,
        },
      ];
    }),
};

const WEATHERED_WOOD: readonly Component[] = [
  "decking",
  "tread",
  "riser",
  "rail",
  "rail_cap",
  "baluster",
  "guard_post",
  "skirting",
  "lattice",
];
const isComposite = (zone: ZoneView, line: LineView) =>
  mentions(line, /composite|pvc|vinyl/i) ||
  (line.component === "decking" && zone.geometry?.decking?.thickness === "composite");

/** New treated lumber of a zone that a finish would go on; what is dried after treatment or needs no finish is left out. */
const freshLumber = (zone: ZoneView) =>
  WEATHERED_WOOD.flatMap((component) => linesOf(zone, component)).some(
    (line) => bringsNew(line) && !isComposite(zone, line) && !mentions(line, /kiln|kdat|cedar|redwood/i),
  );

export const finishTooSoon: Rule = {
  id: "finish_too_soon",
  title: "Finish on new treated lumber before it is dry, or too late",
  severity: "warning",
  source: "Southern Forest Products Association, sealers and finishes page",
  check({ zones, newLumberDaysDry: days }) {
    const wait = finishWait();
    if (days !== null && days >= wait.leastDays && days <= wait.mostDays) return [];
    return zones.flatMap((zone): Remark[] => {
      const line = firstOf(zone.lines.filter(({ action, by }) => action === "finish" && by === "us"));
      if (!line || !freshLumber(zone)) return [];
      const window = `${wait.leastDays} to ${wait.mostDays} days after building`;
      const when =
        days === null
          ? `Plan it ${window}.`
          : days < wait.leastDays
            ? `${days} days is too soon: come back ${window}.`
            : `After ${days} days the bare wood has weathered: come ${window}.`;
      return [
        {
          line,
          field: "action",
          numbers: { days: days === null ? "not planned" : String(days) },
          severity: days !== null && days < wait.leastDays ? "warning" : "note",
          words: `New treated lumber on ${zone.name} has to dry before it takes a finish. ${when} It is a second trip.`,
          source: sourceOf(wait),
        },
      ];
    });
  },
};

const WALKED_ON: ReadonlySet<Component> = new Set(["decking", "tread", "finish"]);

export const filmUnderfoot: Rule = {
  id: "film_finish_underfoot",
  title: "Paint or solid stain where people walk",
  severity: "note",
  source: "Article on deck finishes by a wood scientist",
  check({ lines }) {
    const rule = filmFinish();
    return lines.flatMap((line): Remark[] => {
      if (line.action !== "finish" || !WALKED_ON.has(line.component)) return [];
      const films = materialsOf(line).filter(({ name }) => /\bpaint\b|solid(-color)? stain/i.test(name));
      if (films.length === 0) return [];
      return [
        {
          line,
          field: "assemblyCode",
          numbers: { materials: codesOf(films), quantity: amountText(line.amount) },
          words: `${rule.words} On ${line.zone.name} a penetrating stain is the better choice than ${namesOf(films).join(", ")}.`,
          source: sourceOf(rule),
        },
      ];
    });
  },
};
