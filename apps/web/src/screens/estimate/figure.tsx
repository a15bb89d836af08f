import type { UnfoldedRow } from "@ledgerboard/estimating";
import type { ReactNode } from "react";
import { money } from "../../ui/format.ts";

/** A figure of the bill. With something inside it, it unfolds into where it comes from. */
export function Figure({
  name,
  cents,
  sum,
  big,
  children,
}: {
  name: ReactNode;
  cents: number;
  /** A line is drawn above it. */
  sum?: boolean;
  big?: boolean;
  children?: ReactNode;
}) {
  const look = ["est-figure", sum && "sum", big && "big"].filter(Boolean).join(" ");
  const told = (
    <>
      <span>{name}</span>
      <b className="num">{money(cents)}</b>
    </>
  );
  if (!children) return <div className={look}>{told}</div>;
  return (
    <details className={look}>
      <summary>{told}</summary>
      {children}
    </details>
  );
}

/** Quantity x rate x rule, row by row, down to the sum. */
export function UnfoldRows({
  id,
  caption,
  rows,
  total = "Price",
}: {
  id?: string;
  caption: string;
  rows: readonly UnfoldedRow[];
  total?: string;
}) {
  return (
    <table className="est-unfold" id={id}>
      <caption className="sr">{caption}</caption>
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
            {total}
          </th>
          <td className="num">{money(rows.reduce((sum, row) => sum + row.cents, 0))}</td>
        </tr>
      </tfoot>
    </table>
  );
}

/** What a sum is the sum of. */
export function Parts({
  caption,
  parts,
}: {
  caption: string;
  parts: readonly { name: string; cents: number }[];
}) {
  return (
    <table className="est-unfold">
      <caption className="sr">{caption}</caption>
      <tbody>
        {parts.map(({ name, cents }, at) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: two lines may have the same name; the list is redrawn as a whole
          <tr key={at}>
            <th scope="row">{name}</th>
            <td className="num">{money(cents)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
