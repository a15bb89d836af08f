import type { publicCompany } from "@ledgerboard/contracts/jobs";
import { useEffect, useRef, useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import type { Output } from "../../api/wire.ts";
import { Checkbox } from "../../ui/choices.tsx";
import { Form, FormActions, orNull, useForm } from "../../ui/form.tsx";
import { TextArea, TextField } from "../../ui/text-field.tsx";
import { STATES } from "../../ui/us-places.ts";

type Company = Output<typeof publicCompany>;

const blank = {
  words: "",
  unsafe: false,
  name: "",
  phone: "",
  email: "",
  street: "",
  city: "",
  postalCode: "",
  website: "",
};

const faults = (v: typeof blank) => ({
  words: v.words.trim().length < 5 ? "Say in a few words what needs work." : undefined,
  name: v.name.trim() ? undefined : "Enter your name.",
  phone: v.phone.trim() || v.email.trim() ? undefined : "Leave a phone number or a mail address.",
  street: v.street.trim() ? undefined : "Enter the street and number.",
  city: v.city.trim() ? undefined : "Enter the city.",
  postalCode: /^\d{5}(-\d{4})?$/.test(v.postalCode.trim()) ? undefined : "Five digits, like 21401.",
});

/** The questions a customer is asked, and the thanks afterwards. */
export function AskForm({ slug, company }: { slug: string; company: Company }) {
  const shownAt = useRef(performance.now());
  const [thanked, setThanked] = useState<{ name: string; unsafe: boolean } | null>(null);
  const ask = useAct(api.publicInquiry);
  const form = useForm({
    initial: blank,
    check: faults,
    submit: async ({ phone, email, ...values }) => {
      const filledInMs = Math.round(performance.now() - shownAt.current);
      await ask.send({
        params: { slug },
        body: { ...values, phone: orNull(phone), email: orNull(email), filledInMs },
      });
      setThanked({ name: values.name.trim(), unsafe: values.unsafe });
    },
  });
  if (thanked) return <Thanks company={company} {...thanked} />;
  const state = STATES.find(({ value }) => value === company.state)?.label ?? company.state;
  return (
    <div className="ask">
      <p className="ask-company">{company.name}</p>
      <h1>What needs work?</h1>
      <p className="quiet">
        Decks, porches, stairs and rails.{" "}
        {company.phone && (
          <>
            You may also call <a href={`tel:${company.phone.replace(/[^\d+]/g, "")}`}>{company.phone}</a>.
          </>
        )}
      </p>
      <Form form={form} label="What needs work">
        <TextArea
          label="What is wrong, or what would you like?"
          hint="Where it is, how large, since when: whatever comes to mind."
          rows={5}
          maxLength={4000}
          {...form.field("words")}
        />
        <Checkbox label="Somebody could get hurt on it" {...form.field("unsafe")} />
        {form.values.unsafe && <KeepOff />}
        <TextField label="Your name" autoComplete="name" maxLength={120} {...form.field("name")} />
        <div className="pair">
          <TextField label="Phone" type="tel" autoComplete="tel" {...form.field("phone")} />
          <TextField label="Mail address" type="email" autoComplete="email" {...form.field("email")} />
        </div>
        <p className="hint ask-one">One of the two is enough.</p>
        <TextField
          label="Street and number"
          hint="Where the work is."
          autoComplete="address-line1"
          maxLength={120}
          {...form.field("street")}
        />
        <div className="pair">
          <TextField label="City" autoComplete="address-level2" maxLength={80} {...form.field("city")} />
          <TextField
            label="Postal code"
            hint={state}
            inputMode="numeric"
            autoComplete="postal-code"
            {...form.field("postalCode")}
          />
        </div>
        <Trap value={form.values.website} onChange={(text) => form.set("website", text)} />
        <FormActions form={form} submit="Send it" />
        <p className="hint">
          {company.name} uses what you write here to answer you and to plan the work. Nothing is ordered by
          sending it.
        </p>
      </Form>
    </div>
  );
}

const KeepOff = () => (
  <div className="notice alarm" role="status">
    <p>Keep people off it until somebody has looked.</p>
    <p>Block the way if you can. If anybody is hurt or something is about to fall, call 911 first.</p>
  </div>
);

/** Not for people: out of sight, out of the tab order, not read out. Programs fill it in. */
const Trap = ({ value, onChange }: { value: string; onChange: (text: string) => void }) => (
  <div className="ask-trap" aria-hidden="true">
    <label>
      Website
      <input
        type="text"
        name="website"
        tabIndex={-1}
        autoComplete="off"
        maxLength={200}
        value={value}
        onChange={(event) => onChange(event.target.value)}
      />
    </label>
  </div>
);

function Thanks({ company, name, unsafe }: { company: Company; name: string; unsafe: boolean }) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  return (
    <div className="ask">
      <p className="ask-company">{company.name}</p>
      <h1 ref={heading} tabIndex={-1}>
        Thank you, {name}
      </h1>
      <p>
        It has arrived. Somebody of {company.name} will call or write to you
        {company.phone && (
          <>
            ; if it is urgent, call{" "}
            <a href={`tel:${company.phone.replace(/[^\d+]/g, "")}`}>{company.phone}</a>
          </>
        )}
        .
      </p>
      {unsafe && <KeepOff />}
    </div>
  );
}
