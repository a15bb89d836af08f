import { useQuery } from "@tanstack/react-query";
import { useEffect } from "react";
import { q } from "../../api/queries.ts";
import { Checkbox, RadioGroup } from "../../ui/choices.tsx";
import type { FormState } from "../../ui/form.tsx";
import { WholeField } from "../../ui/number-fields.tsx";
import { Select } from "../../ui/select.tsx";
import { TextArea, TextField } from "../../ui/text-field.tsx";
import { STATES } from "../../ui/us-places.ts";
import { addressOf } from "../customer/property-facts.tsx";
import type { Inquiry } from "./inquiry-form.tsx";

/** Where the work is: a property of a known caller, or a new address. */
export function PlaceFields({ form }: { form: FormState<Inquiry> }) {
  const { customerId, propertyId } = form.values;
  const known = useQuery({ ...q.customer(customerId), enabled: customerId !== "" });
  const properties = customerId ? (known.data?.properties ?? []) : [];
  const first = properties[0]?.id;
  // Most people call about the place they called about before.
  // biome-ignore lint/correctness/useExhaustiveDependencies: once for each caller; later choices stay
  useEffect(() => {
    if (first && form.values["property.street"] === "") form.set("propertyId", first);
  }, [first]);
  return (
    <fieldset className="inquiry-part">
      <legend>Where</legend>
      {properties.length > 0 && (
        <RadioGroup
          label="Property"
          options={[
            ...properties.map((one) => ({ value: one.id, label: addressOf(one) })),
            { value: "", label: "another address" },
          ]}
          {...form.field("propertyId")}
        />
      )}
      {propertyId === "" && (
        <>
          <TextField
            label="Street and number"
            autoComplete="off"
            maxLength={120}
            {...form.field("property.street")}
          />
          <div className="pair inquiry-place-line">
            <TextField label="City" autoComplete="off" maxLength={80} {...form.field("property.city")} />
            <Select label="State" options={STATES} {...form.field("property.state")} />
            <TextField
              label="Postal code"
              inputMode="numeric"
              autoComplete="off"
              {...form.field("property.postalCode")}
            />
          </div>
          <div className="pair">
            <WholeField label="Year built" optional {...form.field("property.yearBuilt")} />
            <Checkbox
              label="Salt"
              hint="within 300 ft of salt water"
              {...form.field("property.saltExposure")}
            />
          </div>
          <TextArea
            label="Access"
            hint="Gate, dog, parking"
            rows={2}
            optional
            {...form.field("property.accessNotes")}
          />
        </>
      )}
    </fieldset>
  );
}
