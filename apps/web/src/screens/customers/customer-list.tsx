import type { listCustomers } from "@ledgerboard/contracts/customers";
import { useQueries } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { useState } from "react";
import { q } from "../../api/queries.ts";
import type { Output } from "../../api/wire.ts";
import { Button } from "../../ui/button.tsx";
import { ErrorState, Loading } from "../../ui/states.tsx";
import { type Column, Table } from "../../ui/table.tsx";

type Customer = Output<typeof listCustomers>["items"][number];
const PAGE_SIZE = "50";

const COLUMNS: Column<Customer>[] = [
  {
    title: "Customer",
    cell: (one) => (
      <Link to="/customers/$customerId" params={{ customerId: one.id }}>
        {one.name}
      </Link>
    ),
  },
  {
    title: "Phone",
    cell: ({ phone }) =>
      phone ? <a href={`tel:${phone.replace(/[^\d+]/g, "")}`}>{phone}</a> : <span className="quiet">–</span>,
  },
  {
    title: "Mail",
    cell: ({ email }) => (email ? <a href={`mailto:${email}`}>{email}</a> : <span className="quiet">–</span>),
  },
  { title: "Jobs", num: true, cell: (one) => one.jobCount },
];

/** Customers in one table, a page at a time; the cursors name places in the list, so pages stay true to each other. */
export function CustomerList({ search }: { search: string | undefined }) {
  const [cursors, setCursors] = useState<(string | undefined)[]>([undefined]);
  const pages = useQueries({
    queries: cursors.map((after) =>
      q.customers({ limit: PAGE_SIZE, ...(search && { search }), ...(after !== undefined && { after }) }),
    ),
  });
  const rows = pages.flatMap((page) => page.data?.items ?? []);
  const last = pages.at(-1);
  const next = last?.data?.next;
  return (
    <div className="customer-list">
      <Table
        caption="Customers by name"
        columns={COLUMNS}
        rows={[...new Map(rows.map((row) => [row.id, row])).values()]}
        rowKey={(row) => row.id}
      />
      {last?.isPending && <Loading rows={4} label="Loading more" />}
      {last?.error && !last.data && <ErrorState error={last.error} onRetry={() => void last.refetch()} />}
      {next && (
        <div className="row customer-more no-print">
          <Button onPress={() => setCursors([...cursors, next])}>Show more</Button>
        </div>
      )}
    </div>
  );
}
