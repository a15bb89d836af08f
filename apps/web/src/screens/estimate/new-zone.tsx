import { ZONE_KINDS, type ZoneKind } from "@ledgerboard/contracts/vocabulary";
import { useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { Button } from "../../ui/button.tsx";
import { Form, useForm } from "../../ui/form.tsx";
import { Select } from "../../ui/select.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { useEstimate } from "./context.ts";

/** A part of the structure nobody had named yet; its measures are entered on the job. */
export function NewZone() {
  const [open, setOpen] = useState(false);
  if (!open)
    return (
      <div className="est-adder no-print">
        <Button small onPress={() => setOpen(true)}>
          Add a zone
        </Button>
      </div>
    );
  return <NewZoneForm onClose={() => setOpen(false)} />;
}

function NewZoneForm({ onClose }: { onClose: () => void }) {
  const { job } = useEstimate();
  const add = useAct(api.addZone, { done: "The zone is added." });
  const form = useForm({
    initial: { name: "", kind: "deck" as ZoneKind },
    check: ({ name }) => ({ name: name.trim() ? undefined : "Name it, for example: lower deck." }),
    submit: async (body) => {
      await add.send({ params: { jobId: job.id }, body });
      onClose();
    },
  });
  return (
    <div className="est-new no-print">
      <Form form={form} label="A new zone">
        <div className="est-new-fields">
          <TextField label="Zone" placeholder="lower deck" autoFocus maxLength={80} {...form.field("name")} />
          <Select label="Kind" options={ZONE_KINDS} {...form.field("kind")} />
        </div>
        <div className="row">
          <Button type="submit" kind="main" small busy={form.busy}>
            Add the zone
          </Button>
          <Button small onPress={onClose}>
            Cancel
          </Button>
        </div>
      </Form>
    </div>
  );
}
