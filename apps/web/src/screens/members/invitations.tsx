import type { Invitation } from "@ledgerboard/contracts/identity";
import type { Role } from "@ledgerboard/contracts/vocabulary";
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { q } from "../../api/queries.ts";
import { useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { CheckboxGroup } from "../../ui/choices.tsx";
import { ConfirmDialog } from "../../ui/confirm-dialog.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { moment, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { Loaded } from "../../ui/states.tsx";
import { Table } from "../../ui/table.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { needRole, ROLE_CHOICES } from "./roles.ts";

export function Invitations() {
  const { company } = useSession();
  const invitations = useQuery(q.invitations());
  const [revoking, setRevoking] = useState<Invitation | null>(null);
  const revoke = useAct(api.revokeInvitation, { done: "The invitation is taken back." });
  return (
    <Section title="Invitations">
      <Loaded query={invitations} rows={2}>
        {({ items }) =>
          items.length === 0 ? (
            <p className="quiet">Nobody is invited at the moment.</p>
          ) : (
            <Table<Invitation>
              caption="Invitations"
              rows={items}
              rowKey={(one) => one.id}
              columns={[
                { title: "Name", cell: (one) => one.name },
                { title: "Mail", cell: (one) => one.email },
                { title: "Roles", cell: (one) => one.roles.map(words).join(", ") },
                { title: "State", cell: (one) => one.state },
                { title: "Holds until", cell: (one) => moment(one.expiresAt, company.timezone) },
                {
                  title: "Take back",
                  silent: true,
                  num: true,
                  cell: (one) =>
                    one.state === "open" && (
                      <Button small kind="text" onPress={() => setRevoking(one)}>
                        Take back
                      </Button>
                    ),
                },
              ]}
            />
          )
        }
      </Loaded>
      {revoking && (
        <ConfirmDialog
          title={`Take back the invitation of ${revoking.name}`}
          open
          alarm
          confirm="Take it back"
          busy={revoke.busy}
          onClose={() => setRevoking(null)}
          onConfirm={() => {
            revoke.act({ params: { invitationId: revoking.id } });
            setRevoking(null);
          }}
        >
          <p>The link in the mail stops working. You can invite {revoking.name} again.</p>
        </ConfirmDialog>
      )}
    </Section>
  );
}

export function InviteDialog({ onClose }: { onClose: () => void }) {
  const invite = useAct(api.invite, {
    done: (one) => `${one.name} is invited; the link holds for seven days.`,
  });
  const form = useForm({
    initial: { name: "", email: "", roles: [] as Role[] },
    check: ({ name, email, roles }) => ({
      name: name.trim() ? undefined : "Enter a name.",
      email: email.trim() ? undefined : "Enter a mail address.",
      roles: needRole(roles),
    }),
    submit: async (body) => {
      await invite.send({ body });
      onClose();
    },
  });
  return (
    <Dialog title="Invite somebody" open onClose={onClose}>
      <Form form={form}>
        <TextField label="Name" autoComplete="off" maxLength={80} {...form.field("name")} />
        <TextField label="Mail address" type="email" autoComplete="off" {...form.field("email")} />
        <CheckboxGroup label="Roles" options={ROLE_CHOICES} {...form.field("roles")} />
        <FormActions form={form} submit="Send the invitation" cancel={onClose} />
      </Form>
    </Dialog>
  );
}
