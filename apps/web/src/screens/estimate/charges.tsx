import type { Revision } from "@ledgerboard/contracts/estimates";
import { CHARGE_KINDS, type ChargeKind } from "@ledgerboard/contracts/vocabulary";
import { useEffect, useRef, useState } from "react";
import { errorWords } from "../../api/problem.ts";
import { Button } from "../../ui/button.tsx";
import { Checkbox } from "../../ui/choices.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { money, sentence, words } from "../../ui/format.ts";
import { MoneyField } from "../../ui/number-fields.tsx";
import { Section } from "../../ui/section.tsx";
import { Select } from "../../ui/select.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { toast } from "../../ui/toast.tsx";
import { useEstimate } from "./context.ts";
import { saveRevision } from "./revision-save.ts";

type Charge = Revision["charges"][number];
type Sent = Pick<Charge, "kind" | "words" | "atCost" | "cost">;

const toSend = ({ kind, words, atCost, cost }: Charge): Sent => ({ kind, words, atCost, cost });
const same = (a: Sent, b: Sent): boolean =>
  a.kind === b.kind && a.words === b.words && a.atCost === b.atCost && a.cost.cents === b.cost.cents;

/** What the job costs as a whole, beside its components: a permit, the way there, a dumpster. */
export function Charges() {
  const { revision, editable } = useEstimate();
  const [writing, setWriting] = useState<{ charge: Charge | null } | null>(null);
  const [left, setLeft] = useState(false);
  const { charges } = revision;
  if (!editable && charges.length === 0) return null;
  const change = async (next: Sent[], done: string, undo?: Sent[]) => {
    try {
      const saved = await saveRevision(revision, { charges: next });
      toast(done, undo ? { undo: () => void saveRevision(saved, { charges: undo }).catch(refused) } : {});
    } catch (error) {
      refused(error);
    }
  };
  const columns: Column<Charge>[] = [
    {
      title: "For",
      cell: ({ words: told, kind }) => (
        <span>
          {told}
          <small className="quiet block">{sentence(words(kind))}</small>
        </span>
      ),
    },
    { title: "Cost", num: true, cell: ({ cost }) => money(cost) },
    { title: "Charged", cell: ({ atCost }) => (atCost ? "at cost" : "with overhead and margin") },
    { title: "Price", num: true, cell: ({ price }) => <b>{money(price.price)}</b> },
  ];
  if (editable)
    columns.push({
      title: "Acts",
      silent: true,
      cell: (charge) => (
        <span className="row end">
          <Button small aria-label={`Change ${charge.words}`} onPress={() => setWriting({ charge })}>
            Change
          </Button>
          <Button
            small
            alarm
            aria-label={`Take out ${charge.words}`}
            onPress={() =>
              void change(
                charges.filter((one) => one !== charge).map(toSend),
                `Taken out: ${charge.words}.`,
                charges.map(toSend),
              )
            }
          >
            Take out
          </Button>
        </span>
      ),
    });
  return (
    <Section id="whole-job" title="Costs of the whole job" className="est-charges">
      {charges.length === 0 ? (
        <p className="quiet">None yet: a permit, the way there, a dumpster.</p>
      ) : (
        <Table
          caption="Costs of the whole job"
          columns={columns}
          rows={charges}
          rowKey={(charge) => `${charges.indexOf(charge)}`}
        />
      )}
      {writing ? (
        <ChargeForm
          key={writing.charge?.words ?? ""}
          charge={writing.charge}
          onClose={() => {
            setWriting(null);
            setLeft(true);
          }}
        />
      ) : (
        editable && (
          <div className="est-adder no-print">
            <Button small autoFocus={left} onPress={() => setWriting({ charge: null })}>
              Add a cost
            </Button>
          </div>
        )
      )}
    </Section>
  );
}

const refused = (error: unknown): void => toast(errorWords(error), { alarm: true });

/** One cost. Somebody may have taken it out meanwhile: then it is added again. */
function ChargeForm({ charge, onClose }: { charge: Charge | null; onClose: () => void }) {
  const { revision } = useEstimate();
  const frame = useRef<HTMLDivElement>(null);
  useEffect(() => frame.current?.querySelector<HTMLElement>("select")?.focus(), []);
  const at = charge ? revision.charges.findIndex((one) => same(one, charge)) : -1;
  const form = useForm({
    initial: {
      kind: (charge?.kind ?? "permit") as ChargeKind,
      words: charge?.words ?? "",
      cost: (charge?.cost.cents ?? null) as number | null,
      atCost: charge?.atCost ?? false,
    },
    check: (v) => ({
      words: v.words.trim() ? undefined : "Say what it is for; it stands on the quote.",
      cost: v.cost === null ? "Enter what it costs." : undefined,
    }),
    submit: async ({ kind, words, cost, atCost }) => {
      const mine: Sent = { kind, words: words.trim(), atCost, cost: { cents: cost ?? 0, currency: "USD" } };
      const others = revision.charges.map(toSend);
      const charges = at < 0 ? [...others, mine] : others.map((one, i) => (i === at ? mine : one));
      await saveRevision(revision, { charges });
      onClose();
    },
  });
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Escape puts the form away from anywhere in it
    <div
      className="est-new no-print"
      ref={frame}
      onKeyDown={(event) => {
        if (event.key === "Escape" && !form.dirty) onClose();
      }}
    >
      <Form form={form} label={charge ? `Change ${charge.words}` : "A new cost of the whole job"}>
        {charge && at < 0 && (
          <p className="notice" role="alert">
            Somebody changed or took out this cost meanwhile. Saved, yours stands beside theirs.
          </p>
        )}
        <div className="est-new-fields">
          <Select label="Kind" options={CHARGE_KINDS} {...form.field("kind")} />
          <TextField label="For" placeholder="county deck permit" maxLength={120} {...form.field("words")} />
          <MoneyField label="Cost" {...form.field("cost")} />
        </div>
        <Checkbox label="Passed on at cost," hint="without overhead and margin" {...form.field("atCost")} />
        <FormActions form={form} submit={charge ? "Save it" : "Add it"} cancel={onClose} />
      </Form>
    </div>
  );
}
