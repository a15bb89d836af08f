import type { Zone } from "@ledgerboard/contracts/jobs";
import { EVIDENCE, type Evidence, ZONE_KINDS, type ZoneKind } from "@ledgerboard/contracts/vocabulary";
import { Link } from "@tanstack/react-router";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { ConfirmDialog } from "../../ui/confirm-dialog.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { DecimalField } from "../../ui/number-fields.tsx";
import { Select } from "../../ui/select.tsx";
import { TextArea, TextField } from "../../ui/text-field.tsx";
import type { Asking } from "./asking.ts";

export function AddZoneDialog({ job, onClose }: Asking) {
  return (
    <Dialog title={`A zone for ${job.number}`} open onClose={onClose}>
      <ZoneForm jobId={job.id} onClose={onClose} />
    </Dialog>
  );
}

export function EditZoneDialog({ job, id, onClose }: Asking) {
  const zone = job.zones.find((one) => one.id === id);
  if (!zone) return null;
  return (
    <Dialog title={`Correct ${zone.name}`} open onClose={onClose}>
      <ZoneForm jobId={job.id} zone={zone} onClose={onClose} />
    </Dialog>
  );
}

function ZoneForm({ jobId, zone, onClose }: { jobId: string; zone?: Zone; onClose: () => void }) {
  const add = useAct(api.addZone, { done: "The zone is added." });
  const save = useAct(api.updateZone, { done: "Saved." });
  const drawn = Boolean(zone?.geometry?.outline);
  const form = useForm({
    initial: {
      name: zone?.name ?? "",
      kind: (zone?.kind ?? "deck") as ZoneKind,
      lengthFt: zone?.lengthFt ?? null,
      widthFt: zone?.widthFt ?? null,
      heightFt: zone?.heightFt ?? null,
      evidence: (zone?.evidence ?? "assumed") as Evidence,
      notes: zone?.notes ?? "",
    },
    version: zone?.version,
    check: ({ name }) => ({ name: name.trim() ? undefined : "Name it, for example: lower deck." }),
    submit: async ({ lengthFt, widthFt, heightFt, ...rest }, version) => {
      // A drawing says the measures itself.
      const body = drawn ? rest : { lengthFt, widthFt, heightFt, ...rest };
      if (zone) await save.send({ params: { zoneId: zone.id }, version, body });
      else await add.send({ params: { jobId }, body });
      onClose();
    },
  });
  return (
    <Form form={form}>
      <div className="pair">
        <TextField label="Name" autoFocus maxLength={80} placeholder="lower deck" {...form.field("name")} />
        <Select label="Kind" options={ZONE_KINDS} {...form.field("kind")} />
      </div>
      {drawn ? (
        <p className="quiet">
          Length, width and height follow from the drawing; <Measure jobId={jobId} zoneId={zone?.id ?? ""} />{" "}
          to change them.
        </p>
      ) : (
        <div className="pair job-trio">
          <DecimalField label="Length" suffix="ft" optional {...form.field("lengthFt")} />
          <DecimalField label="Width" suffix="ft" optional {...form.field("widthFt")} />
          <DecimalField label="Height" suffix="ft" optional {...form.field("heightFt")} />
        </div>
      )}
      <Select label="How the measures are known" options={EVIDENCE} {...form.field("evidence")} />
      <TextArea label="Notes" optional rows={3} {...form.field("notes")} />
      <FormActions form={form} submit={zone ? "Save" : "Add the zone"} cancel={onClose} always={!zone} />
    </Form>
  );
}

const Measure = ({ jobId, zoneId }: { jobId: string; zoneId: string }) => (
  <Link to="/jobs/$jobId/zones/$zoneId" params={{ jobId, zoneId }}>
    measure the zone
  </Link>
);

export function RemoveZoneDialog({ job, id, onClose }: Asking) {
  const remove = useAct(api.removeZone, { done: "The zone is removed.", onDone: onClose });
  const zone = job.zones.find((one) => one.id === id);
  if (!zone) return null;
  return (
    <ConfirmDialog
      title={`Remove ${zone.name}?`}
      open
      onClose={onClose}
      confirm="Remove the zone"
      alarm
      busy={remove.busy}
      onConfirm={() => remove.act({ params: { zoneId: zone.id } })}
    >
      <p>A zone that scope lines or notes use stays; this one is removed only if none do.</p>
    </ConfirmDialog>
  );
}
