import "./customer/customer.css";
import type { getCustomer, Property } from "@ledgerboard/contracts/customers";
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { useState } from "react";
import { q } from "../api/queries.ts";
import type { Output } from "../api/wire.ts";
import { useParam } from "../app/params.ts";
import { useMay } from "../app/session.ts";
import { Button, ButtonLink } from "../ui/button.tsx";
import { Dialog } from "../ui/dialog.tsx";
import { plural, sentence, words } from "../ui/format.ts";
import { Page } from "../ui/page.tsx";
import { Section } from "../ui/section.tsx";
import { ErrorState, Loading } from "../ui/states.tsx";
import { Table } from "../ui/table.tsx";
import { whoMay } from "../ui/who-may.ts";
import { Contact } from "./customer/contact.tsx";
import { CustomerForm } from "./customer/customer-form.tsx";
import { PropertyFacts } from "./customer/property-facts.tsx";
import { PropertyForm } from "./customer/property-form.tsx";

export default function CustomerScreen() {
  const customerId = useParam("customerId");
  const customer = useQuery(q.customer(customerId));
  if (customer.data) return <CustomerPage key={customer.data.id} customer={customer.data} />;
  return (
    <Page title="Customer">
      {customer.error ? (
        <ErrorState error={customer.error} onRetry={() => void customer.refetch()} />
      ) : (
        <Loading rows={8} />
      )}
    </Page>
  );
}

type Detail = Output<typeof getCustomer>;

function CustomerPage({ customer }: { customer: Detail }) {
  const may = useMay();
  const [editing, setEditing] = useState<string | null>(null);
  const edit = may("customers.edit");
  const close = () => setEditing(null);
  const property = customer.properties.find((one) => one.id === editing);
  return (
    <Page
      title={customer.name}
      over={<Link to="/customers">Customers</Link>}
      lead={`${sentence(plural(customer.jobs.length, "job"))} at ${plural(customer.properties.length, "property", "properties")}.`}
      actions={
        may("leads.create") && (
          <ButtonLink to="/new" search={{ customer: customer.id }}>
            Take another inquiry
          </ButtonLink>
        )
      }
    >
      <div className="customer-parts">
        <div>
          <Section
            title="Contact"
            acts={
              edit ? (
                <Button small onPress={() => setEditing(customer.id)}>
                  Correct
                </Button>
              ) : (
                <small className="quiet">Corrected by {whoMay("customers.edit")}</small>
              )
            }
          >
            <Contact of={customer} />
            {customer.notes && <p className="kept-lines">{customer.notes}</p>}
          </Section>
          {customer.properties.map((one) => (
            <PropertyPart key={one.id} property={one} onEdit={edit ? () => setEditing(one.id) : undefined} />
          ))}
        </div>
        <Jobs jobs={customer.jobs} />
      </div>
      {editing === customer.id && (
        <Dialog title={`Correct ${customer.name}`} open onClose={close}>
          <CustomerForm customer={customer} onDone={close} cancel={close} />
        </Dialog>
      )}
      {property && (
        <Dialog title={`Correct ${property.street}`} open onClose={close}>
          <PropertyForm property={property} onDone={close} cancel={close} />
        </Dialog>
      )}
    </Page>
  );
}

function PropertyPart({ property, onEdit }: { property: Property; onEdit: (() => void) | undefined }) {
  return (
    <Section
      title="Property"
      acts={
        onEdit && (
          <Button small onPress={onEdit} aria-label={`Correct ${property.street}`}>
            Correct
          </Button>
        )
      }
    >
      <PropertyFacts property={property} />
    </Section>
  );
}

function Jobs({ jobs }: { jobs: Detail["jobs"] }) {
  return (
    <Section title="Jobs">
      {jobs.length === 0 ? (
        <p className="quiet">No jobs.</p>
      ) : (
        <Table
          caption="Jobs, newest first"
          rows={jobs}
          rowKey={(job) => job.id}
          columns={[
            {
              title: "Job",
              cell: (job) => (
                <Link to="/jobs/$jobId" params={{ jobId: job.id }}>
                  {job.number}
                </Link>
              ),
            },
            { title: "Work on", cell: (job) => job.title },
            { title: "Stage", cell: (job) => words(job.stage) },
          ]}
        />
      )}
    </Section>
  );
}
