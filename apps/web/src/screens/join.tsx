import type { readInvitation } from "@ledgerboard/contracts/identity";
import { useQuery } from "@tanstack/react-query";
import { useAct } from "../api/act.ts";
import { api } from "../api/generated/endpoints.ts";
import { isProblem } from "../api/problem.ts";
import { q } from "../api/queries.ts";
import type { Output } from "../api/wire.ts";
import { useEnter } from "../app/enter.ts";
import { useParam } from "../app/params.ts";
import { Form, FormActions, useForm } from "../ui/form.tsx";
import { sentence, words } from "../ui/format.ts";
import { Page } from "../ui/page.tsx";
import { Loaded } from "../ui/states.tsx";
import { TextField } from "../ui/text-field.tsx";

export default function Join() {
  const token = useParam("token");
  const offer = useQuery(q.offer(token));
  if (!offer.data)
    return (
      <Page title="Join a company">
        <Loaded query={offer} rows={3}>
          {() => null}
        </Loaded>
        {isProblem(offer.error, "gone") && (
          <p>Invitations end after a while. Ask whoever invited you to send another one.</p>
        )}
      </Page>
    );
  return <JoinForm token={token} offer={offer.data} />;
}

function JoinForm({ token, offer }: { token: string; offer: Output<typeof readInvitation> }) {
  const enter = useEnter();
  const accept = useAct(api.acceptInvitation, { onDone: (session) => enter(session) });
  const form = useForm({
    initial: { name: offer.name, password: "" },
    check: ({ name, password }) => ({
      name: name.trim() ? undefined : "Enter your name.",
      password: password.length < 12 ? "At least 12 characters." : undefined,
    }),
    submit: ({ name, password }) => accept.send({ body: { token, name: name.trim(), password } }),
  });
  return (
    <Page
      title={`Join ${offer.companyName}`}
      lead={`${sentence(offer.roles.map(words).join(", "))}. You will sign in as ${offer.email}.`}
    >
      <Form form={form}>
        <TextField label="Your name" autoComplete="name" {...form.field("name")} />
        <TextField
          label="Password"
          type="password"
          autoComplete="new-password"
          hint="At least 12 characters. A few words in a row are easy to keep in mind."
          {...form.field("password")}
        />
        <FormActions form={form} submit="Join" />
      </Form>
    </Page>
  );
}
