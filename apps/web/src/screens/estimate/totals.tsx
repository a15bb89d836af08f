import type { Revision } from "@ledgerboard/contracts/estimates";
import { type LinePrice, markupFromMargin } from "@ledgerboard/estimating";
import { hours, money, moneyChange, percent } from "../../ui/format.ts";

/** What the revision comes to, as a bill that adds up downwards. */
export function Totals({
  totals,
  terms,
  before,
}: {
  totals: LinePrice;
  terms: Revision["terms"];
  before: Revision | undefined;
}) {
  const moved = before && totals.priceCents - before.totals.price.cents;
  return (
    <section className="est-totals" aria-label="Totals">
      <dl>
        <Row name="Material" cents={totals.materialCents} />
        <Row name={`Sales tax on it, ${percent(terms.materialTaxBp)}`} cents={totals.taxCents} />
        <Row name={`Labor, ${hours(totals.hours)}`} cents={totals.laborCents} />
        <Row name={`Overhead, ${percent(terms.overheadBp)}`} cents={totals.overheadCents} />
        <Row name="Cost" cents={totals.costCents} sum />
        <Row
          name={`Margin, ${percent(terms.marginBp)} of the price`}
          cents={totals.priceCents - totals.costCents}
        />
        <Row name="Price" cents={totals.priceCents} sum big />
      </dl>
      <p className="quiet">
        <small>
          Margin is a share of the price. The same money is a markup of{" "}
          {percent(markupFromMargin(terms.marginBp))} on the cost.
        </small>
      </p>
      {before && moved !== undefined && (
        <p className="est-moved">
          {moved === 0 ? "Same price as" : `${moneyChange(moved)} against`} revision {before.number} (
          {money(before.totals.price)})
        </p>
      )}
    </section>
  );
}

const Row = ({ name, cents, sum, big }: { name: string; cents: number; sum?: boolean; big?: boolean }) => (
  <div className={[sum && "sum", big && "big"].filter(Boolean).join(" ") || undefined}>
    <dt>{name}</dt>
    <dd className="num">{money(cents)}</dd>
  </div>
);
