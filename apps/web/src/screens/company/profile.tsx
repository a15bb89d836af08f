import type { Company } from "@ledgerboard/contracts/company";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { Form, FormActions, orNull, useForm } from "../../ui/form.tsx";
import { percent } from "../../ui/format.ts";
import { PercentField, WholeField } from "../../ui/number-fields.tsx";
import { Select } from "../../ui/select.tsx";
import { TextArea, TextField } from "../../ui/text-field.tsx";
import { STATES, TIME_ZONES } from "../../ui/us-places.ts";

export function ProfileFacts({ company }: { company: Company }) {
  const facts: [string, string][] = [
    ["Name", company.name],
    ["Phone", company.phone ?? "–"],
    ["Mail", company.email ?? "–"],
    ["Address", company.address || "–"],
    ["License", company.licenceLine || "–"],
    ["Insurance", company.insuranceLine || "–"],
    ["Deposit asked", percent(company.depositShareBp)],
    ["Quotes hold for", `${company.quoteValidDays} days`],
  ];
  return (
    <dl className="facts">
      {facts.map(([name, value]) => (
        <div key={name} style={{ display: "contents" }}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

export function ProfileForm({ company }: { company: Company }) {
  const save = useAct(api.updateCompany, { done: "Saved." });
  const form = useForm({
    initial: {
      name: company.name,
      phone: company.phone ?? "",
      email: company.email ?? "",
      address: company.address,
      state: company.state,
      timezone: company.timezone,
      licenceLine: company.licenceLine,
      insuranceLine: company.insuranceLine,
      depositShareBp: company.depositShareBp as number | null,
      quoteValidDays: company.quoteValidDays as number | null,
    },
    version: company.version,
    check: ({ name, depositShareBp, quoteValidDays }) => ({
      name: name.trim() ? undefined : "Enter a name.",
      depositShareBp: depositShareBp === null ? "A percentage, 0 for none." : undefined,
      quoteValidDays: quoteValidDays === null ? "A number of days." : undefined,
    }),
    submit: ({ phone, email, depositShareBp, quoteValidDays, ...rest }, version) =>
      save.send({
        version,
        body: {
          ...rest,
          phone: orNull(phone),
          email: orNull(email),
          depositShareBp: depositShareBp ?? 0,
          quoteValidDays: quoteValidDays ?? 30,
        },
      }),
  });
  const zones = TIME_ZONES.some((zone) => (typeof zone === "string" ? zone : zone.value) === company.timezone)
    ? TIME_ZONES
    : [...TIME_ZONES, { value: company.timezone, label: company.timezone }];
  return (
    <Form form={form}>
      <TextField label="Name" maxLength={80} {...form.field("name")} />
      <div className="pair">
        <TextField label="Phone" type="tel" optional {...form.field("phone")} />
        <TextField label="Mail address" type="email" optional {...form.field("email")} />
      </div>
      <TextArea label="Address" rows={2} optional {...form.field("address")} />
      <div className="pair">
        <Select label="State" options={STATES} {...form.field("state")} />
        <Select label="Time zone" options={zones} {...form.field("timezone")} />
      </div>
      <TextField
        label="License line"
        hint="Printed on quotes as it stands here."
        optional
        {...form.field("licenceLine")}
      />
      <TextField label="Insurance line" optional {...form.field("insuranceLine")} />
      <div className="pair">
        <PercentField
          label="Deposit asked"
          hint="Of the contract. The state's limit is applied after it."
          {...form.field("depositShareBp")}
        />
        <WholeField label="Quotes hold for" suffix="days" {...form.field("quoteValidDays")} />
      </div>
      <FormActions form={form} submit="Save" always={false} />
    </Form>
  );
}
