import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { lengthWords } from "@ledgerboard/contracts/measure";
import {
  joistSpacingCheck,
  joistSpan,
  joistSpanCheck,
  ledgerFastenerCount,
  ledgerFastenerSpacing,
  overhangCheck,
} from "@ledgerboard/rules";
import { mentions } from "../materials.ts";
import { fromCheck, type Remark, type Rule, sourceOf } from "../rule.ts";
import {
  amountText,
  existing,
  firstOf,
  inBase,
  linesOf,
  numberWords,
  toNumber,
  total,
  type ZoneView,
} from "../view.ts";

const geometryField = (name: string) => `geometry.framing.${name}`;

/** How far the surface reaches along the joists at its deepest, in inches. */
function reach({ outline, framing }: ZoneGeometry): number {
  if (!outline || !framing) return 0;
  const axis = framing.joistDirection === "out" ? "y" : "x";
  if (outline.shape !== "polygon") return axis === "x" ? outline.lengthIn : outline.widthIn;
  const at = outline.points.map((point) => point[axis]);
  return Math.max(...at) - Math.min(...at);
}

/**
 * The joists' span between supports, inches, with beams standing evenly from the ledger, or from the near edge of a
 * deck that stands free, to the overhang; null where the drawing does not tell.
 */
function mainSpan(geometry: ZoneGeometry): number | null {
  const { framing } = geometry;
  if (!framing) return null;
  const onLedger = framing.ledger && framing.joistDirection === "out";
  const bays = onLedger ? Math.max(1, framing.beams) : framing.beams - 1;
  const carried = reach(geometry) - (framing.beams > 0 ? framing.overhangIn : 0);
  return bays >= 1 && carried > 0 ? carried / bays : null;
}

function* framed(zones: readonly ZoneView[]) {
  for (const zone of zones) {
    const { geometry } = zone;
    if (!geometry?.framing) continue;
    const { lumber, joistSize: size, joistSpacingIn: spacingIn } = geometry.framing;
    const spanIn = mainSpan(geometry);
    yield {
      zone,
      framing: geometry.framing,
      decking: geometry.decking,
      joist: { lumber, size, spacingIn },
      spanIn,
    };
  }
}

export const joistSpanLong: Rule = {
  id: "joist_span",
  title: "Joists span further than the published table",
  severity: "warning",
  source: "AWC DCA 6, Table 2",
  check: ({ zones }) =>
    [...framed(zones)].flatMap(({ zone, joist, spanIn, framing }): Remark[] =>
      spanIn === null
        ? []
        : fromCheck(
            joistSpanCheck({ ...joist, spanIn }),
            { zone, field: geometryField(framing.beams > 0 ? "beams" : "joistSize") },
            "A beam between, deeper joists, or an engineer's word.",
          ),
    ),
};

export const joistsOffTable: Rule = {
  id: "joists_off_table",
  title: "Joist spacing that the published table does not have",
  severity: "warning",
  source: "AWC DCA 6, Table 2",
  check: ({ zones }) =>
    [...framed(zones)].flatMap(({ zone, joist }): Remark[] => {
      const span = joistSpan(joist);
      if (joist.spacingIn === 0 || span.limitIn !== null) return [];
      return [
        {
          zone,
          field: geometryField("joistSpacingIn"),
          numbers: { spacingIn: String(joist.spacingIn) },
          words: `Joists on ${zone.name} stand ${lengthWords(joist.spacingIn)} on center. ${span.words} Local code decides.`,
          source: sourceOf(span),
        },
      ];
    }),
};

export const joistOverhang: Rule = {
  id: "joist_overhang",
  title: "Joists run too far past the beam",
  severity: "warning",
  source: "AWC DCA 6, Table 2",
  check: ({ zones }) =>
    [...framed(zones)].flatMap(({ zone, joist, spanIn, framing }): Remark[] =>
      framing.beams === 0 || framing.overhangIn === 0
        ? []
        : fromCheck(
            overhangCheck({ ...joist, mainSpanIn: spanIn, overhangIn: framing.overhangIn }),
            { zone, field: geometryField("overhangIn") },
            "Move the beam out, or an engineer's word.",
          ),
    ),
};

export const joistsFarApartForBoards: Rule = {
  id: "joists_far_apart_for_boards",
  title: "Joists too far apart for the deck boards",
  severity: "warning",
  source: "IRC 2018 R507.7",
  check: ({ zones }) =>
    [...framed(zones)].flatMap(({ zone, decking, framing: { joistSpacingIn } }): Remark[] =>
      decking === null || joistSpacingIn === 0
        ? []
        : fromCheck(
            joistSpacingCheck({ ...decking, joistSpacingIn }),
            { zone, field: geometryField("joistSpacingIn") },
            "Add joists between, thicker boards, or lay them straight.",
          ),
    ),
};

const FASTENED: ReadonlySet<string> = new Set(["refasten", "reinforce"]);
/** Ties that hold the deck sideways are no ledger fasteners. */
const OTHER_TIES = /lateral|tension/i;

export const ledgerFastenersFew: Rule = {
  id: "ledger_fasteners_few",
  title: "Too few ledger fasteners for the joist span",
  severity: "warning",
  source: "IRC 2018 R507.9.1.3, 1/2 in lag screws at 40 psf",
  check: ({ zones }) =>
    [...framed(zones)].flatMap(({ zone, spanIn }): Remark[] => {
      const lines = linesOf(zone, "ledger").filter(
        (l) => l.unit === "each" && inBase(l) && FASTENED.has(l.action) && !mentions(l, OTHER_TIES),
      );
      const line = firstOf(lines);
      const length = existing(zone, "ledger", "lf");
      if (!line || length === null || spanIn === null) return [];
      const spacing = ledgerFastenerSpacing({ joistSpanIn: spanIn, fastener: "half_inch_lag" });
      if (spacing.limitIn === null) return [];
      const needed = ledgerFastenerCount(toNumber(length) * 12, spacing.limitIn);
      const counted = total(lines);
      if (toNumber(counted) >= needed) return [];
      return [
        {
          line,
          field: "quantity",
          numbers: {
            counted: amountText(counted),
            needed: String(needed),
            spacingIn: String(spacing.limitIn),
          },
          words: `${spacing.words} That is ${needed} lag screws along the ledger of ${zone.name}; the line has ${numberWords(toNumber(counted))}. Local code decides.`,
          source: sourceOf(spacing),
        },
      ];
    }),
};

/** The surface itself: what is counted on it stands or falls with it. */
const EDGE = /^geometry\.(outline|cutouts)\b/;

export const geometryFault: Rule = {
  id: "geometry_fault",
  title: "A drawing that cannot be",
  severity: "blocking",
  source: "Geometry: what the takeoff could not count",
  check: ({ zones }) =>
    zones.flatMap((zone) => {
      const priced = zone.lines.some(({ action }) => action !== "keep");
      return (zone.takeoff?.findings ?? []).map(
        ({ field, words }): Remark => ({
          zone,
          field,
          numbers: { fault: words },
          words: `${zone.name}: ${words}`,
          // A drawing that nothing is priced from yet may stay unfinished; one without its edge bounds nothing.
          severity: !priced ? "note" : EDGE.test(field) ? "blocking" : "warning",
        }),
      );
    }),
};
