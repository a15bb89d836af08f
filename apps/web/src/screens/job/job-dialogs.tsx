import { useQuery } from "@tanstack/react-query";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { q } from "../../api/queries.ts";
import { ConfirmDialog, ReasonDialog } from "../../ui/confirm-dialog.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, orNull, useForm } from "../../ui/form.tsx";
import { Select } from "../../ui/select.tsx";
import { TextField } from "../../ui/text-field.tsx";
import type { Asking } from "./asking.ts";

/** Members to choose from, with one who left kept while he is still chosen. */
export function useMembers(chosen?: { id: string; name: string } | null): { value: string; label: string }[] {
  const members = useQuery(q.members()).data?.items ?? [];
  const here = members.filter((one) => one.active).map(({ id, name }) => ({ value: id, label: name }));
  if (!chosen || here.some(({ value }) => value === chosen.id)) return here;
  return [...here, { value: chosen.id, label: chosen.name }];
}

export function EditJobDialog({ job, onClose }: Asking) {
  const save = useAct(api.updateJob, { done: "Saved." });
  const sales = useMembers(job.salesperson);
  const seniors = useMembers(job.estimator);
  const form = useForm({
    initial: {
      title: job.title,
      hazard: job.hazard ?? "",
      salespersonId: job.salesperson?.id ?? "",
      estimatorId: job.estimator?.id ?? "",
    },
    version: job.version,
    check: ({ title }) => ({ title: title.trim() ? undefined : "Say in a few words what the work is on." }),
    submit: async ({ title, hazard, salespersonId, estimatorId }, version) => {
      await save.send({
        params: { jobId: job.id },
        version,
        body: {
          title,
          hazard: orNull(hazard),
          salespersonId: orNull(salespersonId),
          estimatorId: orNull(estimatorId),
        },
      });
      onClose();
    },
  });
  return (
    <Dialog title={`Edit ${job.number}`} open onClose={onClose}>
      <Form form={form}>
        <TextField label="The work is on" maxLength={120} {...form.field("title")} />
        <TextField
          label="Danger"
          hint="What could hurt somebody, such as: tread loose. It moves the job up the list."
          optional
          maxLength={120}
          {...form.field("hazard")}
        />
        <div className="pair">
          <Select label="Sales" options={sales} empty="nobody yet" {...form.field("salespersonId")} />
          <Select
            label="Senior estimator"
            options={seniors}
            empty="nobody yet"
            {...form.field("estimatorId")}
          />
        </div>
        <FormActions form={form} submit="Save" cancel={onClose} always={false} />
      </Form>
    </Dialog>
  );
}

export function PinDialog({ job, onClose }: Asking) {
  const pin = useAct(api.pinJob, { done: "Pinned." });
  return (
    <ReasonDialog
      title={`Pin ${job.number} to the head of the list`}
      open
      onClose={onClose}
      confirm="Pin it"
      hint="Everybody sees it with the job."
      onReason={(why) => pin.send({ params: { jobId: job.id }, body: { why } })}
    />
  );
}

export function UnpinDialog({ job, onClose }: Asking) {
  const pin = useAct(api.pinJob, { done: "Back in its place.", onDone: onClose });
  return (
    <ConfirmDialog
      title={`Let go of ${job.number}`}
      open
      onClose={onClose}
      confirm="Let go"
      busy={pin.busy}
      onConfirm={() => pin.act({ params: { jobId: job.id }, body: { why: null } })}
    >
      <p>It was pinned because: {job.pinnedWhy}</p>
    </ConfirmDialog>
  );
}
