import { LEAD_SOURCES, type LeadSource } from "@ledgerboard/contracts/vocabulary";
import { useBlocker } from "@tanstack/react-router";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useSearchText } from "../../app/search.ts";
import { useSession } from "../../app/session.ts";
import { ConfirmDialog } from "../../ui/confirm-dialog.tsx";
import { Form, FormActions, orNull, useForm } from "../../ui/form.tsx";
import { Select } from "../../ui/select.tsx";
import { TextArea, TextField } from "../../ui/text-field.tsx";
import { CallerFields } from "./caller-fields.tsx";
import { PlaceFields } from "./place-fields.tsx";
import type { Opened } from "./taken.tsx";
import { titleOf } from "./title.ts";

/** Nothing chosen for a property means: another address. */
const blank = (state: string, customerId: string) => ({
  customerId,
  "customer.name": "",
  "customer.phone": "",
  "customer.email": "",
  propertyId: "",
  "property.street": "",
  "property.city": "",
  "property.state": state,
  "property.postalCode": "",
  "property.yearBuilt": null as number | null,
  "property.saltExposure": false,
  "property.accessNotes": "",
  words: "",
  title: "",
  hazard: "",
  source: "phone" as LeadSource,
});
export type Inquiry = ReturnType<typeof blank>;

function faults(v: Inquiry): { [K in keyof Inquiry]?: string | undefined } {
  const newCaller = v.customerId === "";
  const newPlace = v.propertyId === "";
  const answer = v["customer.phone"].trim() || v["customer.email"].trim();
  return {
    "customer.name": newCaller && !v["customer.name"].trim() ? "Enter the name." : undefined,
    "customer.phone":
      newCaller && !answer
        ? "Take a phone number or a mail address, so that somebody can answer."
        : undefined,
    "property.street": newPlace && !v["property.street"].trim() ? "Enter the street and number." : undefined,
    "property.city": newPlace && !v["property.city"].trim() ? "Enter the city." : undefined,
    "property.postalCode":
      newPlace && !v["property.postalCode"].trim() ? "Enter the postal code." : undefined,
    words: v.words.trim() || v.title.trim() ? undefined : "Say in a few words what is wrong.",
  };
}

const bodyOf = (v: Inquiry) => ({
  source: v.source,
  words: v.words,
  title: v.title.trim() || titleOf(v.words),
  hazard: orNull(v.hazard),
  ...(v.customerId
    ? { customerId: v.customerId }
    : {
        customer: {
          name: v["customer.name"],
          phone: orNull(v["customer.phone"]),
          email: orNull(v["customer.email"]),
        },
      }),
  ...(v.propertyId
    ? { propertyId: v.propertyId }
    : {
        property: {
          street: v["property.street"],
          city: v["property.city"],
          state: v["property.state"],
          postalCode: v["property.postalCode"],
          yearBuilt: v["property.yearBuilt"],
          saltExposure: v["property.saltExposure"],
          accessNotes: v["property.accessNotes"],
        },
      }),
});

/** One pass from top to bottom, in the order people tell it. */
export function InquiryForm({ onOpened }: { onOpened: (opened: Opened) => void }) {
  const { company } = useSession();
  const [{ customer }] = useSearchText();
  const create = useAct(api.createLead, { onDone: onOpened });
  const form = useForm({
    initial: blank(company.state, customer ?? ""),
    check: faults,
    submit: (values) => create.send({ body: bodyOf(values) }),
  });
  const leaving = useBlocker({
    shouldBlockFn: () => form.dirty && !create.busy,
    enableBeforeUnload: () => form.dirty,
    withResolver: true,
  });
  return (
    <div className="inquiry">
      <Form form={form} label="New inquiry">
        <CallerFields form={form} />
        <fieldset className="inquiry-part">
          <legend>What is wrong</legend>
          <TextArea label="In their words" rows={5} maxLength={4000} {...form.field("words")} />
          <TextField
            label="In short"
            hint={
              form.values.title.trim() || !form.values.words.trim()
                ? "Stands in the list, such as: main stair and landing."
                : `Left empty, the list says: ${titleOf(form.values.words)}`
            }
            optional
            maxLength={120}
            autoComplete="off"
            {...form.field("title")}
          />
          <TextField
            label="Danger"
            hint="Could somebody get hurt? Such as: tread loose. Tell them to keep people off it."
            optional
            maxLength={120}
            autoComplete="off"
            {...form.field("hazard")}
          />
        </fieldset>
        <PlaceFields form={form} />
        <fieldset className="inquiry-part">
          <legend>How it came</legend>
          <Select label="Source" options={LEAD_SOURCES} {...form.field("source")} />
        </fieldset>
        <FormActions form={form} submit="Open the job" />
      </Form>
      <ConfirmDialog
        title="Leave without saving?"
        open={leaving.status === "blocked"}
        onClose={() => leaving.reset?.()}
        confirm="Leave"
        alarm
        onConfirm={() => leaving.proceed?.()}
      >
        <p>What was typed about this caller would be lost.</p>
      </ConfirmDialog>
    </div>
  );
}
