import { type PricingTerms, unfoldLine } from "@ledgerboard/estimating";
import { money } from "../../ui/format.ts";

/** $100 of material and ten hours at $40 with 30 % burden: round figures, so that the terms are what one sees. */
const EXAMPLE = {
  quantity: "1",
  by: "us" as const,
  rates: {
    materialUnitCents: "10000",
    wasteBp: 1000,
    hoursPerUnit: "10",
    laborRateCode: "an example rate",
    laborHourlyCents: 4000,
    laborBurdenBp: 3000,
  },
};

/** A worked example at these terms: the same rows every price can be unfolded into. */
export function Example({ terms }: { terms: PricingTerms }) {
  const rows = unfoldLine(EXAMPLE, terms);
  return (
    <table className="pb-example">
      <caption>An example: $100 of material with 10% waste, ten hours at $40 with 30% burden</caption>
      <tbody>
        {rows.map(({ label, formula, cents }) => (
          <tr key={label.replace(/[\d.]+%/, "")}>
            <th scope="row">
              {label}
              <small className="quiet block">{formula}</small>
            </th>
            <td className="num">{money(cents)}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row">Price</th>
          <td className="num" aria-live="polite">
            {money(rows.reduce((sum, { cents }) => sum + cents, 0))}
          </td>
        </tr>
      </tfoot>
    </table>
  );
}
