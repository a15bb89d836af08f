import type { PriceBook, PriceBookItem } from "@ledgerboard/contracts/price-book";
import {
  ACTIONS,
  type Action,
  COMPONENTS,
  type Component,
  UNITS,
  type Unit,
} from "@ledgerboard/contracts/vocabulary";
import { unfoldLine } from "@ledgerboard/estimating";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { money, words } from "../../ui/format.ts";
import { DecimalField, PercentField } from "../../ui/number-fields.tsx";
import { Select } from "../../ui/select.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { priceOf } from "../typed-price.ts";
import { editUnitCost, oneUnit, parseUnitCost } from "./unit.ts";

/** What is kept has no price, so the book has no item for it. */
const PRICED_ACTIONS = ACTIONS.filter((action) => action !== "keep");

/** An item of the book, with the price of one unit as it is typed. */
export function ItemForm({
  book,
  item,
  onClose,
}: {
  book: PriceBook;
  item: PriceBookItem | undefined;
  onClose: () => void;
}) {
  const add = useAct(api.addPriceBookItem, { done: "The item is added." });
  const save = useAct(api.updatePriceBookItem, { done: "Saved. Lines already written keep their rates." });
  const form = useForm({
    initial: {
      code: item?.code ?? "",
      component: (item?.component ?? "") as Component | "",
      action: (item?.action ?? "replace") as Action,
      description: item?.description ?? "",
      unit: (item?.unit ?? "each") as Unit,
      materialUnitCents: item ? editUnitCost(item.materialUnitCents) : "",
      wasteBp: (item?.wasteBp ?? 0) as number | null,
      hoursPerUnit: (item?.hoursPerUnit ?? null) as string | null,
      laborRateCode: item?.laborRateCode ?? book.laborRates[0]?.code ?? "",
    },
    version: item?.version,
    check: (v) => ({
      code:
        item || /^[A-Z0-9-]{2,40}$/.test(v.code.trim())
          ? undefined
          : "Capitals, digits and hyphens, like DECK-BOARD.",
      component: v.component ? undefined : "Choose the component.",
      description: v.description.trim() ? undefined : "Say what it is.",
      materialUnitCents:
        parseUnitCost(v.materialUnitCents) === null ? "An amount like 4.20, 0 for none." : undefined,
      wasteBp:
        v.wasteBp !== null && v.wasteBp <= 10_000 ? undefined : "A percentage up to 100 %, 0 for none.",
      hoursPerUnit: v.hoursPerUnit === null ? "Hours like 0.25, 0 for none." : undefined,
      laborRateCode: v.laborRateCode ? undefined : "Choose who works it.",
    }),
    submit: async ({ code, component, materialUnitCents, wasteBp, hoursPerUnit, ...rest }, version) => {
      const cents = parseUnitCost(materialUnitCents);
      if (!component || cents === null || wasteBp === null || hoursPerUnit === null) return;
      const body = { ...rest, component, materialUnitCents: cents, wasteBp, hoursPerUnit };
      if (item) await save.send({ params: { itemId: item.id }, version, body });
      else await add.send({ body: { code: code.trim(), ...body } });
      onClose();
    },
  });
  const rates = book.laborRates.map(({ code, name }) => ({ value: code, label: name }));
  return (
    <Form form={form} label="Item">
      <div className="pair">
        {!item && (
          <TextField
            label="Code"
            hint="It stays: lines refer to it."
            autoFocus
            maxLength={40}
            {...form.field("code")}
            onChange={(code) => form.set("code", code.toUpperCase())}
          />
        )}
        <TextField label="Description" maxLength={160} {...form.field("description")} />
      </div>
      <div className="pair">
        <Select label="Component" options={COMPONENTS} empty="choose" {...form.field("component")} />
        <Select label="What is done" options={PRICED_ACTIONS} {...form.field("action")} />
        <Select label="Counted in" options={UNITS} {...form.field("unit")} />
      </div>
      <div className="pair">
        <TextField
          label={`Material, one ${unitWord(form.values.unit)}`}
          prefix="$"
          inputMode="decimal"
          autoComplete="off"
          hint="Fractions of a cent may be given."
          {...form.field("materialUnitCents")}
        />
        <PercentField label="Waste" hint="bought beyond the quantity" {...form.field("wasteBp")} />
      </div>
      <div className="pair">
        <DecimalField
          label={`Hours, one ${unitWord(form.values.unit)}`}
          suffix="h"
          {...form.field("hoursPerUnit")}
        />
        <Select label="Worked by" options={rates} empty="choose" {...form.field("laborRateCode")} />
      </div>
      <UnitPrice book={book} values={form.values} />
      <FormActions form={form} submit={item ? "Save" : "Add the item"} cancel={onClose} always={!item} />
    </Form>
  );
}

export const unitWord = (unit: Unit): string => (unit === "each" ? "piece" : words(unit));

interface Typed {
  unit: Unit;
  materialUnitCents: string;
  wasteBp: number | null;
  hoursPerUnit: string | null;
  laborRateCode: string;
}

/** The price of one unit at the book's terms, row by row, while it is typed. */
function UnitPrice({ book, values }: { book: PriceBook; values: Typed }) {
  const cents = parseUnitCost(values.materialUnitCents);
  const rate = book.laborRates.find(({ code }) => code === values.laborRateCode);
  const { wasteBp, hoursPerUnit } = values;
  if (cents === null || wasteBp === null || hoursPerUnit === null || !rate)
    return <p className="quiet">The price of one {unitWord(values.unit)} appears here.</p>;
  const line = oneUnit({ materialUnitCents: cents, wasteBp, hoursPerUnit }, rate);
  const price = priceOf(line, book);
  if (!price)
    return <p className="alarm-text">One {unitWord(values.unit)} comes to more than $10,000,000.</p>;
  return (
    <details className="pb-unit">
      <summary>
        One {unitWord(values.unit)}: <b>{money(price.priceCents)}</b>
      </summary>
      <table className="pb-example">
        <caption className="sr">How the price of one is made</caption>
        <tbody>
          {unfoldLine(line, book).map((row) => (
            <tr key={row.label}>
              <th scope="row">
                {row.label}
                <small className="quiet block">{row.formula}</small>
              </th>
              <td className="num">{money(row.cents)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
