import {
  type LineRates,
  markupFromMargin,
  type PricingTerms,
  priceAtMargin,
  priceRevision,
  type UnfoldedRow,
  unfoldAdjustment,
  unfoldLine,
} from "@ledgerboard/estimating";
import { money, percent } from "../../ui/format.ts";
import { PriceRows } from "./price-rows.tsx";

/** $100 of material and ten hours at $40 with 30% burden: round figures, so that the terms are what one sees. */
const RATES: LineRates = {
  materials: [
    {
      code: "EXAMPLE",
      name: "Material",
      unit: "each",
      section: null,
      packs: [{ size: "1", cents: 10_000 }],
      wholePacks: false,
      perUnit: "1",
      wasteBp: 1000,
    },
  ],
  labor: [
    { code: "an example rate", hoursPerUnit: "10", setupHours: "0", hourlyCents: 4000, burdenBp: 3000 },
  ],
  disposalUnitCents: "0",
  equipmentUnitCents: "0",
  laborCvBp: 0,
};
const LINE = { quantity: "1", by: "us" as const, rates: RATES };

/** A worked example at these terms, as if it were a whole job: the rows every price can be unfolded into. */
function TermsExample({ terms }: { terms: PricingTerms }) {
  const { adjustments } = priceRevision({ lines: [LINE] }, terms);
  const rows: UnfoldedRow[] = [
    ...unfoldLine(LINE, terms),
    ...adjustments.flatMap((one) => unfoldAdjustment(one, terms)),
  ];
  return (
    <PriceRows
      caption="An example: $100 of material with 10% waste, ten hours at $40 with 30% burden"
      rows={rows}
      total="Price of such a job"
    />
  );
}

/** One example from material to price, and why a margin is no markup. */
export function Worked({ terms }: { terms: PricingTerms }) {
  const { marginBp } = terms;
  const hundred = 10_000;
  const asMarkup = hundred + Math.round((hundred * marginBp) / 10_000);
  return (
    <div className="pb-worked">
      <TermsExample terms={terms} />
      <p>
        Margin is not markup. A cost of {money(hundred)} at {percent(marginBp)} margin is priced{" "}
        <b>{money(priceAtMargin(hundred, marginBp))}</b>; at {percent(marginBp)} markup it would be only{" "}
        {money(asMarkup)}.{" "}
        {marginBp > 0 && `Your margin is a markup of ${percent(markupFromMargin(marginBp))}.`}
      </p>
    </div>
  );
}
