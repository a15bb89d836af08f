import type { Zone } from "@ledgerboard/contracts/jobs";
import {
  ACTIONS,
  type Action,
  COMPONENTS,
  type Component,
  DOERS,
  EVIDENCE,
  type Evidence,
  REASONS,
  type Reason,
  UNITS,
  type Unit,
} from "@ledgerboard/contracts/vocabulary";
import { useRef, useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { Button } from "../../ui/button.tsx";
import { Form, orNull, useForm } from "../../ui/form.tsx";
import { hours, money, words } from "../../ui/format.ts";
import { DecimalField } from "../../ui/number-fields.tsx";
import { Select } from "../../ui/select.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { actionsFor, itemsFor, ratesOf, turnTo } from "./book.ts";
import { useEstimate } from "./context.ts";
import { doerWords } from "./edit.ts";
import { priceTyped } from "./prices.ts";

const DOER_OPTIONS = DOERS.map((value) => ({ value, label: doerWords(value) }));

/** The next line of a zone: choose, type how much, Enter; the next one begins at once. */
export function NewLine({ zone }: { zone: Zone }) {
  const [open, setOpen] = useState(false);
  if (!open)
    return (
      <div className="est-adder no-print">
        <Button small onPress={() => setOpen(true)} aria-label={`Add a line to ${zone.name}`}>
          Add a line
        </Button>
      </div>
    );
  return <NewLineForm zone={zone} onClose={() => setOpen(false)} />;
}

function NewLineForm({ zone, onClose }: { zone: Zone; onClose: () => void }) {
  const { revision, book, review } = useEstimate();
  const frame = useRef<HTMLDivElement>(null);
  const add = useAct(api.addLine);
  const form = useForm({
    initial: {
      component: "" as Component | "",
      action: "" as Action | "",
      itemCode: null as string | null,
      quantity: null as string | null,
      unit: "each" as Unit,
      evidence: (review ? "measured" : "assumed") as Evidence,
      by: "us" as (typeof DOERS)[number],
      reasonCode: (review ? "missed" : "") as Reason | "",
      reason: "",
    },
    check: (v) => ({
      component: v.component ? undefined : "Choose what it is.",
      action: v.action ? undefined : "Choose what is done.",
      quantity: v.quantity !== null && Number(v.quantity) > 0 ? undefined : "Enter how much.",
      reasonCode: review && !v.reasonCode ? "Choose why it was not in the estimate." : undefined,
      reason: review && v.reason.trim().length < 3 ? "Say why in a few words." : undefined,
    }),
    submit: async ({ component, action, quantity, reasonCode, reason, ...rest }) => {
      if (!component || !action || quantity === null) return;
      await add.send({
        params: { revisionId: revision.id },
        body: {
          zoneId: zone.id,
          component,
          action,
          quantity,
          ...rest,
          reasonCode: reasonCode || null,
          reason: orNull(reason),
        },
      });
      form.reset({ ...form.values, component: "", action: "", itemCode: null, quantity: null, reason: "" });
      frame.current?.querySelector<HTMLElement>("select")?.focus();
    },
  });
  const { component, action, itemCode, quantity, unit, by } = form.values;
  const usual = component ? actionsFor(book, component) : [];
  const items = component && action ? itemsFor(book, { component, action }) : [];
  const { price } = priceTyped(quantity, by, itemCode ? ratesOf(book, itemCode) : null, revision.terms);
  const turn = (to: { component: Component | ""; action: Action | "" }) => {
    form.set("component", to.component);
    form.set("action", to.action);
    if (!to.component || !to.action) return;
    const next = turnTo(book, { unit, quantity }, { component: to.component, action: to.action });
    form.set("itemCode", next.itemCode);
    form.set("unit", next.unit);
    form.set("quantity", next.quantity);
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Escape puts the form away from anywhere in it
    <div
      className="est-new no-print"
      ref={frame}
      onKeyDown={(event) => {
        if (event.key === "Escape" && !form.dirty) onClose();
      }}
    >
      <Form form={form} label={`A new line in ${zone.name}`}>
        <div className="est-new-fields">
          <Select
            label="Component"
            options={COMPONENTS}
            empty="choose"
            {...form.field("component")}
            onChange={(next) => turn({ component: next, action: next && actionAfter(book, next, action) })}
          />
          <Select
            label="What is done"
            options={[
              ...usual.map((value) => ({ value, label: words(value) })),
              ...ACTIONS.filter((value) => component && !usual.includes(value)).map((value) => ({
                value,
                label: `${words(value)}, not in the price book`,
              })),
            ]}
            empty={component ? "choose" : "choose the component first"}
            {...form.field("action")}
            onChange={(next) => turn({ component, action: next })}
          />
          <Select
            label="Item"
            options={items.map(({ code, description }) => ({ value: code, label: description }))}
            empty="none: no price"
            {...form.field("itemCode")}
            value={itemCode ?? ""}
            theirs={undefined}
            onChange={(code) => {
              form.set("itemCode", code || null);
              const its = items.find((item) => item.code === code);
              if (its) form.set("unit", its.unit);
            }}
          />
          <DecimalField label="How much" suffix={words(unit)} {...form.field("quantity")} />
          {itemCode === null && <Select label="Counted in" options={UNITS} {...form.field("unit")} />}
          <Select label="How it is known" options={EVIDENCE} {...form.field("evidence")} />
          <Select label="Carried out" options={DOER_OPTIONS} {...form.field("by")} />
          {review && (
            <>
              <Select label="Why it is new" options={REASONS} empty="choose" {...form.field("reasonCode")} />
              <TextField label="In a few words" maxLength={500} {...form.field("reason")} />
            </>
          )}
        </div>
        <div className="row">
          <Button type="submit" kind="main" small busy={form.busy}>
            Add it
          </Button>
          <Button small onPress={onClose}>
            {form.dirty ? "Leave it" : "No more lines"}
          </Button>
          <span className="est-new-price" role="status">
            {price && itemCode ? (
              <>
                {hours(price.hours)}, <b>{money(price.priceCents)}</b>
              </>
            ) : (
              <span className="quiet">{component && action && !itemCode ? "carries no price" : ""}</span>
            )}
          </span>
        </div>
      </Form>
    </div>
  );
}

/** Keeps the action where the component allows it, else takes the only priced one. */
function actionAfter(
  book: Parameters<typeof actionsFor>[0],
  component: Component,
  action: Action | "",
): Action | "" {
  const priced: Action[] = actionsFor(book, component).filter((one) => one !== "keep");
  if (action && priced.includes(action)) return action;
  return priced.length === 1 ? (priced[0] ?? "") : "";
}
