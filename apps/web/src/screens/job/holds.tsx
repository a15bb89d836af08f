import { PLACED_HOLDS, type PlacedHold } from "@ledgerboard/contracts/vocabulary";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useMay, useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { RadioGroup } from "../../ui/choices.tsx";
import { ConfirmDialog } from "../../ui/confirm-dialog.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { moment, sentence, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { TextArea } from "../../ui/text-field.tsx";
import { Act } from "./act.tsx";
import { type Asking, useJob } from "./asking.ts";

/** The named reasons why work may not start, and the way to place or lift one. */
export function HoldsPart() {
  const { job, ask } = useJob();
  const { company } = useSession();
  const may = useMay();
  const over = job.stage === "finished" || job.stage === "closed";
  if (over) return null;
  return (
    <Section
      id="holds"
      title={job.holds.length > 0 ? "Work may not start" : "Nothing holds the work back"}
      acts={<Act name="place_hold" small />}
      className="job-holds"
    >
      <ul className="plain job-hold-list">
        {job.holds.map(({ hold, why }) => {
          const placed = job.placedHolds.find((one) => one.hold === hold);
          return (
            <li key={hold}>
              <b>{sentence(words(hold))}</b>
              <span>
                {placed ? sentence(placed.why) : why}
                {placed && (
                  <small className="quiet">
                    {" "}
                    {placed.by}, {moment(placed.at, company.timezone)}
                  </small>
                )}
              </span>
              {placed && may("holds.edit") && (
                <Button small onPress={() => ask("lift_hold", placed.id)}>
                  Lift
                </Button>
              )}
            </li>
          );
        })}
      </ul>
    </Section>
  );
}

export function PlaceHoldDialog({ job, onClose }: Asking) {
  const place = useAct(api.placeHold, { done: "The hold is placed." });
  const free = PLACED_HOLDS.filter((hold) => !job.placedHolds.some((one) => one.hold === hold));
  const form = useForm({
    initial: { hold: "" as PlacedHold | "", why: "" },
    check: ({ hold, why }) => ({
      hold: hold ? undefined : "Choose one.",
      why: why.trim().length < 3 ? "Say why in a few words." : undefined,
    }),
    submit: async ({ hold, why }) => {
      if (hold) await place.send({ params: { jobId: job.id }, body: { hold, why } });
      onClose();
    },
  });
  return (
    <Dialog title={`Hold ${job.number} back`} open onClose={onClose}>
      {free.length === 0 ? (
        <p>Every hold there is already stands.</p>
      ) : (
        <Form form={form}>
          <RadioGroup
            label="What for"
            options={free.map((hold) => ({ value: hold, label: sentence(words(hold)) }))}
            {...form.field("hold")}
          />
          <TextArea
            label="Why"
            hint="Everybody sees it with the job."
            rows={3}
            maxLength={300}
            {...form.field("why")}
          />
          <FormActions form={form} submit="Place the hold" cancel={onClose} />
        </Form>
      )}
    </Dialog>
  );
}

export function LiftHoldDialog({ job, id, onClose }: Asking) {
  const lift = useAct(api.liftHold, { done: "The hold is lifted.", onDone: onClose });
  const hold = job.placedHolds.find((one) => one.id === id);
  if (!hold) return null;
  return (
    <ConfirmDialog
      title={`Lift the hold: ${words(hold.hold)}`}
      open
      onClose={onClose}
      confirm="Lift the hold"
      busy={lift.busy}
      onConfirm={() => lift.act({ params: { holdId: hold.id } })}
    >
      <p>
        {hold.by} placed it: {hold.why}
      </p>
    </ConfirmDialog>
  );
}
