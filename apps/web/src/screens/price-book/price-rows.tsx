import type { UnfoldedRow } from "@ledgerboard/estimating";
import { money } from "../../ui/format.ts";

/** Every cent of a price, row by row, with the arithmetic of each and the sum below. */
export function PriceRows({
  caption,
  rows,
  total,
}: {
  caption: string;
  rows: readonly UnfoldedRow[];
  /** What the sum is called. */
  total: string;
}) {
  return (
    <table className="pb-example">
      <caption>{caption}</caption>
      <tbody>
        {rows.map(({ label, formula, cents }, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: rows without state; two may be called the same
          <tr key={i}>
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
          <th scope="row">{total}</th>
          <td className="num" aria-live="polite">
            {money(rows.reduce((sum, { cents }) => sum + cents, 0))}
          </td>
        </tr>
      </tfoot>
    </table>
  );
}
