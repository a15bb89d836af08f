import { Link } from "@tanstack/react-router";
import { useAct } from "../api/act.ts";
import { api } from "../api/generated/endpoints.ts";
import { useEnter } from "../app/enter.ts";
import { Form, FormActions, useForm } from "../ui/form.tsx";
import { Page } from "../ui/page.tsx";
import { Select } from "../ui/select.tsx";
import { TextField } from "../ui/text-field.tsx";
import { likelyTimeZone, STATES, TIME_ZONES } from "../ui/us-places.ts";

export default function SignUp() {
  const enter = useEnter();
  const signUp = useAct(api.signUp, { onDone: (session) => enter(session) });
  const form = useForm({
    initial: { companyName: "", state: "", timezone: likelyTimeZone(), name: "", email: "", password: "" },
    check: ({ state }) => ({ state: state ? undefined : "Choose the state." }),
    submit: (body) => signUp.send({ body }),
  });
  return (
    <Page title="Open a company" lead="You become its owner and can invite the others.">
      <Form form={form}>
        <TextField label="Name of the company" autoComplete="organization" {...form.field("companyName")} />
        <div className="pair">
          <Select
            label="State"
            hint="Decides how much deposit may be asked."
            empty="Choose"
            options={STATES}
            {...form.field("state")}
          />
          <Select label="Time zone" options={TIME_ZONES} {...form.field("timezone")} />
        </div>
        <TextField label="Your name" autoComplete="name" {...form.field("name")} />
        <TextField label="Mail address" type="email" autoComplete="username" {...form.field("email")} />
        <TextField
          label="Password"
          type="password"
          autoComplete="new-password"
          hint="At least 12 characters. A few words in a row are easy to keep in mind."
          {...form.field("password")}
        />
        <FormActions form={form} submit="Open the company" />
      </Form>
      <p className="after">
        Already a member? <Link to="/sign-in">Sign in</Link>
      </p>
    </Page>
  );
}
