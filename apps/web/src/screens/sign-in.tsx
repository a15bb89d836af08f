import { Link } from "@tanstack/react-router";
import { useState } from "react";
import { useAct } from "../api/act.ts";
import { api } from "../api/generated/endpoints.ts";
import { isProblem } from "../api/problem.ts";
import { useEnter } from "../app/enter.ts";
import { useSearchText } from "../app/search.ts";
import { RadioGroup } from "../ui/choices.tsx";
import { Form, FormActions, useForm } from "../ui/form.tsx";
import { Page } from "../ui/page.tsx";
import { TextField } from "../ui/text-field.tsx";

export default function SignIn() {
  const [{ next }] = useSearchText();
  const enter = useEnter();
  const signIn = useAct(api.signIn, { onDone: (session) => enter(session, next) });
  const [companies, setCompanies] = useState<{ slug: string; name: string }[]>([]);
  const form = useForm({
    initial: { email: "", password: "", company: "" },
    check: ({ email, password, company }) => ({
      email: email.trim() ? undefined : "Enter your mail address.",
      password: password ? undefined : "Enter the password.",
      company: companies.length > 0 && !company ? "Choose one." : undefined,
    }),
    submit: async ({ email, password, company }) => {
      try {
        await signIn.send({ body: { email: email.trim(), password, ...(company && { company }) } });
      } catch (error) {
        if (!isProblem(error, "choose-company")) throw error;
        setCompanies(error.document.companies ?? []);
      }
    },
  });
  return (
    <Page title="Sign in" lead={next ? "Sign in to go on where you were." : undefined}>
      <Form form={form}>
        <TextField label="Mail address" type="email" autoComplete="username" {...form.field("email")} />
        <TextField
          label="Password"
          type="password"
          autoComplete="current-password"
          {...form.field("password")}
        />
        {companies.length > 0 && (
          <RadioGroup
            label="You belong to several companies: which one?"
            options={companies.map(({ slug, name }) => ({ value: slug, label: name }))}
            {...form.field("company")}
          />
        )}
        <FormActions form={form} submit="Sign in" />
      </Form>
      <p className="after">
        <Link to="/forgot">Forgot the password?</Link>
        <br />
        New here? <Link to="/sign-up">Open a company</Link>
      </p>
    </Page>
  );
}
