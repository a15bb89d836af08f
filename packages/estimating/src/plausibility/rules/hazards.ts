import type { Action, Component } from "@ledgerboard/contracts/vocabulary";
import { workCautions } from "@ledgerboard/rules";
import type { Remark, Rule } from "../rule.ts";
import { componentList, type JobView, type LineView } from "../view.ts";

/** What is usually painted: house trim, porch parts and railings. Bare treated lumber is no paint. */
const PAINTED: ReadonlySet<Component> = new Set([
  "band",
  "ledger",
  "rail",
  "rail_cap",
  "baluster",
  "guard_post",
  "riser",
  "skirting",
  "lattice",
]);
const BREAKS_PAINT: ReadonlySet<Action> = new Set([
  "replace",
  "remove",
  "repair",
  "open_up",
  "clean",
  "finish",
]);
const WOOD_CUT: ReadonlySet<Action> = new Set(["replace", "remove", "repair", "clean", "finish"]);
const NOT_WOOD: ReadonlySet<Component> = new Set(["footing", "joist_hanger", "flashing", "fastener"]);

type CautionId = ReturnType<typeof workCautions>[number]["id"];

/** The printed caution for work on these lines, where there is one. */
function caution(id: CautionId, lines: readonly LineView[], { property }: JobView) {
  const components = [...new Set(lines.map(({ component }) => component))];
  const all = workCautions({ yearBuilt: property.yearBuilt, components, salt: property.saltExposure });
  return all.find((one) => one.id === id);
}

const ours = ({ lines }: JobView, does: ReadonlySet<Action>, to: (component: Component) => boolean) =>
  lines.filter((line) => line.by === "us" && does.has(line.action) && to(line.component));

const yearWords = (year: number | null) =>
  year === null ? "Nobody has put down when the house was built." : `The house was built in ${year}.`;

export const leadPaint: Rule = {
  id: "lead_paint",
  title: "Painted surfaces of an old house",
  severity: "warning",
  source: "40 CFR 745.80-745.85, 745.103",
  check(job): Remark[] {
    const lines = ours(job, BREAKS_PAINT, (component) => PAINTED.has(component));
    const found = caution("lead_paint", lines, job);
    if (!found) return [];
    const { yearBuilt } = job.property;
    return [
      {
        field: null,
        numbers: {
          yearBuilt: yearBuilt === null ? "unknown" : String(yearBuilt),
          components: componentList(lines),
        },
        severity: yearBuilt === null ? "note" : "warning",
        words: `${yearWords(yearBuilt)} ${found.words} Is it priced?`,
        source: found.source,
      },
    ];
  },
};

export const oldTreatedWood: Rule = {
  id: "old_treated_wood",
  title: "Old treated wood is cut, cleaned or hauled away",
  severity: "note",
  source: "CPSC/EPA guidance on CCA-treated outdoor structures",
  check(job): Remark[] {
    const lines = ours(job, WOOD_CUT, (component) => !NOT_WOOD.has(component));
    const found = caution("old_treated_wood", lines, job);
    if (!found) return [];
    const { yearBuilt } = job.property;
    return [
      {
        field: null,
        numbers: {
          yearBuilt: yearBuilt === null ? "unknown" : String(yearBuilt),
          components: componentList(lines),
        },
        words: `${yearWords(yearBuilt)} ${found.words}`,
        source: found.source,
      },
    ];
  },
};

/** Inches above the ground from which work needs something against falling. */
const FALL_IN = 72;

export const heightWithoutEquipment: Rule = {
  id: "height_without_equipment",
  title: "Work up high with no equipment in the price",
  severity: "note",
  source: "29 CFR 1926.501(b)(1), (b)(13): 6 ft or more",
  check(job) {
    if (job.charges.some(({ kind }) => kind === "equipment")) return [];
    return job.zones.flatMap((zone): Remark[] => {
      const height = zone.geometry?.heightIn ?? 0;
      const lines = zone.lines.filter(({ standing, action }) => standing === "base" && action !== "keep");
      if (height < FALL_IN || lines.length === 0) return [];
      if (lines.some(({ rates }) => Number(rates?.equipmentUnitCents ?? 0) > 0)) return [];
      return [
        {
          zone,
          field: "assemblyCode",
          numbers: { heightIn: String(height) },
          words: `${zone.name} is ${Math.floor(height / 12)} ft up and nothing in the price stands there: no scaffold, no fall protection. Add it as equipment.`,
        },
      ];
    });
  },
};
