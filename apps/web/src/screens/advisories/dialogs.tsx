import type { Advisory } from "@ledgerboard/contracts/advisories";
import type { Job } from "@ledgerboard/contracts/jobs";
import { COMPONENTS, type Component } from "@ledgerboard/contracts/vocabulary";
import { useQuery } from "@tanstack/react-query";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { q } from "../../api/queries.ts";
import { useMay, useSession } from "../../app/session.ts";
import { RadioGroup } from "../../ui/choices.tsx";
import { ConfirmDialog } from "../../ui/confirm-dialog.tsx";
import { DayField } from "../../ui/day-field.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, orNull, useForm } from "../../ui/form.tsx";
import { Select } from "../../ui/select.tsx";
import { SuggestField } from "../../ui/suggest-field.tsx";
import { TextArea, TextField } from "../../ui/text-field.tsx";
import { DECISIONS, decisionBody, decisionFaults } from "./tell.ts";

/** Records a condition somebody saw. */
export function AddDialog({ job, onClose }: { job: Job; onClose: () => void }) {
  const add = useAct(api.addAdvisory, { done: "Recorded." });
  const form = useForm({
    initial: { words: "", reference: "", zoneId: "", component: "" as Component | "" },
    check: ({ words, reference }) => ({
      words: words.trim().length < 3 ? "Say what is there, with its numbers." : undefined,
      reference:
        reference.trim() === "" ? "Name the provision, such as IRC R312.1.3, and its edition." : undefined,
    }),
    submit: async ({ words, reference, zoneId, component }) => {
      await add.send({
        params: { jobId: job.id },
        body: {
          words: words.trim(),
          reference: reference.trim(),
          zoneId: orNull(zoneId),
          component: component || null,
        },
      });
      onClose();
    },
  });
  return (
    <Dialog title="An advisory" open onClose={onClose}>
      <Form form={form}>
        <TextArea
          label="What is there"
          hint="with its numbers: balusters 5 in apart"
          autoFocus
          rows={3}
          maxLength={500}
          {...form.field("words")}
        />
        <TextField
          label="What it falls short of"
          hint="the provision and its edition; local code decides"
          maxLength={300}
          {...form.field("reference")}
        />
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
        <FormActions form={form} submit="Record it" cancel={onClose} />
      </Form>
    </Dialog>
  );
}

const IN_WRITING = ["signed note at the site", "letter", "mail"];

/** What the customer says to it. */
export function DecideDialog({
  job,
  advisory,
  onClose,
}: {
  job: Job;
  advisory: Advisory;
  onClose: () => void;
}) {
  const decide = useAct(api.decideAdvisory, { done: "The decision is recorded." });
  const { today } = useSession();
  const extras = useExtras(job);
  const { declined } = advisory;
  const form = useForm({
    initial: {
      decision: advisory.decision,
      alternate: advisory.alternate ?? "",
      name: declined?.name ?? job.customerName,
      on: declined?.on ?? today,
      how: declined?.how ?? "",
    },
    check: decisionFaults,
    submit: async (values) => {
      await decide.send({
        params: { advisoryId: advisory.id },
        version: advisory.version,
        body: decisionBody(values),
      });
      onClose();
    },
  });
  const { decision } = form.values;
  const offered = [...new Set([...(advisory.alternate ? [advisory.alternate] : []), ...extras])];
  return (
    <Dialog title="What the customer decided" open onClose={onClose}>
      <Form form={form}>
        <p>{advisory.words}</p>
        <RadioGroup label="Decision" options={DECISIONS} {...form.field("decision")} />
        {decision === "alternate" &&
          (offered.length > 0 ? (
            <Select
              label="Optional extra that would mend it"
              empty="choose one"
              options={offered.map((value) => ({ value, label: value }))}
              {...form.field("alternate")}
            />
          ) : (
            <p className="notice">
              The estimate has no optional extra yet. Add lines as an optional extra there first, then come
              back.
            </p>
          ))}
        {decision === "declined" && (
          <>
            <div className="pair">
              <TextField label="Who declined" maxLength={120} {...form.field("name")} />
              <DayField label="On" max={today} {...form.field("on")} />
            </div>
            <SuggestField
              label="How it was put in writing"
              suggestions={IN_WRITING}
              maxLength={200}
              placeholder="signed note at the site"
              {...form.field("how")}
            />
          </>
        )}
        <FormActions form={form} submit="Record the decision" cancel={onClose} />
      </Form>
    </Dialog>
  );
}

/** Names of the optional extras of the newest revision. */
function useExtras(job: Job): string[] {
  const may = useMay();
  const newest = job.revisions.at(-1)?.id;
  const revision = useQuery({
    ...q.revision(newest ?? ""),
    enabled: newest !== undefined && may("estimates.read"),
  });
  return revision.data?.alternates.map(({ name }) => name) ?? [];
}

export function TakeBackDialog({ advisory, onClose }: { advisory: Advisory; onClose: () => void }) {
  const remove = useAct(api.removeAdvisory, { done: "The advisory is taken back.", onDone: onClose });
  return (
    <ConfirmDialog
      title="Take this advisory back?"
      open
      onClose={onClose}
      confirm="Take it back"
      alarm
      busy={remove.busy}
      onConfirm={() => remove.act({ params: { advisoryId: advisory.id } })}
    >
      <p>“{advisory.words}”</p>
      <p>
        For one recorded by mistake. That it was recorded stays in the timeline
        {advisory.decision === "undecided" ? "." : ", and so does the customer's decision."}
      </p>
    </ConfirmDialog>
  );
}
