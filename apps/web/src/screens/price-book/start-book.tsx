import { addDays } from "@ledgerboard/contracts/dates";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useSession } from "../../app/session.ts";
import { DayField } from "../../ui/day-field.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { longDay } from "../../ui/format.ts";
import { TextField } from "../../ui/text-field.tsx";

/** A copy of the newest book that takes effect on a later day. */
export function StartBook({
  newest,
  onClose,
  onStarted,
}: {
  newest: { name: string; effectiveFrom: string };
  onClose: () => void;
  onStarted: (bookId: string) => void;
}) {
  return (
    <Dialog title="Start a new price book" open onClose={onClose}>
      <StartForm newest={newest} onClose={onClose} onStarted={onStarted} />
    </Dialog>
  );
}

function StartForm({ newest, onClose, onStarted }: Parameters<typeof StartBook>[0]) {
  const { today } = useSession();
  const start = useAct(api.startPriceBook, { done: "The new price book is started." });
  // Days as text sort as days.
  const later = [newest.effectiveFrom, today].toSorted()[1] ?? today;
  const first = addDays(later, 1);
  const form = useForm({
    initial: { name: "", effectiveFrom: "" },
    check: ({ name, effectiveFrom }) => ({
      name: name.trim() ? undefined : "Give the book a name.",
      effectiveFrom: effectiveFrom >= first ? undefined : `A day from ${longDay(first)}.`,
    }),
    submit: async (body) => {
      const { id } = await start.send({ body });
      onClose();
      onStarted(id);
    },
  });
  return (
    <Form form={form}>
      <p>
        It begins as a copy of {newest.name}. Change its prices in peace: until its day comes, estimates are
        priced from the book in effect.
      </p>
      <TextField
        label="Name"
        hint="Such as: Spring prices"
        autoFocus
        maxLength={80}
        {...form.field("name")}
      />
      <DayField label="Takes effect on" min={first} {...form.field("effectiveFrom")} />
      <FormActions form={form} submit="Start the book" cancel={onClose} />
    </Form>
  );
}
