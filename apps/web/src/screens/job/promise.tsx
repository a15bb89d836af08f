import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useMay, useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { DayField } from "../../ui/day-field.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Flag } from "../../ui/flag.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { longDay, percent } from "../../ui/format.ts";
import { PercentField } from "../../ui/number-fields.tsx";
import { Section } from "../../ui/section.tsx";
import { whoMay } from "../../ui/who-may.ts";
import { lateWords } from "../waiting/tell.ts";
import { type Asking, useJob } from "./asking.ts";

/** The start window the customer was told. */
export function PromisePart() {
  const { job, ask } = useJob();
  const may = useMay();
  const { promised } = job;
  const started = ["under_way", "finished", "closed"].includes(job.stage);
  const late = lateWords(job);
  return (
    <Section
      id="promise"
      title="Promised start"
      acts={
        may("promises.make") ? (
          <Button small isDisabled={started} onPress={() => ask("promise")}>
            {promised ? "Promise another" : "Promise a start"}
          </Button>
        ) : (
          <small className="quiet">Promised by {whoMay("promises.make")}</small>
        )
      }
    >
      {promised ? (
        <p>
          <b>
            {longDay(promised.from)} to {longDay(promised.to)}
          </b>
          {promised.probabilityBp !== null && `, kept with ${percent(promised.probabilityBp)} probability`}{" "}
          {late && <Flag alarm>{late}</Flag>}
        </p>
      ) : (
        <p className="quiet">The customer was told no start yet.</p>
      )}
      {started && may("promises.make") && (
        <small className="quiet block">A start can be promised only before work starts.</small>
      )}
    </Section>
  );
}

export function PromiseDialog({ job, onClose }: Asking) {
  const { today } = useSession();
  const promise = useAct(api.promiseWindow, { done: "The promise is on record." });
  const form = useForm({
    initial: { from: "", to: "", probabilityBp: null as number | null },
    check: ({ from, to }) => ({
      from: from ? undefined : "Choose the first day of the window.",
      to: !to
        ? "Choose the last day of the window."
        : from && to < from
          ? "The window ends before it begins."
          : undefined,
    }),
    submit: async (body) => {
      await promise.send({ params: { jobId: job.id }, body });
      onClose();
    },
  });
  return (
    <Dialog title={`What the customer of ${job.number} was told`} open onClose={onClose}>
      <Form form={form}>
        <p>The work starts within this window. Earlier promises stay on record.</p>
        <div className="pair">
          <DayField label="From" min={today} {...form.field("from")} />
          <DayField label="To" min={form.values.from || today} {...form.field("to")} />
        </div>
        <PercentField
          label="Probability"
          hint="How likely it is kept, where somebody worked that out."
          optional
          {...form.field("probabilityBp")}
        />
        <FormActions form={form} submit="Record the promise" cancel={onClose} />
      </Form>
    </Dialog>
  );
}
