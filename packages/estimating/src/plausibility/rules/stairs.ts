import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import {
  guardNeeded,
  handrailNeeded,
  openRiserCheck,
  riserCheck,
  stairWidthCheck,
  stringerSpacingCheck,
  treadCheck,
} from "@ledgerboard/rules";
import { fromCheck, type Remark, type Rule } from "../rule.ts";
import type { ZoneView } from "../view.ts";
import { counted } from "./shared.ts";

type Stair = ZoneGeometry["stairs"][number];

/** Every stair that somebody measured. */
const eachStair =
  (say: (stair: Stair, zone: ZoneView, index: number) => Remark[]): Rule["check"] =>
  ({ zones }) =>
    zones.flatMap((zone) =>
      (zone.geometry?.stairs ?? []).flatMap((stair, i) => (stair.totalRiseIn > 0 ? say(stair, zone, i) : [])),
    );
const stairField = (i: number, name: keyof Stair) => `geometry.stairs[${i}].${name}`;

const riserOf = (stair: Stair, zone: ZoneView, i: number) => {
  const there = counted(zone.takeoff?.stairs, zone.geometry?.stairs, i);
  if (stair.risers !== null) return { risers: stair.risers, riserIn: stair.totalRiseIn / stair.risers };
  return there ? { risers: there.risers, riserIn: there.riserHeightIn } : null;
};

export const riserHigh: Rule = {
  id: "riser_high",
  title: "Steps too high",
  severity: "warning",
  source: "IRC R311.7.5.1 (from memory)",
  check: eachStair((stair, zone, i) => {
    const steps = riserOf(stair, zone, i);
    const place = { zone, field: stairField(i, "risers") };
    return steps
      ? fromCheck(riserCheck(steps.riserIn), place, "One more riser, or tell the customer in writing.")
      : [];
  }),
};

export const treadShallow: Rule = {
  id: "tread_shallow",
  title: "Treads too shallow",
  severity: "warning",
  source: "IRC R311.7.5.2 (from memory)",
  check: eachStair((stair, zone, i) =>
    stair.treadDepthIn === 0
      ? []
      : fromCheck(
          treadCheck(stair.treadDepthIn),
          { zone, field: stairField(i, "treadDepthIn") },
          "New stringers would put it right; a tread alone cannot.",
        ),
  ),
};

export const stairNarrow: Rule = {
  id: "stair_narrow",
  title: "Stair narrower than the code's least",
  severity: "note",
  source: "IRC R311.7.1 (from memory)",
  check: eachStair((stair, zone, i) =>
    stair.widthIn === 0
      ? []
      : fromCheck(
          stairWidthCheck(stair.widthIn),
          { zone, field: stairField(i, "widthIn") },
          "Repair may keep it; a new stair should not.",
        ),
  ),
};

export const stringersFarApart: Rule = {
  id: "stringers_far_apart",
  title: "Stringers too far apart",
  severity: "warning",
  source: "DCA 6 stair requirements (from memory)",
  check: eachStair((stair, zone, i) =>
    fromCheck(
      stringerSpacingCheck(stair),
      { zone, field: stairField(i, "stringers") },
      "Add a stringer, or treads will bounce.",
    ),
  ),
};

export const handrailMissing: Rule = {
  id: "handrail_missing",
  title: "A flight without a handrail",
  severity: "warning",
  source: "IRC R311.7.8 (from memory)",
  check: eachStair((stair, zone, i) => {
    const steps = riserOf(stair, zone, i);
    const railed = zone.geometry?.guards.some(({ onStair }) => onStair) || zone.byComponent.has("rail");
    if (!steps || railed) return [];
    return fromCheck(
      handrailNeeded(steps.risers),
      { zone, field: stairField(i, "risers") },
      `${zone.name} has none drawn: add one, or have the customer decline in writing.`,
    );
  }),
};

/** Thickness of a tread that an open riser loses, inches: a 5/4 board. */
const TREAD_IN = 1;

export const openRisers: Rule = {
  id: "open_risers",
  title: "Open risers that a 4 in sphere passes",
  severity: "note",
  source: "IRC R311.7.5.1 (from memory)",
  check: eachStair((stair, zone, i) => {
    const steps = riserOf(stair, zone, i);
    if (!steps || stair.closedRisers || guardNeeded(stair.totalRiseIn).ok) return [];
    return fromCheck(
      openRiserCheck(steps.riserIn - TREAD_IN),
      { zone, field: stairField(i, "closedRisers") },
      "Offer riser boards or a strip under each tread.",
    );
  }),
};
