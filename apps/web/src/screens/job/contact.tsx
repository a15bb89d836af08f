import { Link } from "@tanstack/react-router";
import { useMay } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Section } from "../../ui/section.tsx";
import { whoMay } from "../../ui/who-may.ts";
import { Contact } from "../customer/contact.tsx";
import { CustomerForm } from "../customer/customer-form.tsx";
import { type Asking, useJob } from "./asking.ts";

/** Who to call. */
export function ContactPart() {
  const { job, ask } = useJob();
  const may = useMay();
  const { customer, salesperson, estimator } = job;
  return (
    <Section
      id="contact"
      title="Contact"
      acts={
        may("customers.edit") ? (
          <Button small onPress={() => ask("edit_contact")}>
            Correct
          </Button>
        ) : (
          <small className="quiet">Corrected by {whoMay("customers.edit")}</small>
        )
      }
    >
      <p className="job-name">
        <Link to="/customers/$customerId" params={{ customerId: customer.id }}>
          {customer.name}
        </Link>
      </p>
      <Contact of={customer} />
      {customer.notes && <p className="kept-lines">{customer.notes}</p>}
      <dl className="facts job-people">
        <dt>Sales</dt>
        <dd>{salesperson?.name ?? <span className="quiet">nobody yet</span>}</dd>
        <dt>Senior estimator</dt>
        <dd>{estimator?.name ?? <span className="quiet">nobody yet</span>}</dd>
      </dl>
    </Section>
  );
}

export function ContactDialog({ job, onClose }: Asking) {
  return (
    <Dialog title={`Correct ${job.customer.name}`} open onClose={onClose}>
      <CustomerForm customer={job.customer} onDone={onClose} cancel={onClose} />
    </Dialog>
  );
}
