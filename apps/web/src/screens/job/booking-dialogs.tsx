import type { Job } from "@ledgerboard/contracts/jobs";
import { useQuery } from "@tanstack/react-query";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { q } from "../../api/queries.ts";
import { useSession } from "../../app/session.ts";
import { ConfirmDialog, ReasonDialog } from "../../ui/confirm-dialog.tsx";
import { DayField } from "../../ui/day-field.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { dayRange, hours, longDay } from "../../ui/format.ts";
import { DecimalField, WholeField } from "../../ui/number-fields.tsx";
import { Select } from "../../ui/select.tsx";
import type { Asking } from "./asking.ts";

/** Crews to choose from, each with how many work in it. */
function useCrews(chosen?: { crewId: string; crewName: string }): { value: string; label: string }[] {
  const crews = useQuery(q.crews()).data?.items ?? [];
  const working = crews
    .filter((crew) => crew.active)
    .map(({ id, name, size, skills }) => ({
      value: id,
      label: [`${name}, ${size} ${size === 1 ? "person" : "people"}`, ...skills].join(", "),
    }));
  if (!chosen || working.some(({ value }) => value === chosen.crewId)) return working;
  return [...working, { value: chosen.crewId, label: chosen.crewName }];
}

function PromiseLine({ job }: { job: Job }) {
  const { promised } = job;
  return promised && <p>A start was promised for {dayRange(promised.from, promised.to)}.</p>;
}

const estimatedHours = (job: Job) => job.revisions.findLast(({ state }) => state === "issued")?.hours;

export function BookDialog({ job, onClose }: Asking) {
  const { today } = useSession();
  const book = useAct(api.bookCrew, { done: (booking) => `Booked to ${longDay(booking.endOn)}.` });
  const crews = useCrews();
  const estimated = estimatedHours(job);
  const form = useForm({
    initial: { crewId: "", startOn: "", crewDays: null as number | null },
    check: ({ crewId, startOn }) => ({
      crewId: crewId ? undefined : "Choose a crew.",
      startOn: startOn ? undefined : "Choose the first day.",
    }),
    submit: async ({ crewId, startOn, crewDays }) => {
      await book.send({
        params: { jobId: job.id },
        body: { crewId, startOn, ...(crewDays !== null && { crewDays }) },
      });
      onClose();
    },
  });
  return (
    <Dialog title={`Book a crew for ${job.number}`} open onClose={onClose}>
      <Form form={form}>
        <PromiseLine job={job} />
        <Select label="Crew" options={crews} empty="choose" {...form.field("crewId")} />
        <div className="pair">
          <DayField label="First day" min={today} {...form.field("startOn")} />
          <WholeField
            label="Crew days"
            optional
            hint={estimated ? `Left empty: from ${hours(estimated)} and the crew's size.` : undefined}
            {...form.field("crewDays")}
          />
        </div>
        <FormActions form={form} submit="Book the crew" cancel={onClose} />
      </Form>
    </Dialog>
  );
}

export function MoveBookingDialog({ job, onClose }: Asking) {
  if (!job.booking) return null;
  return (
    <Dialog title={`Move the booking of ${job.number}`} open onClose={onClose}>
      <MoveForm job={job} booking={job.booking} onClose={onClose} />
    </Dialog>
  );
}

function MoveForm({
  job,
  booking,
  onClose,
}: {
  job: Job;
  booking: NonNullable<Job["booking"]>;
  onClose: () => void;
}) {
  const { today } = useSession();
  const move = useAct(api.moveBooking, { done: "The booking is moved." });
  const crews = useCrews(booking);
  const form = useForm({
    initial: {
      crewId: booking.crewId,
      startOn: booking.startOn,
      crewDays: booking.crewDays as number | null,
    },
    version: booking.version,
    check: ({ startOn }) => ({ startOn: startOn ? undefined : "Choose the first day." }),
    submit: async ({ crewId, startOn, crewDays }, version) => {
      // A crew of another size takes other days, unless somebody says how many.
      const days = crewDays !== null && crewDays !== booking.crewDays ? { crewDays } : {};
      await move.send({ params: { bookingId: booking.id }, version, body: { crewId, startOn, ...days } });
      onClose();
    },
  });
  return (
    <Form form={form}>
      <PromiseLine job={job} />
      <Select label="Crew" options={crews} {...form.field("crewId")} />
      <div className="pair">
        <DayField label="First day" min={today} {...form.field("startOn")} />
        <WholeField label="Crew days" {...form.field("crewDays")} />
      </div>
      <FormActions form={form} submit="Move it" cancel={onClose} always={false} />
    </Form>
  );
}

export function CancelBookingDialog({ job, onClose }: Asking) {
  const cancel = useAct(api.cancelBooking, { done: "The booking is cancelled." });
  const { booking } = job;
  if (!booking) return null;
  return (
    <ReasonDialog
      title={`Cancel the booking of ${job.number}`}
      open
      onClose={onClose}
      confirm="Cancel the booking"
      alarm
      onReason={(why) => cancel.send({ params: { bookingId: booking.id }, body: { why } })}
    >
      <p>
        {booking.crewName} is then free on {dayRange(booking.startOn, booking.endOn)}. Tell the customer.
      </p>
    </ReasonDialog>
  );
}

export function StartWorkDialog({ job, onClose }: Asking) {
  const start = useAct(api.startWork, { done: "Work has started.", onDone: onClose });
  const { booking } = job;
  if (!booking) return null;
  return (
    <ConfirmDialog
      title={`${booking.crewName} has started on ${job.number}`}
      open
      onClose={onClose}
      confirm="Work has started"
      busy={start.busy}
      onConfirm={() => start.act({ params: { bookingId: booking.id } })}
    >
      <p>Today is noted as the first day. From then on scope, zones and booking stay as they are.</p>
    </ConfirmDialog>
  );
}

export function FinishWorkDialog({ job, onClose }: Asking) {
  const finish = useAct(api.finishWork, { done: "The work is finished." });
  const { booking } = job;
  const estimated = estimatedHours(job);
  const form = useForm({
    initial: { actualHours: null as string | null },
    check: ({ actualHours }) => ({
      actualHours: actualHours === null ? "Enter the hours of everybody together." : undefined,
    }),
    submit: async ({ actualHours }) => {
      if (!booking) return;
      await finish.send({ params: { bookingId: booking.id }, body: { actualHours: actualHours ?? "0" } });
      onClose();
    },
  });
  return (
    <Dialog title={`${job.number} is finished`} open onClose={onClose}>
      <Form form={form}>
        <DecimalField
          label="Hours it really took"
          suffix="h"
          autoFocus
          hint={`All hours of the crew together.${estimated ? ` ${hours(estimated)} were estimated.` : ""}`}
          {...form.field("actualHours")}
        />
        <FormActions form={form} submit="Work is finished" cancel={onClose} />
      </Form>
    </Dialog>
  );
}
