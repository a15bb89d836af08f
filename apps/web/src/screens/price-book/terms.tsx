import type { PriceBook } from "@ledgerboard/contracts/price-book";
import { markupFromMargin, type PricingTerms, priceAtMargin } from "@ledgerboard/estimating";
import { useEffect } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useMay } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { money, percent } from "../../ui/format.ts";
import { PercentField } from "../../ui/number-fields.tsx";
import { Section } from "../../ui/section.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { Example } from "./example.tsx";

interface Props {
  book: PriceBook;
  /** Called with terms as they are typed, and with null once they are what is saved. */
  onTyping: (terms: PricingTerms | null) => void;
}

const LIMITS = { overheadBp: 20_000, marginBp: 9000, materialTaxBp: 3000 };
const NAMES = { overheadBp: "overhead", marginBp: "margin", materialTaxBp: "material tax" };

/** Overhead, margin and tax of every price, with what they make of one example. */
export function Terms({ book, onTyping }: Props) {
  const may = useMay();
  return (
    <Section title="Terms" note="part of every price">
      {may("price_book.edit") ? (
        <TermsForm book={book} onTyping={onTyping} />
      ) : (
        <div className="pb-terms">
          <dl className="facts">
            <dt>Overhead</dt>
            <dd>{percent(book.overheadBp)} of material, tax and labor</dd>
            <dt>Margin</dt>
            <dd>{percent(book.marginBp)} of the price</dd>
            <dt>Tax on material</dt>
            <dd>{percent(book.materialTaxBp)}</dd>
          </dl>
          <Worked terms={book} />
        </div>
      )}
    </Section>
  );
}

function TermsForm({ book, onTyping }: Props) {
  const save = useAct(api.updatePriceBook, { done: "The terms are saved." });
  const form = useForm({
    initial: {
      name: book.name,
      overheadBp: book.overheadBp as number | null,
      marginBp: book.marginBp as number | null,
      materialTaxBp: book.materialTaxBp as number | null,
    },
    version: book.version,
    check: (values) => ({
      name: values.name.trim() ? undefined : "Give the book a name.",
      ...Object.fromEntries(
        (Object.keys(LIMITS) as (keyof typeof LIMITS)[]).map((key) => [key, wrong(values[key], LIMITS[key])]),
      ),
    }),
    submit: async ({ name, overheadBp, marginBp, materialTaxBp }, version = book.version) => {
      if (overheadBp === null || marginBp === null || materialTaxBp === null) return;
      await save.send({ version, body: { name, overheadBp, marginBp, materialTaxBp } });
    },
  });
  const { overheadBp, marginBp, materialTaxBp } = form.values;
  const typed = whole({ overheadBp, marginBp, materialTaxBp });
  const moved =
    typed !== null && (Object.keys(NAMES) as (keyof typeof NAMES)[]).some((key) => typed[key] !== book[key]);
  const told = moved ? JSON.stringify(typed) : null;
  useEffect(() => {
    onTyping(told === null ? null : (JSON.parse(told) as PricingTerms));
    return () => onTyping(null);
  }, [told, onTyping]);
  return (
    <div className="pb-terms">
      <Form form={form} label="Terms of the price book">
        <TextField label="Name of the book" maxLength={80} {...form.field("name")} />
        <div className="pair">
          <PercentField label="Overhead" hint="of material, tax and labor" {...form.field("overheadBp")} />
          <PercentField label="Margin" hint="of the price" {...form.field("marginBp")} />
          <PercentField label="Tax on material" hint="sales tax you pay" {...form.field("materialTaxBp")} />
        </div>
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
  );
}

function wrong(value: number | null, limit: number): string | undefined {
  if (value === null) return "Enter a percentage, 0 for none.";
  return value > limit ? `At most ${percent(limit)}.` : undefined;
}

function whole(terms: { [K in keyof PricingTerms]: number | null }): PricingTerms | null {
  const keys = Object.keys(LIMITS) as (keyof PricingTerms)[];
  return keys.some((key) => wrong(terms[key], LIMITS[key])) ? null : (terms as PricingTerms);
}

/** One example from material to price, and why a margin is no markup. */
function Worked({ terms }: { terms: PricingTerms }) {
  const { marginBp } = terms;
  const hundred = 10_000;
  const asMarkup = hundred + Math.round((hundred * marginBp) / 10_000);
  return (
    <div className="pb-worked">
      <Example terms={terms} />
      <p>
        Margin is not markup. A cost of {money(hundred)} at {percent(marginBp)} margin is priced{" "}
        <b>{money(priceAtMargin(hundred, marginBp))}</b>; at {percent(marginBp)} markup it would be only{" "}
        {money(asMarkup)}.{" "}
        {marginBp > 0 && `Your margin is a markup of ${percent(markupFromMargin(marginBp))}.`}
      </p>
    </div>
  );
}
