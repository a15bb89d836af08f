import type { LaborRate, PriceBook } from "@ledgerboard/contracts/price-book";
import { useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { Button } from "../../ui/button.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { money, percent, plural } from "../../ui/format.ts";
import { MoneyField, PercentField } from "../../ui/number-fields.tsx";
import { Section } from "../../ui/section.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { priceOf } from "../typed-price.ts";

const NO_TERMS = { overheadBp: 0, marginBp: 0, materialTaxBp: 0 };

/** What an hour costs the company, by the same rule that prices every line. */
function burdened(hourlyCents: number, burdenBp: number): number {
  const hour = { code: "", hoursPerUnit: "1", setupHours: "0", hourlyCents, burdenBp };
  const rates = {
    materials: [],
    labor: [hour],
    disposalUnitCents: "0",
    equipmentUnitCents: "0",
    laborCvBp: 0,
  };
  return priceOf({ quantity: "1", by: "us", rates }, NO_TERMS)?.laborCents ?? 0;
}

/** What an hour of each kind of work costs. */
export function LaborRates({ book, editable }: { book: PriceBook; editable: boolean }) {
  const [asked, setAsked] = useState<LaborRate | "new" | null>(null);
  const columns: Column<LaborRate>[] = [
    {
      title: "Labor rate",
      cell: ({ name, code }) => (
        <>
          {name} <small className="quiet block">{code}</small>
        </>
      ),
    },
    { title: "Paid an hour", num: true, cell: ({ hourly }) => money(hourly) },
    { title: "Burden", num: true, cell: ({ burdenBp }) => percent(burdenBp) },
    {
      title: "Costs an hour",
      num: true,
      cell: (rate) => <b>{money(burdened(rate.hourly.cents, rate.burdenBp))}</b>,
    },
    {
      title: "Used by",
      num: true,
      cell: ({ code }) => {
        const used = book.assemblies.filter(
          ({ retired, recipe }) => !retired && recipe.labor.some((use) => use.code === code),
        );
        return plural(used.length, "assembly", "assemblies");
      },
    },
  ];
  if (editable)
    columns.push({
      title: "Change it",
      silent: true,
      num: true,
      cell: (rate) => (
        <Button small aria-label={`Change ${rate.name}`} onPress={() => setAsked(rate)}>
          Change
        </Button>
      ),
    });
  return (
    <Section
      title="Labor"
      note="burden: payroll taxes, insurance and the like, as a share of what is paid"
      acts={
        editable && (
          <Button small onPress={() => setAsked("new")}>
            Add a rate
          </Button>
        )
      }
    >
      {book.laborRates.length === 0 ? (
        <p className="quiet">No labor rate yet: work is priced by them.</p>
      ) : (
        <Table caption="Labor rates" columns={columns} rows={book.laborRates} rowKey={({ id }) => id} />
      )}
      {asked && (
        <Dialog
          title={asked === "new" ? "A new labor rate" : `Change ${asked.name}`}
          open
          onClose={() => setAsked(null)}
        >
          <RateForm
            bookId={book.id}
            rate={asked === "new" ? undefined : (book.laborRates.find(({ id }) => id === asked.id) ?? asked)}
            onClose={() => setAsked(null)}
          />
        </Dialog>
      )}
    </Section>
  );
}

function RateForm({
  bookId,
  rate,
  onClose,
}: {
  bookId: string;
  rate: LaborRate | undefined;
  onClose: () => void;
}) {
  const add = useAct(api.addLaborRate, { done: "The rate is added." });
  const save = useAct(api.updateLaborRate, { done: "Saved. Lines already written keep theirs." });
  const form = useForm({
    initial: {
      code: rate?.code ?? "",
      name: rate?.name ?? "",
      hourly: (rate?.hourly.cents ?? null) as number | null,
      burdenBp: (rate?.burdenBp ?? null) as number | null,
    },
    version: rate?.version,
    check: ({ code, name, hourly, burdenBp }) => ({
      code: rate || /^[a-z0-9-]{2,40}$/.test(code.trim()) ? undefined : "Small letters, digits and hyphens.",
      name: name.trim() ? undefined : "Name the kind of work.",
      hourly:
        hourly !== null && hourly > 0 && hourly <= 100_000
          ? undefined
          : "More than $0, at most $1,000 an hour.",
      burdenBp: burdenBp !== null && burdenBp <= 20_000 ? undefined : "A percentage up to 200%, 0 for none.",
    }),
    submit: async ({ code, name, hourly, burdenBp }, version) => {
      if (hourly === null || burdenBp === null) return;
      const body = { name, hourly: { cents: hourly, currency: "USD" as const }, burdenBp };
      if (rate) await save.send({ params: { rateId: rate.id }, version, body });
      else await add.send({ params: { bookId }, body: { code: code.trim(), ...body } });
      onClose();
    },
  });
  const { hourly, burdenBp } = form.values;
  return (
    <Form form={form}>
      {!rate && (
        <TextField
          label="Code"
          hint="Like lead-carpenter; it stays."
          autoFocus
          maxLength={40}
          {...form.field("code")}
        />
      )}
      <TextField label="Name" maxLength={80} {...form.field("name")} />
      <div className="pair">
        <MoneyField label="Paid an hour" {...form.field("hourly")} />
        <PercentField label="Burden" {...form.field("burdenBp")} />
      </div>
      <p role="status">
        {hourly !== null && burdenBp !== null && (
          <>
            An hour costs <b>{money(burdened(hourly, burdenBp))}</b>.
          </>
        )}
      </p>
      <FormActions form={form} submit={rate ? "Save" : "Add the rate"} cancel={onClose} always={!rate} />
    </Form>
  );
}
