import type { Job } from "@ledgerboard/contracts/jobs";
import { COMPONENTS, type Component, EVIDENCE, type Evidence } from "@ledgerboard/contracts/vocabulary";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useMay, useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, orNull, useForm } from "../../ui/form.tsx";
import { moment, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { Select } from "../../ui/select.tsx";
import { TextArea } from "../../ui/text-field.tsx";
import { type Asking, useJob } from "./asking.ts";

/** What was seen at the site, newest first. */
export function ObservationsPart() {
  const { job, ask } = useJob();
  const may = useMay();
  const { company } = useSession();
  return (
    <Section
      id="seen"
      title="Seen at the site"
      acts={
        may("observations.create") && (
          <Button small onPress={() => ask("add_observation")}>
            Note something
          </Button>
        )
      }
    >
      {job.observations.length === 0 && <p className="quiet">Nothing noted yet.</p>}
      <ul className="plain entries">
        {job.observations.map((seen) => (
          <li key={seen.id} className="entry">
            <p className="kept-lines">{seen.text}</p>
            <small className="quiet">
              {[whereOf(job, seen), words(seen.evidence), seen.by, moment(seen.at, company.timezone)]
                .filter(Boolean)
                .join(" · ")}
            </small>
          </li>
        ))}
      </ul>
    </Section>
  );
}

function whereOf(job: Job, seen: Job["observations"][number]): string {
  const zone = job.zones.find(({ id }) => id === seen.zoneId)?.name;
  return [zone, seen.component && words(seen.component)].filter(Boolean).join(", ");
}

export function ObservationDialog({ job, onClose }: Asking) {
  const add = useAct(api.addObservation, { done: "Noted." });
  const form = useForm({
    initial: { text: "", zoneId: "", component: "" as Component | "", evidence: "assumed" as Evidence },
    check: ({ text }) => ({ text: text.trim().length < 3 ? "Say in a few words what was seen." : undefined }),
    submit: async ({ text, zoneId, component, evidence }) => {
      await add.send({
        params: { jobId: job.id },
        body: { text, zoneId: orNull(zoneId), component: component || null, evidence },
      });
      onClose();
    },
  });
  return (
    <Dialog title="Seen at the site" open onClose={onClose}>
      <Form form={form}>
        <TextArea label="What was seen" autoFocus rows={4} maxLength={2000} {...form.field("text")} />
        <div className="pair">
          <Select
            label="Zone"
            optional
            empty="none in particular"
            options={job.zones.map(({ id, name }) => ({ value: id, label: name }))}
            {...form.field("zoneId")}
          />
          <Select
            label="Component"
            optional
            empty="none in particular"
            options={COMPONENTS}
            {...form.field("component")}
          />
        </div>
        <Select label="How it is known" options={EVIDENCE} {...form.field("evidence")} />
        <FormActions form={form} submit="Note it" cancel={onClose} />
      </Form>
    </Dialog>
  );
}
