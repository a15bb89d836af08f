import type { Advisory } from "@ledgerboard/contracts/advisories";
import type { Action, Component, Evidence } from "@ledgerboard/contracts/vocabulary";
import type { Charge, PricedRevision, RevisionLine } from "@ledgerboard/estimating";
import { sayDecision } from "../advisories/words.ts";
import type { Offer, OfferedLine } from "./document.ts";

const ADJUSTMENTS = {
  whole_packs: "Materials sold in whole packs, beyond what is used",
  minimum_charge: "To the minimum charge",
  rounding: "Rounding",
} as const;

type Line = RevisionLine & {
  zoneId: string;
  zoneName: string;
  component: Component;
  action: Action;
  description: string;
  unit: OfferedLine["unit"];
  evidence: Evidence;
};
type Priced = PricedRevision<Line, Charge>;

/** Zones in the order their first line appears, lines in their own order. */
function byZone(lines: Priced["lines"]): Priced["lines"] {
  const zones = new Map<string, Priced["lines"]>();
  for (const line of lines) zones.set(line.zoneId, [...(zones.get(line.zoneId) ?? []), line]);
  return [...zones.values()].flat();
}

const toOffered = (line: Priced["lines"][number]): OfferedLine => ({
  zone: line.zoneName,
  component: line.component,
  action: line.action,
  description: line.description,
  quantity: line.quantity,
  unit: line.unit,
  concealed: line.evidence === "concealed",
  by: line.by,
  priceCents: line.price.priceCents,
  alternate: line.alternate ?? null,
  agreed: line.standing === "if_found" ? line.agreed : null,
});

/** What a priced revision offers the customer, with the advisories as they stand now. */
export function offered(
  {
    lines,
    charges,
    adjustments,
    alternates,
  }: Pick<Priced, "lines" | "charges" | "adjustments" | "alternates">,
  advisories: readonly Pick<
    Advisory,
    "words" | "zoneName" | "reference" | "decision" | "alternate" | "declined"
  >[],
): Pick<Offer, "lines" | "wholeJob" | "alternates" | "advisories"> {
  const whole = [...charges, ...adjustments.map((a) => ({ words: ADJUSTMENTS[a.kind], price: a.price }))];
  return {
    lines: byZone(lines).map(toOffered),
    wholeJob: whole.map(({ words, price }) => ({ words, priceCents: price.priceCents })),
    alternates: alternates.map(({ name, price }) => ({ name, priceCents: price.priceCents })),
    advisories: advisories.map((a) => ({
      words: a.zoneName ? `${a.zoneName}: ${a.words}` : a.words,
      // How sure we are of a reference is for the office.
      reference: a.reference.replace(/ \(from memory\)$/, ""),
      decision:
        a.decision === "alternate" && !alternates.some(({ name }) => name === a.alternate)
          ? `not decided yet: the optional extra "${a.alternate}" is no longer in the estimate`
          : sayDecision(a),
    })),
  };
}
