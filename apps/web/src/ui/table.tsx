import type { ReactNode } from "react";

export interface Column<R> {
  /** Heading of the column, and its label on a phone. */
  title: string;
  cell: (row: R) => ReactNode;
  /** Money and quantities: to the right. */
  num?: boolean;
  /** What stands below the column. */
  foot?: ReactNode;
  /** The heading is only read out. */
  silent?: boolean;
}

/** A table: first column names the row. On a phone every row becomes a block with its labels. */
export function Table<R>({
  caption,
  columns,
  rows,
  rowKey,
}: {
  caption: string;
  columns: readonly Column<R>[];
  rows: readonly R[];
  rowKey: (row: R) => string;
}) {
  const num = (column: Column<R>) => (column.num ? "num" : undefined);
  const foot = columns.some((column) => column.foot !== undefined);
  return (
    <div className="table-wrap">
      <table className="table stack">
        <caption className="sr">{caption}</caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column.title} scope="col" className={num(column)}>
                {column.silent ? <span className="sr">{column.title}</span> : column.title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={rowKey(row)}>
              {columns.map((column, at) =>
                at === 0 ? (
                  <th key={column.title} scope="row" className={num(column)}>
                    {column.cell(row)}
                  </th>
                ) : (
                  <td
                    key={column.title}
                    className={num(column)}
                    data-label={column.silent ? undefined : column.title}
                  >
                    {column.cell(row)}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
        {foot && (
          <tfoot>
            <tr>
              {columns.map((column, at) =>
                at === 0 ? (
                  <th key={column.title} scope="row" className={num(column)}>
                    {column.foot}
                  </th>
                ) : (
                  <td
                    key={column.title}
                    className={num(column)}
                    data-label={column.foot ? column.title : undefined}
                  >
                    {column.foot}
                  </td>
                ),
              )}
            </tr>
          </tfoot>
        )}
      </table>
    </div>
  );
}
