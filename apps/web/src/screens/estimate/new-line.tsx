import type { Finding } from "@ledgerboard/contracts/assessment";
import type { Zone } from "@ledgerboard/contracts/jobs";
import {
  ACTIONS,
  type Action,
  COMPONENTS,
  type Component,
  DOERS,
  EVIDENCE,
  REASONS,
  UNITS,
} from "@ledgerboard/contracts/vocabulary";
import { useCallback, useEffect, useRef, useState } from "react";
import { Button } from "../../ui/button.tsx";
import { Form } from "../../ui/form.tsx";
import { hours, money, unitSuffix, words } from "../../ui/format.ts";
import { DecimalField } from "../../ui/number-fields.tsx";
import { Select } from "../../ui/select.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { allowanceFaults, contradictions } from "./allowance.ts";
import { AllowanceFields } from "./allowance-fields.tsx";
import { actionsFor, assembliesFor, assemblyOf, turnTo } from "./book.ts";
import { useEstimate } from "./context.ts";
import { DOER_MEANS, ExtraField } from "./line-fields.tsx";
import type { Priced } from "./prices.ts";
import { Remarks } from "./remarks.tsx";
import { doerWords } from "./told.ts";
import { type NewLineForm, useNewLine } from "./use-new-line.ts";

const DOER_OPTIONS = DOERS.map((value) => ({ value, label: doerWords(value) }));

/** The next line of a zone: choose, type how much, Enter; the next one begins at once. */
export function NewLine({ zone, findings }: { zone: Zone; findings: readonly Finding[] }) {
  const [open, setOpen] = useState(false);
  const [left, setLeft] = useState(false);
  const turn = (to: boolean): void => {
    setOpen(to);
    setLeft(!to);
  };
  if (!open)
    return (
      <div className="est-adder no-print">
        {/* The pressed button goes away with the form: the keyboard comes back to where it left. */}
        <Button small autoFocus={left} onPress={() => turn(true)} aria-label={`Add a line to ${zone.name}`}>
          Add a line
        </Button>
      </div>
    );
  return <Writing zone={zone} findings={findings} onClose={() => turn(false)} />;
}

function Writing({
  zone,
  findings,
  onClose,
}: {
  zone: Zone;
  findings: readonly Finding[];
  onClose: () => void;
}) {
  const { review, setComing } = useEstimate();
  const frame = useRef<HTMLDivElement>(null);
  const begin = useCallback(() => frame.current?.querySelector<HTMLElement>("select")?.focus(), []);
  const { form, priced } = useNewLine(zone.id, begin);
  useEffect(begin, [begin]);
  useEffect(() => setComing(priced), [setComing, priced]);
  useEffect(() => () => setComing(null), [setComing]);
  const { quantity, unit, evidence, allowance } = form.values;
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
          <WorkFields form={form} />
          <Select label="How it is known" options={EVIDENCE} {...form.field("evidence")} />
          <Select
            label="Who does it"
            hint={DOER_MEANS[form.values.by]}
            options={DOER_OPTIONS}
            {...form.field("by")}
          />
          <ExtraField {...form.field("alternate")} />
          {review && (
            <>
              <Select label="Why it is new" options={REASONS} empty="choose" {...form.field("reasonCode")} />
              <TextField label="In a few words" maxLength={500} {...form.field("reason")} />
            </>
          )}
        </div>
        {evidence === "concealed" && (
          <AllowanceFields
            value={allowance}
            onChange={(next) => form.set("allowance", next)}
            likeliest={quantity}
            unit={unit}
            priced={priced}
            faults={
              form.field("allowance").error && allowance
                ? allowanceFaults(allowance, quantity)
                : contradictions(allowance, quantity)
            }
          />
        )}
        <Remarks findings={findings} label="Remarks on what is being written" />
        <div className="row">
          <Button type="submit" kind="main" small busy={form.busy}>
            Add it
          </Button>
          <Button small onPress={onClose}>
            {form.dirty ? "Leave it" : "No more lines"}
          </Button>
          <Comes form={form} priced={priced} />
        </div>
      </Form>
    </div>
  );
}

/** Component and action narrow the assemblies; the assembly says what is counted. */
function WorkFields({ form }: { form: NewLineForm }) {
  const { book } = useEstimate();
  const { component, action, assemblyCode, quantity, unit } = form.values;
  const usual = component ? actionsFor(book, component) : [];
  const assemblies = component && action ? assembliesFor(book, { component, action }) : [];
  const turn = (to: { component: Component | ""; action: Action | "" }) => {
    form.set("component", to.component);
    form.set("action", to.action);
    if (!to.component || !to.action) return;
    const next = turnTo(book, { unit, quantity }, { component: to.component, action: to.action });
    form.set("assemblyCode", next.assemblyCode);
    form.set("unit", next.unit);
    form.set("quantity", next.quantity);
  };
  return (
    <>
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
        empty={component ? "choose" : "component first"}
        {...form.field("action")}
        onChange={(next) => turn({ component, action: next })}
      />
      <Select
        label="Assembly"
        options={assemblies.map(({ code, description }) => ({ value: code, label: description }))}
        empty="none: no price"
        {...form.field("assemblyCode")}
        value={assemblyCode ?? ""}
        theirs={undefined}
        onChange={(code) => {
          form.set("assemblyCode", code || null);
          const its = assemblyOf(book, code);
          if (its) form.set("unit", its.unit);
        }}
      />
      <DecimalField
        label={
          form.values.allowance && form.values.evidence === "concealed" ? "Likeliest amount" : "How much"
        }
        suffix={unitSuffix(unit)}
        {...form.field("quantity")}
      />
      {assemblyCode === null && <Select label="Counted in" options={UNITS} {...form.field("unit")} />}
    </>
  );
}

/** What the line will come to. */
function Comes({ form, priced }: { form: NewLineForm; priced: Priced | null }) {
  const { component, action, assemblyCode } = form.values;
  const shown = priced && assemblyCode && priced.standing !== "if_found";
  return (
    <span className="est-new-price" role="status">
      {shown ? (
        <>
          {hours(priced.price.hours)}, <b>{money(priced.price.priceCents)}</b>
          {priced.standing === "not_ours" && <span className="quiet"> out of the price</span>}
        </>
      ) : (
        <span className="quiet">{component && action && !assemblyCode ? "carries no price" : ""}</span>
      )}
    </span>
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
