import type { Crew } from "@ledgerboard/contracts/crews";
import { useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useMay, useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { DayField } from "../../ui/day-field.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { longDay } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { Select } from "../../ui/select.tsx";
import { Table } from "../../ui/table.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { toast } from "../../ui/toast.tsx";
import type { Sheet } from "./sheet-grid.tsx";

const EVERYBODY = "everybody";
type Closure = Sheet["closures"][number];

/** Days on which a crew, or everybody, does not work. */
export function Closures({ closures, crews }: { closures: readonly Closure[]; crews: readonly Crew[] }) {
  const may = useMay();
  const [closing, setClosing] = useState(false);
  const close = useAct(api.addClosure);
  const open = useAct(api.removeClosure);
  const reopen = async ({ id, crewId, on, why }: Closure) => {
    await open.send({ params: { closureId: id } });
    toast(`${longDay(on)} is a working day again.`, { undo: () => close.act({ body: { crewId, on, why } }) });
  };
  const whose = (crewId: string | null) => crews.find((crew) => crew.id === crewId)?.name ?? "everybody";
  return (
    <Section
      title="Days off"
      note="in the days shown"
      acts={may("crews.edit") && <Button onPress={() => setClosing(true)}>Mark a day off</Button>}
    >
      {closures.length === 0 ? (
        <p className="quiet">No holidays, leave or other days off among these days.</p>
      ) : (
        <Table
          caption="Days off"
          rows={closures}
          rowKey={(row) => row.id}
          columns={[
            { title: "Day", cell: (row) => longDay(row.on) },
            { title: "Who", cell: (row) => whose(row.crewId) },
            { title: "Why", cell: (row) => row.why },
            ...(may("crews.edit")
              ? [
                  {
                    title: "Undo",
                    silent: true,
                    num: true,
                    cell: (row: Closure) => (
                      <Button small kind="text" onPress={() => void reopen(row).catch(() => {})}>
                        Make it a working day
                      </Button>
                    ),
                  },
                ]
              : []),
          ]}
        />
      )}
      {closing && <ClosureDialog crews={crews} onClose={() => setClosing(false)} />}
    </Section>
  );
}

function ClosureDialog({ crews, onClose }: { crews: readonly Crew[]; onClose: () => void }) {
  const { today } = useSession();
  const close = useAct(api.addClosure, { done: "Marked." });
  const form = useForm({
    initial: { crewId: EVERYBODY, on: "", why: "" },
    check: ({ on }) => ({ on: on ? undefined : "Choose the day." }),
    submit: async ({ crewId, on, why }) => {
      await close.send({ body: { crewId: crewId === EVERYBODY ? null : crewId, on, why } });
      onClose();
    },
  });
  return (
    <Dialog title="Mark a day off" open onClose={onClose}>
      <Form form={form}>
        <Select
          label="Who is off"
          options={[
            { value: EVERYBODY, label: "everybody" },
            ...crews.filter((crew) => crew.active).map((crew) => ({ value: crew.id, label: crew.name })),
          ]}
          {...form.field("crewId")}
        />
        <DayField label="Day" min={today} {...form.field("on")} />
        <TextField label="Why" hint="Holiday, leave, training" maxLength={80} {...form.field("why")} />
        <FormActions form={form} submit="Mark the day off" cancel={onClose} />
      </Form>
    </Dialog>
  );
}
