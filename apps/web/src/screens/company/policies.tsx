import type { Policy } from "@ledgerboard/contracts/company";
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { q } from "../../api/queries.ts";
import { useMay, useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Checkbox } from "../../ui/choices.tsx";
import { DayField } from "../../ui/day-field.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Flag } from "../../ui/flag.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { hours, longDay, money, percent } from "../../ui/format.ts";
import { DecimalField, MoneyField, PercentField } from "../../ui/number-fields.tsx";
import { Section } from "../../ui/section.tsx";
import { Loaded } from "../../ui/states.tsx";
import { Table } from "../../ui/table.tsx";

/** When a site review counts as a material change: the customer must then sign anew. */
export function Policies() {
  const may = useMay();
  const { today } = useSession();
  const policies = useQuery(q.policies());
  const [adding, setAdding] = useState(false);
  return (
    <Section
      title="Material change"
      acts={may("policy.edit") && <Button onPress={() => setAdding(true)}>Set from a day on</Button>}
    >
      <p>
        A site review is a material change when any of these limits is passed. Open quotes are then superseded
        and a signature given before no longer stands.
      </p>
      <Loaded query={policies} rows={2}>
        {({ items }) => {
          const current = items.find((one) => one.effectiveFrom <= today);
          return (
            <Table<Policy>
              caption="Policies, newest first"
              rows={items}
              rowKey={(row) => row.id}
              columns={[
                {
                  title: "From",
                  cell: (row) => (
                    <>
                      {longDay(row.effectiveFrom)} {row === current && <Flag>in force</Flag>}
                    </>
                  ),
                },
                {
                  title: "Price moves by the larger of",
                  cell: (row) => `${money(row.amount)} and ${percent(row.percentBp)}`,
                },
                {
                  title: "Hours move by",
                  num: true,
                  cell: (row) => (row.hours === null ? "–" : hours(row.hours)),
                },
                {
                  title: "Structural part changes action",
                  cell: (row) => (row.structuralAction ? "yes" : "no"),
                },
              ]}
            />
          );
        }}
      </Loaded>
      {adding && <PolicyDialog onClose={() => setAdding(false)} last={policies.data?.items[0]} />}
    </Section>
  );
}

function PolicyDialog({ last, onClose }: { last: Policy | undefined; onClose: () => void }) {
  const { today } = useSession();
  const add = useAct(api.addPolicy, { done: "The policy is set." });
  const form = useForm({
    initial: {
      effectiveFrom: today,
      amount: (last?.amount.cents ?? 50_000) as number | null,
      percentBp: (last?.percentBp ?? 1000) as number | null,
      hours: (last?.hours ?? null) as string | null,
      structuralAction: last?.structuralAction ?? true,
    },
    check: ({ effectiveFrom, amount, percentBp }) => ({
      effectiveFrom: effectiveFrom ? undefined : "Choose the day.",
      amount: amount === null ? "An amount; 0 to look at the percentage alone." : undefined,
      percentBp: percentBp === null ? "A percentage; 0 to look at the amount alone." : undefined,
    }),
    submit: async ({ amount, percentBp, ...rest }) => {
      await add.send({
        body: { ...rest, amount: { cents: amount ?? 0, currency: "USD" }, percentBp: percentBp ?? 0 },
      });
      onClose();
    },
  });
  return (
    <Dialog title="Material change" open onClose={onClose}>
      <Form form={form}>
        <DayField label="In force from" min={today} {...form.field("effectiveFrom")} />
        <div className="pair">
          <MoneyField label="Price moves by" {...form.field("amount")} />
          <PercentField label="and by" hint="The larger of the two counts." {...form.field("percentBp")} />
        </div>
        <DecimalField label="Hours move by" suffix="h" optional {...form.field("hours")} />
        <Checkbox
          label="A structural part changes action"
          hint="Joist, beam, post, ledger, hanger, stringer and the like."
          {...form.field("structuralAction")}
        />
        <FormActions form={form} submit="Set the policy" cancel={onClose} />
      </Form>
    </Dialog>
  );
}
