import type { Finding } from "@ledgerboard/contracts/assessment";
import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import {
  type Action,
  COMPONENTS,
  type Component,
  EVIDENCE,
  REASONS,
  UNITS,
} from "@ledgerboard/contracts/vocabulary";
import { ApiProblem } from "../../api/problem.ts";
import { Segment } from "../../ui/choices.tsx";
import { fieldOf } from "../../ui/form.tsx";
import { unitSuffix } from "../../ui/format.ts";
import { DecimalField } from "../../ui/number-fields.tsx";
import { Select } from "../../ui/select.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { ActionChoice } from "./action-choice.tsx";
import { type AllowancePart, contradictions } from "./allowance.ts";
import { AllowanceFields } from "./allowance-fields.tsx";
import { assembliesFor, assemblyOf, turnTo } from "./book.ts";
import { useEstimate } from "./context.ts";
import type { Draft } from "./desk.ts";
import { departs, type Edit, FIELDS, type Field, toEdit } from "./edit.ts";
import { LineActs } from "./line-acts.tsx";
import { DoerChoice, ExtraField } from "./line-fields.tsx";
import type { Priced } from "./prices.ts";
import { Remarks } from "./remarks.tsx";

interface Props {
  line: ScopeLine;
  draft: Draft | undefined;
  priced: Priced | null;
  findings: readonly Finding[];
}

/** Fields of the form a remark can stand at; what is about anything else stands above them. */
const SHOWN_AT: readonly string[] = [
  "quantity",
  "unit",
  "assemblyCode",
  "action",
  "evidence",
  "allowance",
  "by",
  "alternate",
];
const rootOf = ({ field }: Finding): string => field?.split(/[.[]/)[0] ?? "";

/** Everything of one line, for changing it. In a site review: by thumb, action first. */
export function LineForm({ line, draft, priced, findings }: Props) {
  const { book, job, desk, review, baseOf } = useEstimate();
  const base = baseOf(line);
  const edit = draft?.edit ?? toEdit(line);
  const change = (next: Partial<Edit>) => desk.change(line, next);
  const faults = faultsOf(draft?.error);
  const field = <F extends Field>(
    name: F,
    to: (value: Edit[F]) => Partial<Edit> = (value) => ({ [name]: value }) as Partial<Edit>,
  ) => ({
    name,
    value: edit[name],
    onChange: (value: Edit[F]) => change(to(value)),
    error: faults.fields[name],
  });
  const at = (...names: string[]) => (
    <Remarks
      findings={findings.filter((one) => names.includes(rootOf(one)))}
      label={`Remarks on ${names.join(" and ")}`}
    />
  );
  /** Back to the work of the first pass takes its assembly and unit along, not the book's first choice. */
  const turn = (component: Component, action: Action): Partial<Edit> => {
    if (base && base.component === component && base.action === action)
      return {
        component,
        action,
        assemblyCode: base.assemblyCode,
        unit: base.unit,
        quantity: base.unit === edit.unit ? edit.quantity : base.quantity,
      };
    return turnTo(book, edit, { component, action });
  };
  const assemblies = edit.action === "keep" ? [] : assembliesFor(book, edit);
  const chosen = assemblyOf(book, edit.assemblyCode);
  const retired =
    chosen && !assemblies.includes(chosen) ? [{ value: chosen.code, label: chosen.description }] : [];
  const differs = review && (base === null || departs(edit, base));

  return (
    <div className="est-form">
      <Remarks findings={findings.filter((one) => !SHOWN_AT.includes(rootOf(one)))} label="Remarks" />
      <ActionChoice
        component={edit.component}
        action={edit.action}
        base={base}
        onChange={(action) => change(turn(edit.component, action))}
      />
      {at("action")}
      <div className="est-measures">
        <DecimalField
          label={edit.evidence === "concealed" && edit.allowance ? "Likeliest, if there is any" : "How much"}
          suffix={unitSuffix(edit.unit)}
          {...field("quantity")}
        />
        {edit.action !== "keep" && (
          <Select
            label="Assembly"
            hint={chosen?.note}
            options={[
              ...retired,
              ...assemblies.map(({ code, description }) => ({ value: code, label: description })),
            ]}
            empty="none: no price"
            name="assemblyCode"
            value={edit.assemblyCode ?? ""}
            error={faults.fields.assemblyCode}
            onChange={(code) => {
              const unit = assemblyOf(book, code)?.unit ?? edit.unit;
              change({
                assemblyCode: code || null,
                unit,
                quantity: unit === edit.unit ? edit.quantity : null,
              });
            }}
          />
        )}
        {edit.assemblyCode === null && <Select label="Counted in" options={UNITS} {...field("unit")} />}
      </div>
      {at("quantity", "unit", "assemblyCode")}
      <div className="est-thumbs">
        <span className="label" aria-hidden="true">
          How it is known
        </span>
        <Segment
          label="How it is known"
          options={EVIDENCE}
          value={edit.evidence}
          onChange={(evidence) => change({ evidence })}
        />
      </div>
      {at("evidence")}
      {edit.evidence === "concealed" && (
        <>
          <AllowanceFields
            value={edit.allowance}
            onChange={(allowance) => change({ allowance })}
            likeliest={edit.quantity}
            unit={edit.unit}
            priced={priced}
            faults={{ ...contradictions(edit.allowance, edit.quantity), ...faults.allowance }}
          />
          {at("allowance")}
        </>
      )}
      {differs && (
        <>
          <div className="est-thumbs">
            <span className="label" aria-hidden="true">
              Why it differs
            </span>
            <Segment<NonNullable<Edit["reasonCode"]> | "">
              label="Why it differs"
              options={REASONS}
              value={edit.reasonCode ?? ""}
              onChange={(code) => change({ reasonCode: code || null })}
            />
            {faults.fields.reasonCode && <span className="field-error">{faults.fields.reasonCode}</span>}
          </div>
          <TextField
            label="In a few words"
            placeholder="probed at 12 places, dry"
            maxLength={500}
            {...field("reason")}
          />
        </>
      )}
      <DoerChoice value={edit.by} onChange={(by) => change({ by })} />
      {at("by")}
      <ExtraField
        value={edit.alternate}
        onChange={(alternate) => change({ alternate })}
        error={faults.fields.alternate}
      />
      {at("alternate")}
      <details className="est-more">
        <summary>Wording, zone and component</summary>
        <TextField
          label="Description"
          optional
          maxLength={300}
          hint="Stands on the quote below the work."
          {...field("description")}
        />
        <div className="est-measures">
          <Select
            label="Zone"
            options={job.zones.map(({ id, name }) => ({ value: id, label: name }))}
            {...field("zoneId")}
          />
          <Select
            label="Component"
            options={COMPONENTS}
            {...field("component", (component) => turn(component, edit.action))}
          />
        </div>
      </details>
      <LineActs line={line} draft={draft} base={base} edit={edit} />
    </div>
  );
}

interface Faults {
  fields: Partial<Record<Field, string>>;
  allowance: Partial<Record<AllowancePart, string>>;
}

/** Faults the service found, by field. */
function faultsOf(error: unknown): Faults {
  const found: Faults = { fields: {}, allowance: {} };
  if (!(error instanceof ApiProblem)) return found;
  for (const { path, message } of error.errors) {
    const part = path.match(/allowance\.(\w+)/)?.[1] as AllowancePart | undefined;
    const name = fieldOf(path, FIELDS) as Field | undefined;
    if (part) found.allowance[part] ??= message;
    else if (name) found.fields[name] ??= message;
  }
  return found;
}
