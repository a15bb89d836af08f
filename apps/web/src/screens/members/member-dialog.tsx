import type { Member } from "@ledgerboard/contracts/identity";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { Checkbox, CheckboxGroup } from "../../ui/choices.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { needRole, ROLE_CHOICES } from "./roles.ts";

/** Changes what a member may do. Taking access away signs the person out everywhere. */
export function MemberDialog({ member, onClose }: { member: Member; onClose: () => void }) {
  const save = useAct(api.updateMember, { done: "Saved." });
  const form = useForm({
    initial: { name: member.name, roles: [...member.roles], active: member.active },
    version: member.version,
    check: ({ name, roles }) => ({ name: name.trim() ? undefined : "Enter a name.", roles: needRole(roles) }),
    submit: async (body, version) => {
      await save.send({ params: { memberId: member.id }, version, body });
      onClose();
    },
  });
  return (
    <Dialog title={member.name} open onClose={onClose}>
      <Form form={form}>
        <TextField label="Name" maxLength={80} {...form.field("name")} />
        <CheckboxGroup label="Roles" options={ROLE_CHOICES} {...form.field("roles")} />
        <Checkbox
          label="Has access"
          hint="Untick to take access away; the person is signed out at once. What they did stays on record."
          {...form.field("active")}
        />
        <FormActions form={form} submit="Save" cancel={onClose} always={false} />
      </Form>
    </Dialog>
  );
}
