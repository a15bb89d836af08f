import { Link, useNavigate } from "@tanstack/react-router";
import { useAct } from "../api/act.ts";
import { api } from "../api/generated/endpoints.ts";
import { isProblem } from "../api/problem.ts";
import { useParam } from "../app/params.ts";
import { Form, FormActions, useForm } from "../ui/form.tsx";
import { Page } from "../ui/page.tsx";
import { TextField } from "../ui/text-field.tsx";

export default function Reset() {
  const token = useParam("token");
  const navigate = useNavigate();
  const confirm = useAct(api.confirmPasswordReset, {
    done: "The new password is set. Sign in with it.",
    onDone: () => void navigate({ to: "/sign-in" }),
  });
  const form = useForm({
    initial: { password: "" },
    check: ({ password }) => ({ password: password.length < 12 ? "At least 12 characters." : undefined }),
    submit: ({ password }) => confirm.send({ body: { token, password } }),
  });
  return (
    <Page title="Set a new password" lead="You are then signed out everywhere else.">
      <Form form={form}>
        <TextField
          label="New password"
          type="password"
          autoComplete="new-password"
          hint="At least 12 characters. A few words in a row are easy to keep in mind."
          {...form.field("password")}
        />
        <FormActions form={form} submit="Set the password" />
      </Form>
      {(isProblem(form.error, "gone") || form.loose.length > 0) && (
        <p className="after">
          <Link to="/forgot">Ask for another link</Link>
        </p>
      )}
    </Page>
  );
}
