import type { Revision } from "@ledgerboard/contracts/estimates";
import { markupFromMargin, unfoldAdjustment, unfoldCharge } from "@ledgerboard/estimating";
import { useState } from "react";
import { Button } from "../../ui/button.tsx";
import { hours, money, moneyChange, percent, plural, sentence } from "../../ui/format.ts";
import { ADJUSTMENT_NAMES, byZone, type MadeOf, madeOf } from "./bill-parts.ts";
import { useEstimate } from "./context.ts";
import { Figure, Parts, UnfoldRows } from "./figure.tsx";
import { MarginDialog } from "./margin-dialog.tsx";
import type { Sheet } from "./prices.ts";

/** What the revision comes to, as a bill that adds up downwards; every figure unfolds into where it comes from. */
export function Bill({ sheet, before }: { sheet: Sheet; before: Revision | undefined }) {
  const { job, revision } = useEstimate();
  const { terms } = revision;
  const { whole } = sheet;
  const { totals } = whole;
  const base = whole.lines.filter(({ standing }) => standing === "base");
  const zones = byZone(whole, job.zones);
  const linesCents = zones.reduce((sum, { cents }) => sum + cents, 0);
  const moved = before && totals.priceCents - before.totals.price.cents;
  return (
    <section className="est-bill" aria-label="What it comes to">
      <Figure name={sentence(plural(base.length, "line"))} cents={linesCents}>
        <Parts caption="The lines by zone" parts={zones} />
      </Figure>
      {whole.charges.map((charge, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: two charges may read alike; they have no other identity
        <Figure key={at} name={sentence(charge.words)} cents={charge.price.priceCents}>
          <UnfoldRows caption={`How ${charge.words} is priced`} rows={unfoldCharge(charge, terms)} />
        </Figure>
      ))}
      {whole.adjustments.map((adjustment) => (
        <Figure
          key={adjustment.kind}
          name={ADJUSTMENT_NAMES[adjustment.kind]}
          cents={adjustment.price.priceCents}
        >
          <UnfoldRows
            caption={ADJUSTMENT_NAMES[adjustment.kind]}
            rows={unfoldAdjustment(adjustment, terms)}
            total="Added"
          />
        </Figure>
      ))}
      <Figure name="Price" cents={totals.priceCents} sum big />
      {before && moved !== undefined && (
        <p className="est-moved">
          {moved === 0 ? "Same price as" : `${moneyChange(moved)} against`} revision {before.number} (
          {money(before.totals.price)})
        </p>
      )}
      <p className="quiet">
        <small>Prices from {revision.priceBookName}.</small>
      </p>
    </section>
  );
}

/** What the price is made of: costs, and what is added to them. Each figure unfolds into the lines it comes from. */
export function MadeOfWhat({ sheet }: { sheet: Sheet }) {
  const { job, revision, mayPrice } = useEstimate();
  const [pricing, setPricing] = useState(false);
  const { terms } = revision;
  const { totals } = sheet.whole;
  const parts = madeOf(sheet.whole, job.zones);
  const costs = parts.filter(({ key }) => key !== "margin" && key !== "reaching");
  const above = parts.filter(({ key }) => key === "margin" || key === "reaching");
  const unfolded = (part: MadeOf) => (
    <Figure key={part.key} name={partName(part.key, terms, totals.hours)} cents={part.cents}>
      <Parts caption={partName(part.key, terms, totals.hours)} parts={part.parts} />
    </Figure>
  );
  return (
    <section className="est-made" aria-label="What the price is made of">
      <h3>What it is made of</h3>
      {costs.map(unfolded)}
      <Figure name="Cost" cents={totals.costCents} sum />
      {above.map(unfolded)}
      <p className="quiet est-margin-words">
        <small>
          Margin is a share of the price. The same money is a markup of{" "}
          {percent(markupFromMargin(terms.marginBp))} on the cost.
        </small>
      </p>
      {mayPrice && (
        <div className="row no-print">
          <Button small onPress={() => setPricing(true)}>
            Change the margin
          </Button>
        </div>
      )}
      {pricing && <MarginDialog sheet={sheet} onClose={() => setPricing(false)} />}
    </section>
  );
}

function partName(key: MadeOf["key"], terms: Revision["terms"], labor: string): string {
  switch (key) {
    case "material":
      return "Material";
    case "tax":
      return `Sales tax on it, ${percent(terms.materialTaxBp)}`;
    case "labor":
      return `Labor, ${hours(labor)}`;
    case "disposal":
      return "Hauling away and tipping";
    case "equipment":
      return "Equipment, permits, travel";
    case "overhead":
      return `Overhead, ${percent(terms.overheadBp)}`;
    case "margin":
      return `Margin, ${percent(terms.marginBp)} of the price`;
    case "reaching":
      return "Minimum charge and rounding";
  }
}
