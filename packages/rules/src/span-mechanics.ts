import type { JoistSize, LumberGroup } from "@ledgerboard/contracts/geometry";
import { CODE_VALUES } from "./code-values.ts";

const V = CODE_VALUES;
export const TABLE_LOAD_PSF = V.span_assumptions.value.live_psf;
export const DEAD_LOAD_PSF = V.span_assumptions.value.dead_psf;
/** No span of the table is longer, whatever the wood would carry. */
const LONGEST_IN = V.span_assumptions.value.cap_in;

/** Reference design values of one species, No.2, in psi; `fb` already with its size factor. */
interface Species {
  name: string;
  fb: number;
  e: number;
  /** Incised before treatment, which weakens it. */
  incised: boolean;
}

export interface RecomputedSpan {
  species: string;
  bendingIn: number;
  deflectionIn: number;
  /** The smaller of both, capped, before rounding. */
  exactIn: number;
  /** To the nearest inch, halves up, as the published table rounds. */
  wholeIn: number;
  governedBy: "bending" | "deflection" | "longest in the table";
}

function speciesOf(lumber: LumberGroup, size: JoistSize): Species[] {
  const sizeFactor = V.CF_Fb_table4A.value[size];
  switch (lumber) {
    case "southern_pine":
      // The Southern Pine table gives Fb by size, so no size factor is put on it again.
      return [
        { name: "Southern Pine", fb: V[`SP_No2_Fb_${size}`].value, e: V.SP_No2_E.value, incised: false },
      ];
    case "mixed_softwoods":
      return [
        { name: "Douglas fir-larch", fb: V.DFL_No2_Fb_base.value, e: V.DFL_No2_E.value },
        { name: "Hem-fir", fb: V.HF_No2_Fb_base.value, e: V.HF_No2_E.value },
        { name: "Spruce-pine-fir", fb: V.SPF_No2_Fb_base.value, e: V.SPF_No2_E.value },
      ].map((one) => ({ ...one, fb: one.fb * sizeFactor, incised: true }));
    case "redwood_cedar":
      return [];
  }
}

function spanOf(species: Species, size: JoistSize, spacingIn: number, liveLoadPsf: number): RecomputedSpan {
  const { width_in: b, depth_in: d } = V[`section_${size}`].value;
  const wet = V.CM_Fb.value;
  const wetFb = species.fb <= wet.limit_Fb_times_CF_psi ? wet.at_or_below_limit : wet.default;
  const incisedFb = species.incised ? V.Ci_incising.value.Fb_Ft_Fc_Fv : 1;
  const incisedE = species.incised ? V.Ci_incising.value.E : 1;
  const fb = species.fb * wetFb * V.Cr.value * incisedFb;
  const e = species.e * V.CM_E.value * incisedE;
  const perInch = (psf: number) => (psf * spacingIn) / 144;
  const section = (b * d ** 2) / 6;
  const inertia = (b * d ** 3) / 12;
  const bendingIn = Math.sqrt((8 * fb * section) / perInch(liveLoadPsf + DEAD_LOAD_PSF));
  const deflectionIn = Math.cbrt((384 * e * inertia) / (5 * 360 * perInch(liveLoadPsf)));
  const exactIn = Math.min(bendingIn, deflectionIn, LONGEST_IN);
  const governedBy =
    exactIn === LONGEST_IN ? "longest in the table" : exactIn === bendingIn ? "bending" : "deflection";
  return {
    species: species.name,
    bendingIn,
    deflectionIn,
    exactIn,
    wholeIn: Math.floor(exactIn + 0.5),
    governedBy,
  };
}

/** The span of each species of a lumber group; empty where no design values are kept. Inputs as recomputeSpan. */
export const spansBySpecies = (joist: {
  lumber: LumberGroup;
  size: JoistSize;
  spacingIn: number;
  liveLoadPsf: number;
}): RecomputedSpan[] =>
  speciesOf(joist.lumber, joist.size).map((one) =>
    spanOf(one, joist.size, joist.spacingIn, joist.liveLoadPsf),
  );

/**
 * The simple span of a joist from reference design values: bending under live and dead load, and deflection of L/360
 * under live load alone, the smaller of both and at most 18 ft; of a group of species, the weakest. Spacing in inches
 * and live load in psf, both above zero. Null where no design values are kept (redwood and cedar). Shear and bearing
 * never govern in these sizes.
 * Source: NDS Supplement Tables 4A and 4B, NDS 4.3, simple-beam statics; from memory, borne out by DCA 6 Table 2.
 */
export function recomputeSpan(joist: {
  lumber: LumberGroup;
  size: JoistSize;
  spacingIn: number;
  liveLoadPsf: number;
}): RecomputedSpan | null {
  return spansBySpecies(joist).reduce<RecomputedSpan | null>(
    (weakest, one) => (weakest === null || one.exactIn < weakest.exactIn ? one : weakest),
    null,
  );
}
