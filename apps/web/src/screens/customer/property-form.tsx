import type { Property } from "@ledgerboard/contracts/customers";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { Checkbox } from "../../ui/choices.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { WholeField } from "../../ui/number-fields.tsx";
import { Select } from "../../ui/select.tsx";
import { TextArea, TextField } from "../../ui/text-field.tsx";
import { STATES } from "../../ui/us-places.ts";
import { editCoordinates, parseCoordinates } from "./coordinates.ts";

const WRONG_PLACE = "Latitude and longitude like 38.9784, -76.4922.";

/** Corrects what is known of a property. */
export function PropertyForm({
  property,
  onDone,
  cancel,
}: {
  property: Property;
  onDone: () => void;
  cancel: () => void;
}) {
  const save = useAct(api.updateProperty, { done: "Saved." });
  const form = useForm({
    initial: {
      street: property.street,
      city: property.city,
      state: property.state,
      postalCode: property.postalCode,
      coordinates: editCoordinates(property),
      yearBuilt: property.yearBuilt,
      saltExposure: property.saltExposure,
      accessNotes: property.accessNotes,
    },
    version: property.version,
    check: ({ street, city, coordinates }) => ({
      street: street.trim() ? undefined : "Enter the street and number.",
      city: city.trim() ? undefined : "Enter the city.",
      coordinates: parseCoordinates(coordinates) ? undefined : WRONG_PLACE,
    }),
    submit: async ({ coordinates, ...values }, version) => {
      const place = parseCoordinates(coordinates);
      await save.send({ params: { propertyId: property.id }, version, body: { ...values, ...place } });
      onDone();
    },
  });
  return (
    <Form form={form}>
      <TextField label="Street and number" maxLength={120} autoComplete="off" {...form.field("street")} />
      <div className="pair">
        <TextField label="City" maxLength={80} autoComplete="off" {...form.field("city")} />
        <Select label="State" options={STATES} {...form.field("state")} />
        <TextField label="Postal code" inputMode="numeric" autoComplete="off" {...form.field("postalCode")} />
      </div>
      <div className="pair">
        <WholeField label="Year built" optional {...form.field("yearBuilt")} />
        <TextField
          label="Coordinates"
          hint="Latitude, longitude"
          optional
          autoComplete="off"
          {...form.field("coordinates")}
        />
      </div>
      <Checkbox
        label="Salt"
        hint="within 300 ft of salt water, or otherwise wet with salt"
        {...form.field("saltExposure")}
      />
      <TextArea
        label="Access"
        hint="Gate, dog, parking, where the boards may lie"
        rows={3}
        optional
        {...form.field("accessNotes")}
      />
      <FormActions form={form} submit="Save" cancel={cancel} always={false} />
    </Form>
  );
}
