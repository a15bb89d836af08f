import type { Customer } from "@ledgerboard/contracts/customers";
import { useQuery } from "@tanstack/react-query";
import { useEffect, useRef } from "react";
import { q } from "../../api/queries.ts";
import { Button } from "../../ui/button.tsx";
import type { FormState } from "../../ui/form.tsx";
import { TextField } from "../../ui/text-field.tsx";
import type { Inquiry } from "./inquiry-form.tsx";
import { useMatches } from "./use-matches.ts";

/** Who calls: somebody known, found while typing, or somebody new. */
export function CallerFields({ form }: { form: FormState<Inquiry> }) {
  const { customerId } = form.values;
  const choose = (id: string, propertyId: string) => {
    form.set("customerId", id);
    form.set("propertyId", propertyId);
  };
  const part = useRef<HTMLFieldSetElement>(null);
  // The first field, not the heading, and after a choice what can be done about it: people are talking.
  // biome-ignore lint/correctness/useExhaustiveDependencies: whenever the caller becomes somebody else
  useEffect(() => {
    const frame = requestAnimationFrame(() =>
      part.current?.querySelector<HTMLElement>("input, button")?.focus(),
    );
    return () => cancelAnimationFrame(frame);
  }, [customerId]);
  return (
    <fieldset ref={part} className="inquiry-part inquiry-caller">
      <legend>Who calls</legend>
      {customerId ? (
        <Known customerId={customerId} onChange={() => choose("", "")} />
      ) : (
        <>
          <TextField
            label="Name"
            autoFocus
            autoComplete="off"
            maxLength={120}
            {...form.field("customer.name")}
          />
          <div className="pair">
            <TextField label="Phone" type="tel" autoComplete="off" {...form.field("customer.phone")} />
            <TextField
              label="Mail address"
              type="email"
              autoComplete="off"
              {...form.field("customer.email")}
            />
          </div>
          <Matches form={form} onChoose={(one) => choose(one.id, "")} />
        </>
      )}
    </fieldset>
  );
}

function Matches({ form, onChoose }: { form: FormState<Inquiry>; onChoose: (one: Customer) => void }) {
  const { values } = form;
  const found = useMatches({
    name: values["customer.name"],
    phone: values["customer.phone"],
    email: values["customer.email"],
  });
  return (
    <div className="inquiry-known">
      <p role="status" className={found.length > 0 ? undefined : "sr"}>
        {found.length > 0 ? "Somebody known?" : "Nobody known by that."}
      </p>
      <ul className="plain">
        {found.map((one) => (
          <li key={one.id}>
            <span>
              <b>{one.name}</b>
              <small className="quiet block">{[one.phone, one.email].filter(Boolean).join(" · ")}</small>
            </span>
            <Button small onPress={() => onChoose(one)} aria-label={`It is ${one.name}`}>
              It is them
            </Button>
          </li>
        ))}
      </ul>
    </div>
  );
}

function Known({ customerId, onChange }: { customerId: string; onChange: () => void }) {
  const customer = useQuery(q.customer(customerId)).data;
  return (
    <div className="inquiry-chosen">
      <p>
        <b>{customer?.name ?? "…"}</b>
        <small className="quiet block">
          {[customer?.phone, customer?.email].filter(Boolean).join(" · ")}
        </small>
        {customer?.notes && <small className="block kept-lines">{customer.notes}</small>}
      </p>
      <Button small onPress={onChange}>
        Somebody else
      </Button>
    </div>
  );
}
