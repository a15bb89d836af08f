import { formatMoney } from "@ledgerboard/contracts/money";
import { type Component, STRUCTURAL_COMPONENTS } from "@ledgerboard/contracts/vocabulary";
import { deckingWaste } from "@ledgerboard/rules";
import { percent } from "../../pricing/percent.ts";
import { isHardware, materialsOf } from "../materials.ts";
import { PRACTICE, type Remark, type Rule } from "../rule.ts";
import {
  amountText,
  amountWords,
  bringsNew,
  componentList,
  existing,
  type JobView,
  type LineView,
  takesOut,
} from "../view.ts";
import { DONE } from "./shared.ts";

const STRUCTURAL: ReadonlySet<Component> = new Set(STRUCTURAL_COMPONENTS);
const priced = (line: LineView) => line.standing === "base" || line.standing === "alternate";
const whole = (line: LineView) =>
  `${amountWords(line.amount, line.unit, line.component)} ${DONE[line.action]}`;

export const lineWithoutRates: Rule = {
  id: "line_without_rates",
  title: "Our work without a price",
  severity: "blocking",
  source: "Arithmetic: nothing to price it with",
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] =>
      line.by !== "us" || line.rates !== null || line.action === "keep"
        ? []
        : [
            {
              line,
              field: "assemblyCode",
              numbers: { quantity: amountText(line.amount), unit: line.unit },
              words: `${whole(line)} on ${line.zone.name}, by us, and nothing is charged for it. Choose an assembly, or say who does it.`,
            },
          ],
    ),
};

export const materialWithoutPrice: Rule = {
  id: "material_without_price",
  title: "A material without a price",
  severity: "blocking",
  source: "Arithmetic: nothing to price it with",
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] => {
      const bare = line.by === "us" ? materialsOf(line).filter(({ packs }) => packs.length === 0) : [];
      if (bare.length === 0) return [];
      return [
        {
          line,
          field: "assemblyCode",
          numbers: {
            materials: bare
              .map(({ code }) => code)
              .sort()
              .join(","),
          },
          words: `The price book has no price for ${bare
            .map(({ name }) => name)
            .sort()
            .join(", ")}, so it counts nothing. Enter its price first.`,
        },
      ];
    }),
};

export const pricedAtNothing: Rule = {
  id: "priced_at_nothing",
  title: "Our work comes to nothing",
  severity: "warning",
  source: PRACTICE,
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] =>
      !priced(line) || line.price.priceCents > 0 || line.action === "keep"
        ? []
        : [
            {
              line,
              field: "quantity",
              numbers: { quantity: amountText(line.amount), priceCents: "0" },
              words: `${whole(line)} on ${line.zone.name} comes to $0. Look at its rates and its quantity.`,
            },
          ],
    ),
};

/** Below this share of a zone's surface whole boards decide the waste, not a percentage. Own choice, no source. */
const SPOT_REPAIR = 0.25;

const isRun = (unit: string) => unit === "lf" || unit === "sqft";

export const wasteOffPractice: Rule = {
  id: "waste_off_practice",
  title: "Waste on decking outside practice",
  severity: "note",
  source: PRACTICE,
  check: ({ lines }) =>
    lines.flatMap((line): Remark[] => {
      const decking = line.zone.geometry?.decking;
      if (line.component !== "decking" || !bringsNew(line) || line.by !== "us" || !decking) return [];
      const there = existing(line.zone, "decking", line.unit);
      if (there !== null && line.amount < SPOT_REPAIR * there) return [];
      const { lowBp, highBp } = deckingWaste(decking.pattern, decking.borderRows);
      return materialsOf(line)
        .filter((material) => !isHardware(material) && (material.section !== null || isRun(material.unit)))
        .filter(({ wasteBp }) => wasteBp < lowBp || wasteBp > 2 * highBp)
        .map(
          ({ code, name, wasteBp }): Remark => ({
            line,
            field: "assemblyCode",
            numbers: {
              material: code,
              wasteBp: String(wasteBp),
              lowBp: String(lowBp),
              highBp: String(highBp),
            },
            words: `${name} carries ${percent(wasteBp)} waste; boards laid ${decking.pattern}${decking.borderRows > 0 ? " with a border" : ""} run ${percent(lowBp)} to ${percent(highBp)}.`,
          }),
        );
    }),
};

/** What comes out of these goes home in a bucket. Own choice, no source. */
const IN_A_BUCKET: ReadonlySet<Component> = new Set(["fastener", "joist_hanger", "flashing", "finish"]);

export const disposalMissing: Rule = {
  id: "disposal_missing",
  title: "Old wood comes out and nobody hauls it away",
  severity: "warning",
  source: PRACTICE,
  check: ({ lines, charges }) => {
    const out = lines.filter((l) => takesOut(l) && l.standing === "base" && !IN_A_BUCKET.has(l.component));
    const hauled =
      charges.some(({ kind }) => kind === "disposal") || out.some((l) => l.price.disposalCents > 0);
    if (out.length === 0 || hauled) return [];
    return [
      {
        field: "charges",
        numbers: { lines: String(out.length), components: componentList(out) },
        words: `${out.length === 1 ? "One line takes" : `${out.length} lines take`} old work out and no hauling or tipping is priced. Add disposal to the assemblies, or a dumpster to the job.`,
      },
    ];
  },
};

const PERMITTED: ReadonlySet<Component> = new Set([
  "ledger",
  "joist",
  "beam",
  "post",
  "footing",
  "guard_post",
  "stringer",
]);

export const permitMissing: Rule = {
  id: "permit_missing",
  title: "Structural work without a permit charge",
  severity: "note",
  source: PRACTICE,
  check: ({ lines, charges }) => {
    const heavy = lines.filter((l) => l.standing === "base" && bringsNew(l) && PERMITTED.has(l.component));
    if (heavy.length === 0 || charges.some(({ kind }) => kind === "permit")) return [];
    const what = componentList(heavy);
    return [
      {
        field: "charges",
        numbers: { components: what },
        words: `New ${what}, and no permit in the price. Ask the building office whether one is needed, and who pays for it.`,
      },
    ];
  },
};

/** Above this share of the base price, guessed structural work is worth a second look. Own choice, no source. */
const ASSUMED_SHARE = 0.25;

const sumPrice = (lines: readonly LineView[]) => lines.reduce((sum, { price }) => sum + price.priceCents, 0);

export const structuralAssumed: Rule = {
  id: "structural_assumed",
  title: "Much money on structural work nobody has counted",
  severity: "warning",
  source: PRACTICE,
  check: ({ lines }: JobView) => {
    const base = lines.filter(({ standing }) => standing === "base");
    const guessed = base.filter((l) => STRUCTURAL.has(l.component) && l.evidence === "assumed");
    const [all, cents] = [sumPrice(base), sumPrice(guessed)];
    if (all === 0 || cents <= ASSUMED_SHARE * all) return [];
    return [
      {
        field: "evidence",
        numbers: { assumedCents: String(cents), baseCents: String(all) },
        words: `${formatMoney(cents)} of ${formatMoney(all)} is structural work that is only assumed. Somebody should look underneath before this price goes out.`,
      },
    ];
  },
};
