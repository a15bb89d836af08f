import { CLOSE_REASONS, type CloseReason } from "@ledgerboard/contracts/vocabulary";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useSession } from "../../app/session.ts";
import { RadioGroup } from "../../ui/choices.tsx";
import { ReasonDialog } from "../../ui/confirm-dialog.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { day, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { TextArea } from "../../ui/text-field.tsx";
import { Act } from "./act.tsx";
import { type Asking, useJob } from "./asking.ts";

/** The way out of a job that comes to nothing, and back. */
export function ClosingPart() {
  const { job } = useJob();
  const { today } = useSession();
  if (job.closed)
    return (
      <Section id="closing" title="Closed" acts={<Act name="reopen_job" small />}>
        <p>
          {day(job.closed.on, today)}, {words(job.closed.reason)}.{" "}
          {job.closed.note && <span className="kept-lines">{job.closed.note}</span>}
        </p>
      </Section>
    );
  return (
    <Section id="closing" title="Close without work">
      <Act name="close_job" small alarm />
    </Section>
  );
}

export function CloseDialog({ job, onClose }: Asking) {
  const close = useAct(api.closeJob, { done: `${job.number} is closed.` });
  const form = useForm({
    initial: { reason: "" as CloseReason | "", note: "" },
    check: ({ reason }) => ({ reason: reason ? undefined : "Choose a reason." }),
    submit: async ({ reason, note }) => {
      if (reason) await close.send({ params: { jobId: job.id }, body: { reason, note } });
      onClose();
    },
  });
  return (
    <Dialog title={`Close ${job.number}`} open onClose={onClose}>
      <Form form={form}>
        <p>
          An open quote is withdrawn, a booking and visits that have not begun are cancelled. The job can be
          taken up again.
        </p>
        <RadioGroup label="Why" options={CLOSE_REASONS} {...form.field("reason")} />
        <TextArea label="Note" optional rows={3} maxLength={500} {...form.field("note")} />
        <FormActions form={form} submit="Close the job" cancel={onClose} alarm />
      </Form>
    </Dialog>
  );
}

export function ReopenDialog({ job, onClose }: Asking) {
  const reopen = useAct(api.reopenJob, { done: `${job.number} is taken up again.` });
  return (
    <ReasonDialog
      title={`Take ${job.number} up again`}
      open
      onClose={onClose}
      confirm="Take it up again"
      onReason={(why) => reopen.send({ params: { jobId: job.id }, body: { why } })}
    />
  );
}
