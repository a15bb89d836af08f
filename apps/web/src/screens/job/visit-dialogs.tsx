import type { Visit } from "@ledgerboard/contracts/jobs";
import { VISIT_KINDS, type VisitKind } from "@ledgerboard/contracts/vocabulary";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useSession } from "../../app/session.ts";
import { RadioGroup } from "../../ui/choices.tsx";
import { MomentField } from "../../ui/day-field.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, type FormState, useForm } from "../../ui/form.tsx";
import { moment } from "../../ui/format.ts";
import { WholeField } from "../../ui/number-fields.tsx";
import { Select } from "../../ui/select.tsx";
import { TextArea } from "../../ui/text-field.tsx";
import { toInstant, toLocal } from "../../ui/zone-time.ts";
import type { Asking } from "./asking.ts";
import { useMembers } from "./job-dialogs.tsx";

type When = { startsAt: string; minutes: number | null; memberId: string; notes: string };

const faults = ({ startsAt, minutes, memberId }: When, timeZone: string) => ({
  startsAt: toInstant(startsAt, timeZone) ? undefined : "Choose the day and the time.",
  minutes: minutes === null ? "How many minutes?" : undefined,
  memberId: memberId ? undefined : "Choose who goes.",
});

function WhenFields<V extends When>({
  form,
  members,
}: {
  form: FormState<V>;
  members: { value: string; label: string }[];
}) {
  const { company } = useSession();
  const startsAt = form.field("startsAt");
  const theirs = startsAt.theirs && toInstant(startsAt.theirs, company.timezone);
  return (
    <>
      <div className="pair">
        <MomentField
          label="Day and time"
          {...startsAt}
          hint={theirs ? `Saved meanwhile: ${moment(theirs, company.timezone)}` : undefined}
        />
        <WholeField label="Takes" suffix="min" {...form.field("minutes")} />
      </div>
      <Select label="Who goes" options={members} empty="choose" {...form.field("memberId")} />
      <TextArea label="Notes" optional rows={3} {...form.field("notes")} />
    </>
  );
}

export function ScheduleVisitDialog({ job, onClose }: Asking) {
  const { company, member } = useSession();
  const add = useAct(api.addVisit, { done: "The visit is set." });
  const members = useMembers();
  const kind: VisitKind = job.revisions.length === 0 ? "first_look" : "site_review";
  const goes = kind === "first_look" ? job.salesperson : job.estimator;
  const form = useForm({
    initial: {
      kind: kind as VisitKind,
      startsAt: "",
      minutes: 60 as number | null,
      memberId: goes?.id ?? member.id,
      notes: "",
    },
    check: (values) => faults(values, company.timezone),
    submit: async ({ startsAt, minutes, ...values }) => {
      await add.send({
        params: { jobId: job.id },
        body: { ...values, startsAt: toInstant(startsAt, company.timezone) ?? "", minutes: minutes ?? 60 },
      });
      onClose();
    },
  });
  return (
    <Dialog title={`A visit for ${job.number}`} open onClose={onClose}>
      <Form form={form}>
        <RadioGroup label="What for" options={VISIT_KINDS} {...form.field("kind")} />
        <WhenFields form={form} members={members} />
        <FormActions form={form} submit="Set the visit" cancel={onClose} />
      </Form>
    </Dialog>
  );
}

export function MoveVisitDialog({ job, id, onClose }: Asking) {
  const visit = job.visits.find((one) => one.id === id);
  if (!visit) return null;
  return (
    <Dialog title="Move the visit" open onClose={onClose}>
      <MoveForm visit={visit} onClose={onClose} />
    </Dialog>
  );
}

function MoveForm({ visit, onClose }: { visit: Visit; onClose: () => void }) {
  const { company } = useSession();
  const save = useAct(api.updateVisit, { done: "The visit is moved." });
  const members = useMembers({ id: visit.memberId, name: visit.memberName });
  const form = useForm({
    initial: {
      startsAt: toLocal(visit.startsAt, company.timezone),
      minutes: visit.minutes as number | null,
      memberId: visit.memberId,
      notes: visit.notes,
    },
    version: visit.version,
    check: (values) => faults(values, company.timezone),
    submit: async ({ startsAt, minutes, memberId, notes }, version) => {
      await save.send({
        params: { visitId: visit.id },
        version,
        body: {
          startsAt: toInstant(startsAt, company.timezone) ?? "",
          memberId,
          notes,
          ...(minutes !== null && { minutes }),
        },
      });
      onClose();
    },
  });
  return (
    <Form form={form}>
      <WhenFields form={form} members={members} />
      <FormActions form={form} submit="Move it" cancel={onClose} always={false} />
    </Form>
  );
}
