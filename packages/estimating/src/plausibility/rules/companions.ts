import type { Action, Component } from "@ledgerboard/contracts/vocabulary";
import { isFastener, materialsOf, mentions } from "../materials.ts";
import { PRACTICE, type Remark, type Rule } from "../rule.ts";
import {
  amountText,
  amountWords,
  bringsNew,
  existing,
  firstOf,
  inBase,
  type LineView,
  linesOf,
  total,
  type ZoneView,
} from "../view.ts";
import { anyOf, needs, perZone } from "./shared.ts";

export const deckingWithoutFasteners: Rule = {
  id: "decking_without_fasteners",
  title: "New boards without fasteners",
  severity: "warning",
  source: "IRC 2018 R507.7: two fasteners at each bearing",
  check: perZone(
    "decking",
    (line) => bringsNew(line) && line.by === "us" && line.rates !== null,
    (line) =>
      materialsOf(line).some(isFastener) || anyOf(line, "fastener", ["replace", "add", "refasten"])
        ? null
        : needs(
            line,
            `${amountWords(line.amount, line.unit, "decking")} on ${line.zone.name}, and no screws or clips in the price. Add fasteners, or an assembly that has them.`,
          ),
  ),
};

export const joistsWithoutHangers: Rule = {
  id: "joists_without_hangers",
  title: "Joists replaced without hangers",
  severity: "warning",
  source: "Fastener guidance of AWC, WWPI and SFPA: no rusted hanger is used again (from memory)",
  check: perZone("joist", bringsNew, (line) => {
    const hung = existing(line.zone, "joist_hanger", "each") ?? (line.zone.geometry?.framing?.ledger ? 1 : 0);
    if (hung === 0 || mentions(line, /hanger/i) || anyOf(line, "joist_hanger", ["replace", "add"]))
      return null;
    return needs(
      line,
      `${amountWords(line.amount, line.unit, "joist")} new on ${line.zone.name} and no hangers: the old ones are rusted and bent. Add hangers, or say why they stay.`,
    );
  }),
};

export const hangersFewerThanJoists: Rule = {
  id: "hangers_fewer_than_joists",
  title: "Fewer new hangers than new joists",
  severity: "warning",
  source: PRACTICE,
  check: perZone(
    "joist_hanger",
    (line) => bringsNew(line) && inBase(line) && line.unit === "each",
    (line, all) => {
      const framing = line.zone.geometry?.framing;
      if (!framing?.ledger || framing.joistDirection !== "out") return null;
      const joists = total(
        linesOf(line.zone, "joist").filter((l) => bringsNew(l) && inBase(l) && l.unit === "each"),
      );
      const hangers = total(all);
      if (hangers >= joists) return null;
      return {
        line,
        field: "quantity",
        numbers: { hangers: amountText(hangers), joists: amountText(joists) },
        words: `${amountWords(joists, "each", "joist")} new on ${line.zone.name}, but only ${amountWords(hangers, "each", "joist_hanger")}. Each joist hangs at the ledger: count again.`,
      };
    },
  ),
};

export const ledgerWithoutFlashing: Rule = {
  id: "ledger_without_flashing",
  title: "Ledger replaced without flashing",
  severity: "warning",
  source: "Deck evaluation guides look for flashing lapped behind the cladding (from memory)",
  check: perZone("ledger", bringsNew, (line) =>
    mentions(line, /flash/i) || anyOf(line, "flashing", ["replace", "add", "repair"])
      ? null
      : needs(
          line,
          `${amountWords(line.amount, line.unit, "ledger")} new on ${line.zone.name}, without flashing. Water behind the ledger is what rotted the last one: add flashing.`,
        ),
  ),
};

/** Years after which the wall behind a ledger is worth a look before a price is fixed. Own choice, no source. */
const OLD_WALL_YEARS = 30;

