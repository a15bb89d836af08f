import type { Revision } from "@ledgerboard/contracts/estimates";
import { unfoldLine } from "@ledgerboard/estimating";
import { forOne, money, quantity } from "../../ui/format.ts";
import { UnfoldRows } from "./figure.tsx";
import type { Priced } from "./prices.ts";

/** Where a line's price comes from: every cent as quantity, rate and rule. */
export function Unfold({ id, priced, terms }: { id: string; priced: Priced; terms: Revision["terms"] }) {
  const { line, agreed } = priced;
  return (
    <div id={id}>
      {priced.standing !== "if_found" && (
        <UnfoldRows caption="How the price is made" rows={unfoldLine(line, terms)} />
      )}
      {agreed && <UnfoldAgreed priced={priced} terms={terms} />}
    </div>
  );
}

/** Where the agreed unit price and its cap come from: the price of the likeliest amount, divided by it. */
export function UnfoldAgreed({ priced, terms }: { priced: Priced; terms: Revision["terms"] }) {
  const { line, agreed } = priced;
  if (!agreed) return null;
  const rows = unfoldLine({ ...line, allowance: null, alternate: null }, terms);
  const likeliest = rows.reduce((sum, { cents }) => sum + cents, 0);
  return (
    <>
      <UnfoldRows
        caption="How the agreed unit price is made"
        rows={rows}
        total={`Price of the likeliest amount, ${quantity(line.quantity, line.unit)}`}
      />
      <p className="est-agreed">
        {money(likeliest)} ÷ {quantity(line.quantity)} = <b>{money(agreed.unitPriceCents)}</b>{" "}
        {forOne(line.unit)}, agreed. At most {quantity(agreed.capQuantity)} × {money(agreed.unitPriceCents)} ={" "}
        <b>{money(agreed.capCents)}</b>.
      </p>
    </>
  );
}
