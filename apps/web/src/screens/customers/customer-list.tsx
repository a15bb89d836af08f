import type { listCustomers } from "@ledgerboard/contracts/customers";
import { Link } from "@tanstack/react-router";
import { q } from "../../api/queries.ts";
import type { Output } from "../../api/wire.ts";
import { Paged } from "../../ui/paged.tsx";
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

/** Customers in one table, a page at a time. */
export function CustomerList({ search }: { search: string | undefined }) {
  return (
    <Paged
      page={(after) =>
        q.customers({ limit: PAGE_SIZE, ...(search && { search }), ...(after !== undefined && { after }) })
      }
      rowKey={(row) => row.id}
    >
      {(rows) => <Table caption="Customers by name" columns={COLUMNS} rows={rows} rowKey={(row) => row.id} />}
    </Paged>
  );
}