export const ledgerNotOpened: Rule = {
  id: "ledger_not_opened",
  title: "Ledger work on an old wall nobody has looked into",
  severity: "warning",
  source: PRACTICE,
  check({ zones, property: { yearBuilt }, today }) {
    const age = yearBuilt === null ? 0 : Number(today.slice(0, 4)) - yearBuilt;
    if (age < OLD_WALL_YEARS) return [];
    const looked = (zone: ZoneView) =>
      zone.lines.some(
        ({ component, action, allowance, evidence }) =>
          ["ledger", "band", "rim_joist", "flashing"].includes(component) &&
          (action === "open_up" || allowance !== null || evidence === "found"),
      );
    const work: readonly Action[] = ["replace", "repair", "refasten", "reinforce"];
    return perZone(
      "ledger",
      ({ action }) => work.includes(action),
      (line) =>
        looked(line.zone)
          ? null
          : {
              line,
              field: "allowance",
              numbers: { age: String(age), quantity: amountText(line.amount) },
              words: `Ledger work on a house ${age} years old: the band behind it may be rotten. Open it up first, or carry an allowance for the band.`,
            },
    )({ zones });
  },
};

const HELD_UP: readonly Component[] = ["post", "beam", "footing"];

export const supportWithoutShoring: Rule = {
  id: "support_without_shoring",
  title: "Post, beam or footing replaced with nothing to hold the deck up",
  severity: "warning",
  source: PRACTICE,
  check: (job) => {
    const hired = job.charges.some(({ kind }) => kind === "equipment");
    const shored = (line: LineView) =>
      hired ||
      Number(line.rates?.equipmentUnitCents ?? 0) > 0 ||
      mentions(line, /shor(e|ing)|jack|prop/i) ||
      (line.rates?.labor ?? []).some(({ code }) => /shor|jack/i.test(code));
    return HELD_UP.flatMap((component) =>
      perZone(
        component,
        (line) => line.action === "replace" && line.by === "us" && line.rates !== null && !shored(line),
        (line) =>
          needs(
            line,
            `${amountWords(line.amount, line.unit, component)} replaced on ${line.zone.name}, but no jacks or shoring in the price. The deck has to stand on something meanwhile: add them.`,
          ),
      )(job),
    );
  },
};

const CARRIES: ReadonlySet<Component> = new Set([
  "ledger",
  "joist",
  "rim_joist",
  "band",
  "beam",
  "post",
  "footing",
  "stringer",
  "guard_post",
]);
const RESTS_ON: ReadonlySet<Component> = new Set([
  "decking",
  "tread",
  "riser",
  "rail",
  "rail_cap",
  "baluster",
  "joist",
]);

export const othersWorkFirst: Rule = {
  id: "others_work_first",
  title: "Our work waits for the owner's",
  severity: "note",
  source: PRACTICE,
  check: ({ zones }) =>
    zones.flatMap((zone): Remark[] => {
      const line = firstOf(
        zone.lines.filter(
          (l) => l.by !== "us" && CARRIES.has(l.component) && l.action !== "keep" && l.action !== "clean",
        ),
      );
      const waits = zone.lines.some(
        (l) => l.by === "us" && RESTS_ON.has(l.component) && bringsNew(l) && l.component !== line?.component,
      );
      if (!line || !waits) return [];
      const who = line.by === "owner" ? "The owner" : "Another firm";
      return [
        {
          line,
          field: "by",
          numbers: { quantity: amountText(line.amount), by: line.by },
          words: `${who} does ${amountWords(line.amount, line.unit, line.component)} on ${zone.name}, and our boards or rails go on it. Agree in writing when it is done and who checks it.`,
        },
      ];
    }),
};

export const finishWithoutCleaning: Rule = {
  id: "finish_without_cleaning",
  title: "Finish on an old surface without cleaning it",
  severity: "note",
  source: PRACTICE,
  check: ({ zones }) =>
    zones.flatMap((zone): Remark[] => {
      const old = zone.lines.filter(
        (l) =>
          l.action === "finish" &&
          l.by === "us" &&
          !linesOf(zone, l.component === "finish" ? "decking" : l.component).some(bringsNew),
      );
      const line = firstOf(old);
      if (!line || zone.lines.some((l) => l.action === "clean")) return [];
      return [
        needs(
          line,
          `A finish on ${amountWords(line.amount, line.unit, line.component)} on ${zone.name}, and nobody cleans first. Finish on gray or green wood peels: add cleaning.`,
        ),
      ];
    }),
};
