import type { Revision } from "@ledgerboard/contracts/estimates";
import { unfoldLine } from "@ledgerboard/estimating";
import { money } from "../../ui/format.ts";
import type { Priced } from "./prices.ts";

/** Where a price comes from: every cent as quantity, rate and rule. */
export function Unfold({ id, priced, terms }: { id: string; priced: Priced; terms: Revision["terms"] }) {
  const rows = unfoldLine(priced.line, terms);
  return (
    <table className="est-unfold" id={id}>
      <caption className="sr">How the price is made</caption>
      <tbody>
        {rows.map(({ label, formula, cents }) => (
          <tr key={label}>
            <th scope="row">{label}</th>
            <td className="quiet">{formula}</td>
            <td className="num">{money(cents)}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row" colSpan={2}>
            Price
          </th>
          <td className="num">{money(rows.reduce((sum, row) => sum + row.cents, 0))}</td>
        </tr>
      </tfoot>
    </table>
  );
}
