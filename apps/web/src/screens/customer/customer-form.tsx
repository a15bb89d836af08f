import type { Customer } from "@ledgerboard/contracts/customers";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { Form, FormActions, orNull, useForm } from "../../ui/form.tsx";
import { TextArea, TextField } from "../../ui/text-field.tsx";

/** Corrects a customer. What others save meanwhile stands beside what was typed. */
export function CustomerForm({
  customer,
  onDone,
  cancel,
}: {
  customer: Customer;
  onDone?: () => void;
  cancel?: () => void;
}) {
  const save = useAct(api.updateCustomer, { done: "Saved." });
  const form = useForm({
    initial: {
      name: customer.name,
      phone: customer.phone ?? "",
      email: customer.email ?? "",
      notes: customer.notes,
    },
    version: customer.version,
    check: ({ name }) => ({ name: name.trim() ? undefined : "Enter a name." }),
    submit: async ({ name, phone, email, notes }, version) => {
      await save.send({
        params: { customerId: customer.id },
        version,
        body: { name, phone: orNull(phone), email: orNull(email), notes },
      });
      onDone?.();
    },
  });
  return (
    <Form form={form}>
      <TextField label="Name" autoComplete="off" maxLength={120} {...form.field("name")} />
      <div className="pair">
        <TextField label="Phone" type="tel" autoComplete="off" optional {...form.field("phone")} />
        <TextField label="Mail address" type="email" autoComplete="off" optional {...form.field("email")} />
      </div>
      <TextArea label="Notes" rows={3} optional {...form.field("notes")} />
      <FormActions form={form} submit="Save" cancel={cancel} always={false} />
    </Form>
  );
}
