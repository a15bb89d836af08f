import type { ReactNode } from "react";
import { Button } from "./button.tsx";
import { Dialog } from "./dialog.tsx";
import { Form, FormActions, useForm } from "./form.tsx";
import { TextArea } from "./text-field.tsx";

interface Asked {
  title: string;
  open: boolean;
  onClose: () => void;
  /** What will happen. */
  children?: ReactNode;
  /** Words of the act: "Cancel the booking". */
  confirm: string;
  alarm?: boolean;
}

/** Asks before an act that cannot be taken back. `onConfirm` should close it. */
export function ConfirmDialog({
  children,
  confirm,
  onConfirm,
  busy,
  alarm,
  ...dialog
}: Asked & { onConfirm: () => void; busy?: boolean }) {
  return (
    <Dialog {...dialog} urgent>
      {children}
      <div className="row">
        <Button kind="main" alarm={alarm} busy={busy} onPress={onConfirm}>
          {confirm}
        </Button>
        <Button onPress={dialog.onClose} autoFocus>
          Leave it
        </Button>
      </div>
    </Dialog>
  );
}

/** Asks why; closes when the service has taken it. The reason is sent as `why` unless named otherwise. */
export function ReasonDialog({
  label = "Why",
  hint,
  onReason,
  ...dialog
}: Asked & { label?: string; hint?: string; onReason: (why: string) => Promise<unknown> }) {
  return (
    <Dialog {...dialog}>
      <ReasonForm {...dialog} label={label} hint={hint} onReason={onReason} />
    </Dialog>
  );
}

function ReasonForm({
  children,
  confirm,
  alarm,
  label,
  hint,
  onReason,
  onClose,
}: Asked & { label: string; hint: string | undefined; onReason: (why: string) => Promise<unknown> }) {
  const form = useForm({
    initial: { why: "" },
    check: ({ why }) => ({ why: why.trim().length < 3 ? "Say why in a few words." : undefined }),
    submit: async ({ why }) => {
      await onReason(why.trim());
      onClose();
    },
  });
  return (
    <Form form={form}>
      {children}
      <TextArea label={label} hint={hint} rows={3} autoFocus {...form.field("why")} />
      <FormActions form={form} submit={confirm} cancel={onClose} alarm={alarm ?? false} />
    </Form>
  );
}
