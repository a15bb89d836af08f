import type { PriceBook } from "@ledgerboard/contracts/price-book";
import type { PricingTerms } from "@ledgerboard/estimating";
import { useMemo, useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { Button } from "../../ui/button.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { money, percent, plural, sentence } from "../../ui/format.ts";
import { MoneyField, PercentField } from "../../ui/number-fields.tsx";
import { Table } from "../../ui/table.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { movedPrices, termsOf } from "./book.ts";
import { Worked } from "./terms-example.tsx";

const SHARES = { overheadBp: 20_000, marginBp: 9000, materialTaxBp: 3000, laborCorrelationBp: 10_000 };
const AMOUNTS = ["minimumCharge", "roundUpTo"] as const;
const MOST_CENTS = 1_000_000_000;

type Share = keyof typeof SHARES;
type Values = { name: string } & { [K in Share | (typeof AMOUNTS)[number]]: number | null };

export function TermsForm({ book }: { book: PriceBook }) {
  const save = useAct(api.updatePriceBook, { done: "The terms are saved." });
  const initial: Values = {
    name: book.name,
    overheadBp: book.overheadBp,
    marginBp: book.marginBp,
    materialTaxBp: book.materialTaxBp,
    minimumCharge: book.minimumCharge.cents,
    roundUpTo: book.roundUpTo.cents,
    laborCorrelationBp: book.laborCorrelationBp,
  };
  const form = useForm({
    initial: { ...initial },
    version: book.version,
    check: faultsOf,
    submit: async ({ minimumCharge, roundUpTo, name, ...shares }, version) => {
      const { overheadBp, marginBp, materialTaxBp, laborCorrelationBp } = shares;
      if (minimumCharge === null || roundUpTo === null || laborCorrelationBp === null) return;
      if (overheadBp === null || marginBp === null || materialTaxBp === null) return;
      const body = {
        ...{ name, overheadBp, marginBp, materialTaxBp, laborCorrelationBp },
        minimumCharge: { cents: minimumCharge, currency: "USD" as const },
        roundUpTo: { cents: roundUpTo, currency: "USD" as const },
      };
      await save.send({ params: { bookId: book.id }, version, body });
    },
  });
  const typed = whole(form.values);
  return (
    <>
      <div className="pb-beside">
        <Form form={form} label="Terms of the price book">
          <TextField label="Name of the book" maxLength={80} {...form.field("name")} />
          <div className="pair">
            <PercentField label="Overhead" hint="of all direct cost" {...form.field("overheadBp")} />
            <PercentField label="Margin" hint="of the price" {...form.field("marginBp")} />
            <PercentField label="Tax on material" hint="sales tax you pay" {...form.field("materialTaxBp")} />
          </div>
          <div className="pair">
            <MoneyField
              label="Minimum charge"
              hint="no job is done for less; 0 for none"
              {...form.field("minimumCharge")}
            />
            <MoneyField
              label="Round the price up to"
              hint="whole $10, say; 0 for none"
              {...form.field("roundUpTo")}
            />
          </div>
          <PercentField
            label="How far labor overruns go together"
            hint={
              "When one line takes longer than planned, do the others too? 0%: each goes its own way. " +
              "100%: all run over, or under, together. It moves no price; it widens the range of what a job may " +
              "cost. The 30% a book starts with is a placeholder: replace it once your own hours tell."
            }
            {...form.field("laborCorrelationBp")}
          />
          <p className="quiet">
            <small>Estimates already started keep the terms they were started with.</small>
          </p>
          <div className="row">
            <FormActions form={form} submit="Save the terms" always={false} />
            {form.dirty && <Button onPress={() => form.reset()}>As saved</Button>}
          </div>
        </Form>
        {typed ? (
          <Worked terms={typed} />
        ) : (
          <p className="quiet">The example comes back once the terms are whole.</p>
        )}
      </div>
      {typed && <Effect book={book} typed={typed} />}
    </>
  );
}

function shareFault(value: number | null, limit: number): string | undefined {
  if (value === null) return "Enter a percentage, 0 for none.";
  return value > limit ? `At most ${percent(limit)}.` : undefined;
}

function amountFault(value: number | null): string | undefined {
  if (value === null) return "Enter an amount, 0 for none.";
  return value > MOST_CENTS ? "At most $10,000,000." : undefined;
}

function faultsOf(values: Values): { [K in keyof Values]?: string | undefined } {
  const shares = (Object.keys(SHARES) as Share[]).map((key) => [key, shareFault(values[key], SHARES[key])]);
  return {
    name: values.name.trim() ? undefined : "Give the book a name.",
    ...Object.fromEntries(shares),
    ...Object.fromEntries(AMOUNTS.map((key) => [key, amountFault(values[key])])),
  };
}

/** The terms typed, once every one of them can be priced with. */
function whole(values: Values): PricingTerms | null {
  const { overheadBp, marginBp, materialTaxBp, minimumCharge, roundUpTo } = values;
  const { name: _name, laborCorrelationBp: _correlation, ...faults } = faultsOf(values);
  if (Object.values(faults).some(Boolean)) return null;
  if (overheadBp === null || marginBp === null || materialTaxBp === null) return null;
  if (minimumCharge === null || roundUpTo === null) return null;
  return {
    overheadBp,
    marginBp,
    materialTaxBp,
    minimumChargeCents: minimumCharge,
    roundUpToCents: roundUpTo,
  };
}

const FEW = 6;

/** What the terms typed above would do to unit prices. */
function Effect({ book, typed }: { book: PriceBook; typed: PricingTerms }) {
  const [all, setAll] = useState(false);
  const told = JSON.stringify(typed);
  const moved = useMemo(
    () => (told === JSON.stringify(termsOf(book)) ? [] : movedPrices(book, JSON.parse(told) as PricingTerms)),
    [book, told],
  );
  if (moved.length === 0) return null;
  return (
    <div className="pb-effect">
      <h3>{sentence(plural(moved.length, "unit price"))} would change. Not saved yet.</h3>
      <Table
        caption="Unit prices with the terms typed above"
        columns={[
          { title: "Assembly", cell: ({ assembly }) => assembly.description },
          { title: "Now", num: true, cell: ({ before }) => money(before) },
          {
            title: "Would be",
            num: true,
            cell: ({ after }) => <b>{after === null ? "beyond reason" : money(after)}</b>,
          },
        ]}
        rows={all ? moved : moved.slice(0, FEW)}
        rowKey={({ assembly }) => assembly.id}
      />
      {moved.length > FEW && (
        <div className="row more no-print">
          <Button small onPress={() => setAll(!all)}>
            {all ? "Show the dearest only" : `Show all ${moved.length}`}
          </Button>
        </div>
      )}
    </div>
  );
}
