import { Link } from "@tanstack/react-router";
import { useState } from "react";
import { useAct } from "../api/act.ts";
import { api } from "../api/generated/endpoints.ts";
import { Form, FormActions, useForm } from "../ui/form.tsx";
import { Page } from "../ui/page.tsx";
import { TextField } from "../ui/text-field.tsx";

export default function Forgot() {
  const [sentTo, setSentTo] = useState<string | null>(null);
  const ask = useAct(api.requestPasswordReset);
  const form = useForm({
    initial: { email: "" },
    check: ({ email }) => ({ email: email.trim() ? undefined : "Enter your mail address." }),
    submit: async ({ email }) => {
      await ask.send({ body: { email: email.trim() } });
      setSentTo(email.trim());
    },
  });
  return (
    <Page title="Forgot the password">
      {sentTo ? (
        <div role="status">
          <p>
            If <strong>{sentTo}</strong> belongs to a member, a link to set a new password is on its way
            there.
          </p>
          <p className="quiet">Nothing after a few minutes? Look among the unwanted mail, then try again.</p>
        </div>
      ) : (
        <Form form={form}>
          <TextField
            label="Mail address"
            type="email"
            autoComplete="username"
            hint="A link to set a new password is mailed there."
            {...form.field("email")}
          />
          <FormActions form={form} submit="Mail the link" />
        </Form>
      )}
      <p className="after">
        <Link to="/sign-in">Back to the sign-in</Link>
      </p>
    </Page>
  );
}
