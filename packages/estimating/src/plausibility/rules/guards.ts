import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { guardHeightCheck, guardNeeded, guardOpeningCheck } from "@ledgerboard/rules";
import { fromCheck, PRACTICE, type Remark, type Rule } from "../rule.ts";
import type { ZoneView } from "../view.ts";
import { counted } from "./shared.ts";

type Guard = ZoneGeometry["guards"][number];

/** Every guard run that somebody measured. */
const eachGuard =
  (say: (guard: Guard, zone: ZoneView, index: number) => Remark[]): Rule["check"] =>
  ({ zones }) =>
    zones.flatMap((zone) =>
      (zone.geometry?.guards ?? []).flatMap((guard, i) => (guard.lengthIn > 0 ? say(guard, zone, i) : [])),
    );
const guardField = (i: number, name: keyof Guard) => `geometry.guards[${i}].${name}`;

/** Whether the surface is so low that no guard has to be there; one that is there still may hurt, so it is noted. */
const isLow = (zone: ZoneView) => zone.geometry?.heightIn != null && guardNeeded(zone.geometry.heightIn).ok;
const softer = (zone: ZoneView, remarks: Remark[]): Remark[] =>
  isLow(zone) ? remarks.map((remark) => ({ ...remark, severity: "note" })) : remarks;

const WALKED: ReadonlySet<string> = new Set(["deck", "porch", "landing"]);

export const guardMissing: Rule = {
  id: "guard_missing",
  title: "A high surface without a guard",
  severity: "warning",
  source: "IRC 2018 R312.1.1",
  check: ({ zones }) => {
    // A guard may be a zone of its own, and then it may belong to any surface.
    const apart = zones.some(({ kind }) => kind === "railing");
    return zones.flatMap((zone) => {
      const height = zone.geometry?.heightIn ?? null;
      const railed = apart || zone.byComponent.has("rail") || (zone.geometry?.guards.length ?? 0) > 0;
      if (railed || height === null || !WALKED.has(zone.kind)) return [];
      return fromCheck(
        guardNeeded(height),
        { zone, field: "geometry.guards" },
        `None is drawn or listed for ${zone.name}: draw it, or tell the customer in writing.`,
      );
    });
  },
};

export const guardLow: Rule = {
  id: "guard_low",
  title: "Guard lower than the code's least",
  severity: "warning",
  source: "IRC 2018 R312.1.2",
  check: eachGuard((guard, zone, i) =>
    guard.heightIn === 0
      ? []
      : softer(
          zone,
          fromCheck(
            guardHeightCheck(guard),
            { zone, field: guardField(i, "heightIn") },
            "Offer to raise it, or have the customer decline in writing.",
          ),
        ),
  ),
};

/** The measured opening; where it is the limit itself, the one that balusters spread evenly would have. */
function openingOf(guard: Guard, spreadIn: number | null, limitIn: number): number {
  if (guard.clearGapIn !== limitIn || spreadIn === null) return guard.clearGapIn;
  return Math.min(guard.clearGapIn, spreadIn);
}

export const guardOpening: Rule = {
  id: "guard_opening",
  title: "Gaps that a 4 in sphere passes",
  severity: "warning",
  source: "IRC 2018 R312.1.3",
  check: eachGuard((guard, zone, i) => {
    if (guard.infill !== "balusters") return [];
    const { onStair } = guard;
    const limit = guardOpeningCheck({ openingIn: guard.clearGapIn, onStair }).limit;
    const openingIn = openingOf(
      guard,
      counted(zone.takeoff?.guards, zone.geometry?.guards, i)?.balusterGapIn ?? null,
      limit,
    );
    return softer(
      zone,
      fromCheck(
        guardOpeningCheck({ openingIn, onStair }),
        { zone, field: guardField(i, "clearGapIn") },
        "Closer balusters, or lattice behind them, as an extra.",
      ),
    );
  }),
};

export const guardUnfilled: Rule = {
  id: "guard_unfilled",
  title: "Guard with nothing between the rails",
  severity: "warning",
  source: "IRC 2018 R312.1.3",
  check: eachGuard((guard, zone, i) =>
    guard.infill !== "none"
      ? []
      : softer(zone, [
          {
            zone,
            field: guardField(i, "infill"),
            numbers: { rails: String(guard.rails), heightIn: String(guard.heightIn) },
            words: `The guard on ${zone.name} has nothing between its rails, so a 4 in sphere goes through. Offer balusters. Local code decides.`,
          },
        ]),
  ),
};

/** A gate leaf wider than this drags on its hinges. Own choice, no source. */
const GATE_WIDE_IN = 48;

export const gateWide: Rule = {
  id: "gate_wide",
  title: "A gate too wide for one leaf",
  severity: "note",
  source: PRACTICE,
  check: eachGuard((guard, zone, i) =>
    guard.gates === 0 || guard.gateWidthIn <= GATE_WIDE_IN
      ? []
      : [
          {
            zone,
            field: guardField(i, "gateWidthIn"),
            numbers: { widthIn: String(guard.gateWidthIn) },
            words: `A gate ${guard.gateWidthIn} in wide on ${zone.name} sags. Two leaves, or a wheel and a diagonal brace.`,
          },
        ],
  ),
};
