import type { Crew } from "@ledgerboard/contracts/crews";
import { useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useMay } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Checkbox, CheckboxGroup } from "../../ui/choices.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Flag } from "../../ui/flag.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { WholeField } from "../../ui/number-fields.tsx";
import { Section } from "../../ui/section.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { TextArea, TextField } from "../../ui/text-field.tsx";

const WEEKDAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
const LEAD = "(lead)";

/** Runs of weekdays as people say them: "Mon–Fri", "Mon, Wed". */
function weekdayWords(days: readonly number[]): string {
  const sorted = [...days].sort((a, b) => a - b);
  const [first = 1] = sorted;
  const last = sorted.at(-1) ?? first;
  if (sorted.length > 2 && last - first === sorted.length - 1)
    return `${WEEKDAYS[first - 1]}–${WEEKDAYS[last - 1]}`;
  return sorted.map((one) => WEEKDAYS[one - 1]).join(", ");
}

/** The crews themselves: who is in them, what they can do, on which days they work. */
export function CrewTable({ crews }: { crews: readonly Crew[] }) {
  const may = useMay();
  const [editing, setEditing] = useState<Crew | null>(null);
  const columns: Column<Crew>[] = [
    {
      title: "Crew",
      cell: (crew) => (
        <>
          {crew.name} {!crew.active && <Flag>stood down</Flag>}
        </>
      ),
    },
    {
      title: "People",
      cell: (crew) => crew.members.map((m) => (m.lead ? `${m.name} ${LEAD}` : m.name)).join(", "),
    },
    { title: "Skills", cell: (crew) => crew.skills.join(", ") },
    { title: "Works", cell: (crew) => weekdayWords(crew.weekdays) },
    { title: "Size", num: true, cell: (crew) => crew.size },
  ];
  const edit: Column<Crew> = {
    title: "Change",
    silent: true,
    num: true,
    cell: (crew) => (
      <Button small kind="text" onPress={() => setEditing(crew)}>
        Change
      </Button>
    ),
  };
  return (
    <Section title="Crews">
      <Table
        caption="Crews"
        columns={may("crews.edit") ? [...columns, edit] : columns}
        rows={crews}
        rowKey={(crew) => crew.id}
      />
      {editing && <CrewDialog crew={editing} onClose={() => setEditing(null)} />}
    </Section>
  );
}

const lines = (text: string): string[] =>
  text
    .split(/[\n,]/)
    .map((one) => one.trim())
    .filter(Boolean);

/** Forms a crew or changes one. People are written one a line; "(lead)" after a name marks the crew lead. */
export function CrewDialog({ crew, onClose }: { crew?: Crew; onClose: () => void }) {
  const add = useAct(api.addCrew, { done: "The crew is formed." });
  const change = useAct(api.updateCrew, { done: "Saved." });
  const form = useForm({
    initial: {
      name: crew?.name ?? "",
      size: (crew?.size ?? 3) as number | null,
      skills: crew?.skills.join(", ") ?? "",
      weekdays: (crew?.weekdays ?? [1, 2, 3, 4, 5]).map(String),
      members: crew?.members.map((m) => (m.lead ? `${m.name} ${LEAD}` : m.name)).join("\n") ?? "",
      active: crew?.active ?? true,
    },
    ...(crew && { version: crew.version }),
    check: ({ name, size }) => ({
      name: name.trim() ? undefined : "Give the crew a name.",
      size: size === null ? "How many people work in it?" : undefined,
    }),
    submit: async ({ name, size, skills, weekdays, members, active }, version) => {
      const body = {
        name,
        size: size ?? 1,
        skills: lines(skills),
        weekdays: weekdays.map(Number),
        members: lines(members).map((one) => ({
          name: one.replace(LEAD, "").trim(),
          lead: one.includes(LEAD),
        })),
      };
      if (crew) await change.send({ params: { crewId: crew.id }, version, body: { ...body, active } });
      else await add.send({ body });
      onClose();
    },
  });
  return (
    <Dialog title={crew ? `Crew ${crew.name}` : "Form a crew"} open onClose={onClose}>
      <Form form={form}>
        <div className="pair">
          <TextField label="Name" maxLength={40} {...form.field("name")} />
          <WholeField label="People working in it" {...form.field("size")} />
        </div>
        <TextArea
          label="Who"
          rows={4}
          optional
          hint={`One a line; write ${LEAD} after the crew lead.`}
          {...form.field("members")}
        />
        <TextField label="Skills" optional hint="Decking, stairs, railings" {...form.field("skills")} />
        <CheckboxGroup
          label="Works on"
          options={WEEKDAYS.map((label, at) => ({ value: String(at + 1), label }))}
          {...form.field("weekdays")}
        />
        {crew && (
          <Checkbox label="Takes jobs" hint="Untick to stand the crew down." {...form.field("active")} />
        )}
        <FormActions form={form} submit={crew ? "Save" : "Form the crew"} cancel={onClose} always={!crew} />
      </Form>
    </Dialog>
  );
}
