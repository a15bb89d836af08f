import { daysBetween } from "@ledgerboard/contracts/dates";
import type { listDeposits } from "@ledgerboard/contracts/quotes";
import { Link } from "@tanstack/react-router";
import { q } from "../../api/queries.ts";
import type { Output } from "../../api/wire.ts";
import { useSession } from "../../app/session.ts";
import { Flag } from "../../ui/flag.tsx";
import { day, money, plural } from "../../ui/format.ts";
import { Paged } from "../../ui/paged.tsx";
import { Table } from "../../ui/table.tsx";

type Row = Output<typeof listDeposits>["items"][number];
export const STATE_WORDS: Record<Row["state"], string> = {
  due: "to be paid",
  overdue: "overdue",
  paid: "paid",
  not_asked: "not asked for",
};

function Due({ row, today }: { row: Row; today: string }) {
  if (row.state === "overdue" && row.dueOn)
    return <Flag alarm>overdue {plural(daysBetween(row.dueOn, today), "day")}</Flag>;
  if (row.state === "due" && row.dueOn) return <>by {day(row.dueOn, today)}</>;
  return <>{STATE_WORDS[row.state]}</>;
}

/** How much of the deposit is in, as a rule that fills up. */
function Filled({ row }: { row: Row }) {
  if (!row.due || row.due.cents === 0) return null;
  const share = Math.max(0, Math.min(1, row.paid.cents / row.due.cents));
  return (
    <span className="deposit-bar" aria-hidden="true">
      <i style={{ width: `${Math.round(share * 100)}%` }} />
    </span>
  );
}

/** Deposits in one table, a page at a time. */
export function DepositList({ view }: { view: "all" | "due" | "not_asked" | "paid" }) {
  const { today } = useSession();
  return (
    <Paged
      page={(after) => q.deposits({ state: view, limit: "50", ...(after !== undefined && { after }) })}
      rowKey={(row) => row.jobId}
    >
      {(rows) => (
        <Table<Row>
          caption="Deposits of signed jobs"
          rows={rows}
          rowKey={(row) => row.jobId}
          columns={[
            {
              title: "Job",
              cell: (row) => (
                <Link to="/jobs/$jobId" params={{ jobId: row.jobId }} hash="deposit">
                  {row.number} {row.customerName}
                </Link>
              ),
            },
            { title: "State", cell: (row) => <Due row={row} today={today} /> },
            { title: "Contract", num: true, cell: (row) => money(row.contract) },
            {
              title: "Asked for",
              num: true,
              cell: (row) => (row.due ? money(row.due) : <span className="quiet">–</span>),
            },
            {
              title: "Paid",
              num: true,
              cell: (row) => (
                <span>
                  {money(row.paid)} <Filled row={row} />
                </span>
              ),
            },
            {
              title: "Still to come",
              num: true,
              cell: (row) =>
                row.due ? (
                  money(Math.max(0, row.due.cents - row.paid.cents))
                ) : (
                  <span className="quiet">–</span>
                ),
            },
          ]}
        />
      )}
    </Paged>
  );
}
